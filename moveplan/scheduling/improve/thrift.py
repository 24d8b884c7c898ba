"""Gives paid work to those who cost less, where nothing that counts more gets worse.

What comes after the moving day may wait for them. What leads up to it is handed over as it stands, and only to somebody
who could take twice the time: a day that is missed costs more than it saves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from moveplan.scheduling.construct.finder import Finder
from moveplan.scheduling.construct.repeating import earliest_spot
from moveplan.scheduling.construct.search import Found
from moveplan.scheduling.construct.serial import Scheme
from moveplan.scheduling.improve.even import keep, scheme_of
from moveplan.scheduling.objective.aims import MONEY, pay, values
from moveplan.scheduling.state.desk import Spot
from moveplan.scheduling.state.frame import Frame
from moveplan.scheduling.state.model import Model


def cheaper_hands(frame: Frame, found: Found) -> None:
    """Let cheaper people do the paid tasks of a schedule, each at its time or, after the tied days, later.

    Parameters
    ----------
    found : Found
        Its schedule, and the values of its aims; both are replaced where it gets cheaper.
    """
    if found.desk is None or not dict(found.values).get(MONEY):
        return
    scheme = scheme_of(frame, found, found.desk)
    tied = (at for at, job in enumerate(frame.model.jobs) if job.tag >= 0)
    leading = frame.model.reach(tied, forwards=False)
    paid = [(-pay(frame.model, spot), at) for at, spot in enumerate(found.desk.spots) if spot is not None]
    for cost, position in sorted(paid):
        if cost:
            _hand_over(scheme, position, as_it_stands=position in leading)
    keep(found, scheme.desk)


def least_cost(model: Model) -> int:
    """Bound of hire and pay without a search, in hundredths: the cheapest hands for each task, a day of each car."""
    people, vehicles = model.problem.people, model.problem.vehicles
    paid = 0
    for job in model.jobs:
        named = sum(people[at].cents_per_hour for at in job.named)
        others = sorted(people[at].cents_per_hour for at in job.pool if at not in job.named)
        times = job.task.repeats.times if job.task.repeats else 1
        costs = [
            option.minutes * (named + sum(others[: max(0, option.count - len(job.named))]))
            for option in job.options
        ]
        paid += times * min(costs)
    used = {at for job in model.jobs for at in job.vehicles}
    return sum(vehicles[at].cents_per_day for at in used) + paid // 60


def _hand_over(scheme: Scheme, position: int, *, as_it_stands: bool) -> None:
    """Let people who cost less do a task, or leave it where it is."""
    before = _worth(scheme)
    old = scheme.desk.take(position)
    latest, last = scheme.ends(position)
    start, finish, until = scheme.bounds(position)
    begins = (old.start,) if as_it_stands else (old.start, start)
    for spared in _spared(scheme, position):
        finder = Finder(scheme.desk, spared=spared)
        for begin in begins:
            spot = earliest_spot(finder, position, max(start, begin), finish, min(until, last))
            if spot is None or spot.start > latest or pay(scheme.model, spot) >= pay(scheme.model, old):
                continue
            if as_it_stands and not (spot.segments == old.segments and roomy(scheme.model, spot)):
                continue
            scheme.desk.put(position, spot)
            if _worth(scheme) < before:
                return
            scheme.desk.take(position)
    scheme.desk.put(position, old)


def roomy(model: Model, spot: Spot) -> bool:
    """Whether the hours of everybody who takes part leave room for twice the time."""
    return all(
        model.people[person].fit(begin, 2 * (end - begin)) == begin
        for (begin, end), crew in spot.staffed()
        for person in crew
    )


def _spared(scheme: Scheme, position: int) -> Iterator[Sequence[int]]:
    """List the people not to ask: all who are paid, then only those who cost more."""
    people = scheme.model.problem.people
    wages = {at: people[at].cents_per_hour for at in scheme.model.jobs[position].pool}
    for wage in sorted({wage for wage in wages.values() if wage}):
        yield [at for at, own in wages.items() if own >= wage]


def _worth(scheme: Scheme) -> list[int]:
    """Value the aims up to the cost; the less the better."""
    rows = values(scheme.desk)
    return [value for _, value in rows[: 1 + [name for name, _ in rows].index(MONEY)]]
