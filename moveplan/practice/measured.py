"""How long the tasks of a day keep each group of animals in containers, as far as the network tells."""

from __future__ import annotations

from statistics import NormalDist

from moveplan.network.link import Relation
from moveplan.network.reach import reached
from moveplan.network.task import Kind
from moveplan.practice.drafting.chains import P90, Chains
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.phases.day.trips import trips_of
from moveplan.practice.stays import ends_of, filling_of
from moveplan.quantities.containers.company import Journeys
from moveplan.quantities.containers.journeys import Measured, journeys_of
from moveplan.quantities.facts import GroupFacts, SystemFacts

NEAR_H = 0.25
"""Hours by which two measurements may differ and still be the same for the choice of containers; assumed. [h]"""


class _Between:
    """What lies between two tasks: the longest chain, and the work that the people there have to share.

    Parameters
    ----------
    move : Draft
        Composed.
    """

    def __init__(self, move: Draft) -> None:
        self._tasks = move.tasks
        self._known: dict[tuple[str, str], float] = {}
        self.chains = Chains(move.tasks, move.links)
        self._people = max(len(move.plan.people), 1)
        self._after: dict[str, set[str]] = {}
        self._before: dict[str, set[str]] = {}
        for link in move.links:
            if link.relation is Relation.FINISHTOSTART:
                self._after.setdefault(link.before, set()).add(link.after)
                self._before.setdefault(link.after, set()).add(link.before)

    def minutes(self, first: str, last: str) -> float:
        """Likely minutes from the start of one task to the finish of another. [min]."""
        if (first, last) not in self._known:
            after = {first, *reached([first], lambda one: self._after.get(one, ()))}
            inside = after & {last, *reached([last], lambda one: self._before.get(one, ()))}
            shared = sum(map(self._work_min, inside)) / self._people
            self._known[first, last] = max(self.chains.likely_min(first, last), shared)
        return self._known[first, last]

    def waiting_min(self, first: str, last: str) -> float:
        """Likely minutes from the finish of one task to the start of another; none of one task. [min]."""
        if first == last:
            return 0.0
        both = self._tasks[first].minutes + self._tasks[last].minutes
        return max(self.minutes(first, last) - both, 0.0)

    def _work_min(self, task_id: str) -> float:
        """Minutes of work in a task; on the road nobody works on anything else."""
        task = self._tasks[task_id]
        if task.crew is None:
            return 0.0
        return task.minutes * (self._people if task.kind is Kind.TRAVEL else task.crew.count)


def measured_journeys(move: Draft) -> tuple[Measured, ...]:
    """Measure how long each group is in containers, leg by leg.

    Parameters
    ----------
    move : Draft
        Composed.
    """
    found, between = [], _Between(move)
    for number in range(len(move.legs)):
        move.enter(number)
        found.append(
            {
                group.livestock.id: _journeys(move, between, facts, group)
                for facts in move.facts.systems
                for group in facts.groups
            }
        )
    return tuple(found)


def _journeys(move: Draft, between: _Between, facts: SystemFacts, group: GroupFacts) -> Journeys:
    first, last = ends_of(move, facts, group)
    whole_h = between.minutes(first, last) / 60
    accepted = move.plan.safe_time_risk
    late = _late(between, first, last, accepted)
    filled_h = between.waiting_min(filling_of(move, facts, group, first), first) / 60
    trips = trips_of(move, group.livestock.id)
    if not trips:
        return journeys_of(whole_h, 0.0, 0.0, whole_h, late, filled_h=filled_h)
    ways = [(move.id(f"load-animals-{trip}"), move.id(f"unload-animals-{trip}")) for trip in trips]
    road_h = max(between.minutes(*way) for way in ways) / 60  # each container goes in one of them
    after_h = max(between.minutes(unload, last) - move.tasks[unload].minutes for _, unload in ways) / 60
    after_h, load = min(max(after_h, 0.0), whole_h - road_h), ways[0][0]
    before_h = max(whole_h - road_h - after_h, 0.0)
    seal = facts.task("seal-fish")
    sealing_h = between.minutes(move.id(seal), load) / 60 if move.has_own(seal) else 0.0
    waiting_h = max(before_h - max(sealing_h - move.tasks[load].minutes / 60, 0.0), 0.0)
    seal = move.id(seal)
    ends = ((first, seal), (seal, last))
    apart = [_late(between, *two, accepted) for two in ends] if seal in move.tasks else None
    both = (apart[0], apart[1]) if apart else None
    return journeys_of(before_h, road_h, after_h, waiting_h, late, both, filled_h)


def _late(between: _Between, first: str, last: str, accepted: float) -> float:
    """Say what delays may add to the likely time between two tasks, over that time. [-].

    A container has to last in all but the share of days in which the plan accepts that it does not.
    """
    rarer = max(NormalDist().inv_cdf(1 - accepted) / P90, 1.0)
    return 1 + rarer * between.chains.allowance_min(first, last) / max(between.minutes(first, last), 6.0)


def alike(one: tuple[Measured, ...], other: tuple[Measured, ...]) -> bool:
    """Whether two measurements mean the same for the choice of containers."""
    return all(_alike(before, after) for before, after in zip(one, other, strict=True))


def _alike(one: Measured, other: Measured) -> bool:
    if one.keys() != other.keys():
        return False
    return all(
        abs(one[name].whole.total_h - other[name].whole.total_h) <= NEAR_H
        and abs(one[name].bagged.total_h - other[name].bagged.total_h) <= NEAR_H
        and abs(one[name].whole.filled_h - other[name].whole.filled_h) <= NEAR_H
        for name in one
    )
