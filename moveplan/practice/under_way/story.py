"""What has happened to a plan so far, read from its journal."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import astuple, dataclass, field, replace
from pathlib import Path
from typing import Any

from moveplan.errors import Problem
from moveplan.journal.facts import changed_plan
from moveplan.journal.file.agreed import agreed, labels_told, numbers_told
from moveplan.journal.file.kept import snapshot_of
from moveplan.journal.file.snapshot import PlannedStay, PlannedTask, Snapshot
from moveplan.journal.file.store import read_journal
from moveplan.journal.now.standing import Standing, standing
from moveplan.journal.records import Entry, MovedDates, MovedDay
from moveplan.journal.state import JournalState, state_of
from moveplan.journal.waters.names import new_water_of
from moveplan.journal.waters.ripening import FILLS, RIPENS, Ripening, ripening
from moveplan.network.graph import Network
from moveplan.network.task import State, Task
from moveplan.plan.move import Plan
from moveplan.quantities.keeping.gates import nitrogen_gates
from moveplan.times import to_local


@dataclass(frozen=True, slots=True)
class Story:
    """What has happened, and what was accepted.

    Parameters
    ----------
    state : JournalState
        What the records add up to.
    first, last : Snapshot or None
        The yardstick, and the schedule in force; None: none was accepted.
    now : int
        Nothing new begins before, UTC. [min]
    faults : tuple of Problem
        Lines of the journal that are no records.
    ripening : tuple of Ripening
        Cycles that run, as their readings let expect.
    agreed : Snapshot or None
        What was last agreed of each task before it was begun; None: nothing was accepted.
    numbers : Mapping of str to int
        The number that each task was told by.
    labels : tuple of (str, tuple of str)
        Numbers of containers that were told, each with what it stands for.
    entries : tuple of Entry
        All records, in the order of writing.
    """

    state: JournalState
    first: Snapshot | None
    last: Snapshot | None
    now: int
    faults: tuple[Problem, ...] = ()
    ripening: tuple[Ripening, ...] = ()
    agreed: Snapshot | None = None
    numbers: Mapping[str, int] = field(default_factory=dict)
    labels: tuple[tuple[str, tuple[str, ...]], ...] = ()
    entries: tuple[Entry, ...] = ()

    def planned(self, task: str) -> PlannedTask | None:
        """Find a task in the schedule in force."""
        return self.last.task(task) if self.last else None

    def standing(self) -> Standing | None:
        """Tell how the tasks of the schedule in force stand; None: none was accepted."""
        return None if self.last is None else standing(self.last, self.state, self.now)


def story_of(path: Path, plan_id: str, now: int, until: int | None = None) -> Story | None:
    """Read what has happened.

    Parameters
    ----------
    path : Path
        The plan file.
    now : int
        The moment asked for, UTC; never before the last record. [min]
    until : int or None
        The last line of the journal that is read; None: all are.

    Returns
    -------
    Story or None
        None where nothing was recorded.
    """
    journal = read_journal(path, plan_id)
    entries = tuple(entry for entry in journal.entries if until is None or entry.line <= until)
    state = state_of(entries)
    if state.last is None and not journal.faults:
        return None
    kept = [snapshot_of(one.schedule, journal.path.name) for one in state.accepted]
    first, last = (kept[0], kept[-1]) if kept else (None, None)
    cycles = tuple(ripening(state, last.cycles)) if last else ()
    told = agreed(kept, state) if kept else None
    now = max(now, state.last or now)
    numbers, labels = numbers_told(kept), labels_told(kept)
    return Story(state, first, last, now, journal.faults, cycles, told, numbers, labels, entries)


def cycles_of(plan: Plan, tasks: Container[str]) -> dict[str, dict[str, Any]]:
    """Tell how each new tank that ripens is seeded, how warm it is, what its water is called, and when it is done.

    Parameters
    ----------
    plan : Plan
        Its systems.
    tasks : container of str
        Ids of the tasks of the move.
    """
    return {
        system.id: {
            "seeding": system.new_tank.seeding if system.new_tank else "rock",
            "temperature_c": system.temperature_c,
            "water": new_water_of(system.id) if system.id in beside(plan, tasks) else system.id,
            "gates": list(astuple(nitrogen_gates(plan, system.id))),
        }
        for system in plan.systems
        if f"{RIPENS}-{system.id}" in tasks
    }


def beside(plan: Plan, tasks: Container[str]) -> tuple[str, ...]:
    """Name the systems whose new tank is filled while the old one still runs: two waters to read.

    Parameters
    ----------
    plan : Plan
        Its systems.
    tasks : container of str
        Ids of the tasks of the move.
    """
    return tuple(
        system.id
        for system in plan.systems
        if system.new_tank is not None and f"{FILLS}-{system.id}" in tasks
    )


def told(plan: Plan, story: Story) -> Plan:
    """Put what has changed into the plan; its time begins when the first schedule was made.

    A plan that leaves the way of moving open keeps the one that was accepted: no slip turns a move into another.
    """
    begun = story.first.now if story.first else plan.now
    way = plan.way or (story.last.way if story.last else "")
    facts = story.state.facts
    slips = [
        at
        for at, fact in enumerate(facts)
        if isinstance(fact, MovedDates) or (isinstance(fact, MovedDay) and fact.what == "move-day")
        if story.first and fact.at >= story.first.now
    ]
    before = changed_plan(plan, facts[: slips[-1]]).dates if slips else None
    notice = (
        (before.move_days[0] - to_local(facts[slips[-1]].at, plan.zone).date()).days
        if before and before.move_days
        else 0
    )
    return replace(
        changed_plan(plan, facts),
        now=min(begun, plan.now),
        way=way,
        slips=len(slips),
        notice_days=max(notice, 0),
        labels=story.labels,
        filled=tuple(_filled(story)),
    )


def _filled(story: Story) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """Name the groups whose containers are filled, where, and with the containers in words."""
    stands = story.standing()
    chains: dict[tuple[str, str], list[PlannedStay]] = {}
    for stay in story.last.stays if story.last and stands else ():
        chains.setdefault((stay.group, stay.places[0][0] if stay.places else ""), []).append(stay)
    for (group, where), stays in chains.items():
        if stands and any(
            stay.shut_task in stands.begun or stay.shut_task in stands.unsaid for stay in stays
        ):
            yield group, where, tuple(stay.container for stay in stays)


def in_words_of_then(network: Network, states: Mapping[str, State], story: Story) -> Network:
    """Give what is done the words that were agreed when it was begun: a later date does not retell it.

    Parameters
    ----------
    network : Network
        Tasks in the words of now.
    states : Mapping of str to State
        How far each is.
    story : Story
        What has happened, and what was agreed.
    """

    def told_then(task: Task) -> Task:
        then = story.agreed.task(task.id) if story.agreed and states[task.id] is State.COMPLETED else None
        return replace(task, title=then.title, steps=then.steps) if then and then.steps else task

    return replace(network, tasks=tuple(map(told_then, network.tasks)))
