"""Which task was meant: an id, a number of the run sheets, or the one that a person is at."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from moveplan.errors import Problem
from moveplan.journal.file.snapshot import Snapshot
from moveplan.journal.now.failure import POWER, TANK, VEHICLE
from moveplan.journal.now.next_up import next_up
from moveplan.journal.records import Note
from moveplan.journal.state import JournalState
from moveplan.journal.taking.known import Known, UnknownNameError, refused
from moveplan.near import near_names
from moveplan.network.task import State


@dataclass(frozen=True, slots=True)
class Said:
    """How a task was named.

    Parameters
    ----------
    task : str
        Id, or number on the run sheets; empty: the one that is on.
    by : str
        Whose it is, by id or name; empty: anybody's.
    runs : bool
        Whether one that has begun is meant where nothing is named; else one that may begin.
    and_before : bool
        Whether everything before it is done too.
    signed, read : sequence of str
        Who signed which hold points before it, and what was read for them and for it, in words.
    reason : str
        Why, where something is lacking.
    """

    task: str
    by: str = ""
    runs: bool = False
    and_before: bool = False
    signed: Sequence[str] = ()
    read: Sequence[str] = ()
    reason: str = ""


def meant(said: Said, state: JournalState, known: Known, now: int) -> str:
    """Find the id of the task that was meant.

    Parameters
    ----------
    said : Said
        How it was named.
    state : JournalState
        What has happened.
    known : Known
        What there is.
    now : int
        UTC. [min]

    Raises
    ------
    PlanFileError
        Where it is no task, or could be several.
    """
    person = person_meant(said.by, known.people)
    if said.task in known.tasks or (said.task and not said.task.isdigit()):
        return said.task
    if known.snapshot is None:
        raise refused("no schedule was accepted yet, so tasks have no numbers", "write the id of the task")
    if said.task:
        return _numbered(int(said.task), known.snapshot, state)
    return _on(person, said.runs, known.snapshot, state, now)


def _numbered(number: int, snapshot: Snapshot, state: JournalState) -> str:
    """Find the task of a number; one that is not to be done any more is named, as it may stand on a paper still."""
    found = next((task for task in snapshot.tasks if task.number == number), None)
    if found is not None and state.of(found.id).state is not State.CANCELLED:
        return found.id
    rows = (row for one in reversed(state.accepted) for row in one.schedule.get("tasks", ()))
    told = next((row for row in rows if row.get("number") == number), None)
    if told is None:
        last = max(task.number for task in snapshot.tasks)
        raise refused(
            f"no task has the number {number}",
            f"write an id, or a number from 1 to {last}; those of a later list count once it is accepted",
        )
    dropped = state.of(told["id"])
    gone = f"was dropped: {dropped.reason}" if dropped.state is State.CANCELLED else "is planned no more"
    raise refused(
        f'number {number} is "{told["title"]}", which {gone}',
        f"write {told['id']} if it was done all the same, or the number of another task",
    )


def _on(person: str, runs: bool, snapshot: Snapshot, state: JournalState, now: int) -> str:
    turns = [
        turn
        for turn in next_up(snapshot, state, now).first
        if person in ("", turn.person) and turn.through and (turn.runs or not runs)
    ]
    if not runs:
        turns = [turn for turn in turns if not turn.runs] or turns
    names = {turn.item.task.id: turn.item.task.said for turn in turns}
    if len(names) == 1:
        return next(iter(names))
    word = "was begun and not ended" if runs else "is next"
    if not names:
        raise refused(f"nothing {word}", 'name the task; "moveplan next PLAN" lists what there is')
    raise refused(
        f"several tasks are on: {', '.join(names.values())}",
        "name one of them, or whose it is with --by NAME",
    )


def person_meant(name: str, people: Mapping[str, str]) -> str:
    """Find a person by id, name, or the first word of the name.

    Parameters
    ----------
    name : str
        As it was written; empty: anybody, which gives an empty id.
    people : Mapping of str to str
        Names by id.
    """
    if not name:
        return ""
    asked = name.strip().casefold()
    for person, full in people.items():
        if asked in (person.casefold(), full.casefold(), full.casefold().partition(" ")[0]):
            return person
    near = near_names(asked, list(people))
    hint = f"did you mean {' or '.join(near)}?" if near else f"there are {', '.join(people)}"
    raise UnknownNameError((Problem(f'there is nobody called "{name}"', "", hint),))


def thing_meant(said: str, known: Known, broken: Iterable[Note] = ()) -> tuple[str, str]:
    """Find what failed or works again: a vehicle, a tank, the power of a place, or what is broken at a container.

    Parameters
    ----------
    said : str
        Id or name of a vehicle, a tank or a place; or ``van``, ``tank`` or ``power`` where the plan has one only; or
        the number of a container at which something is broken.
    known : Known
        What there is.
    broken : iterable of Note
        What is broken.

    Returns
    -------
    tuple of (str, str)
        ``vehicle``, ``tank`` or ``power``, and the id; or the trouble, and the number.

    Raises
    ------
    PlanFileError
        Where it is nothing of these, or several.
    """
    asked = said.strip().casefold()
    kinds = {VEHICLE: known.vehicles, TANK: known.systems, POWER: known.places}
    for note in broken:
        kinds[note.trouble] = {**kinds.get(note.trouble, {}), note.container: note.container}
    found = [
        (what, one)
        for what, names in kinds.items()
        for one, name in names.items()
        if asked in (one.casefold(), name.casefold(), f"{what} {one}".casefold(), f"{what} {name}".casefold())
    ]
    if not found:
        word = {"van": VEHICLE, "car": VEHICLE}.get(asked, asked)
        found = [(word, one) for one in kinds.get(word, ())]
    if len(found) == 1:
        return found[0]
    every = [f"{what} {one}".strip() for what, names in kinds.items() for one in names]
    if found:
        words = ", ".join(f'"{what} {one}"' for what, one in found)
        raise refused(f'"{said}" could be several things', f"write one of {words}")
    near = near_names(asked, every)
    hint = f"did you mean {' or '.join(near)}?" if near else f"write one of {', '.join(every[:12])}"
    if asked.upper() in known.containers:
        raise refused(f"nothing is broken at {asked.upper()}", hint)
    raise refused(f'there is no vehicle, tank or place called "{said}"', hint)


def water_meant(said: str, known: Known) -> tuple[str, str]:
    """Find the water that was meant: id of a system or new tank, or number of a container; the other is empty."""
    number = said.strip().upper()
    if said in known.systems or not said.strip():
        return said, ""
    if number in known.numbers:
        return "", number
    waters = [*known.systems, *known.numbers]
    near = near_names(said, waters)
    hint = f"did you mean {' or '.join(near)}?" if near else f"there are {', '.join(waters[:12])}"
    raise UnknownNameError((Problem(f'there is no water "{said}"', "", hint),))


def where_meant(said: str, known: Known) -> str:
    """Give the name of a place or vehicle that was written by its id or name; any other words stay as they are."""
    asked = said.strip().casefold()
    for names in (known.vehicles, known.places):
        for one, name in names.items():
            if asked in (one.casefold(), name.casefold()):
                return name
    return said.strip()
