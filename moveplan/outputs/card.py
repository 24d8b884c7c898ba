"""What the card of the page has to know: the network, who does what, and what is in which container."""

from __future__ import annotations

import json
from dataclasses import dataclass

from markupsafe import Markup

from moveplan.journal.slip import Index, index_of
from moveplan.journal.snapshot import PlannedStay, PlannedTask, Snapshot
from moveplan.network.link import Relation
from moveplan.network.task import State
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from moveplan.units import retold

_RELATIONS = (
    Relation.FINISHTOSTART,
    Relation.STARTTOSTART,
    Relation.FINISHTOFINISH,
    Relation.STARTTOFINISH,
)


@dataclass(frozen=True, slots=True)
class Box:
    """A container with animals.

    Parameters
    ----------
    number, holds : str
        Its number, and what is in it, in words. [-]
    """

    number: str
    holds: str


@dataclass(frozen=True, slots=True)
class Card:
    """The card.

    Parameters
    ----------
    people : tuple of (str, str)
        Ids and names, in the order of their indices. [-]
    boxes : tuple of Box
        Containers with animals. [-]
    data : Markup
        All that the script of the page reckons with, as JSON. [-]
    """

    people: tuple[tuple[str, str], ...]
    boxes: tuple[Box, ...]
    data: Markup


def card_of(outlook: Outlook) -> Card | None:
    """Gather what the card has to know; None where there is no schedule, or nobody to do it.

    Parameters
    ----------
    outlook : Outlook
        What was found. [-]
    """
    if not outlook.schedule.placements:
        return None
    snapshot = snapshot_of_outlook(outlook)
    index = index_of(snapshot, outlook.project.plan.id)
    if not index.people:
        return None
    people = tuple((one, snapshot.people[one]) for one in index.people)
    return Card(people, tuple(_boxes(snapshot, index)), _data(outlook, snapshot, index))


def _boxes(snapshot: Snapshot, index: Index) -> list[Box]:
    found = []
    for number in index.containers:
        held = [
            f"{count} × {stay.name}"
            for stay in snapshot.stays
            for box, count in stay.containers
            if box == number
        ]
        found.append(Box(number, ", ".join(dict.fromkeys(held))))
    return found


def _data(outlook: Outlook, snapshot: Snapshot, index: Index) -> Markup:
    cautions = {task.id: task.cautions for task in outlook.project.network.tasks}
    logged = _logged(outlook)
    tasks = {task.id: task for task in snapshot.tasks}
    numbers = {name: at for at, name in enumerate(index.tasks)}
    places = sorted({task.place for task in snapshot.tasks})
    named = sorted({caution for name in index.tasks for caution in cautions[name]})
    spoken = outlook.project.plan.units
    texts = {caution.id: retold(caution.text, spoken) for caution in outlook.project.cautions}
    data = {
        "plan": index.plan_id,
        "key": index.key,
        "ids": index.tasks,
        "boxes": index.containers,
        "people": [[one, snapshot.people[one]] for one in index.people],
        "places": places,
        "care": [texts.get(caution, "") for caution in named],
        **_rows(
            [
                {
                    **_task(tasks[name], snapshot, index, numbers),
                    "place": places.index(tasks[name].place),
                    "care": [named.index(caution) for caution in cautions[name]],
                    "starts": _starts(tasks[name]),
                    "logged": logged.get(name),
                }
                for name in index.tasks
            ]
        ),
        "stays": [_stay(stay, numbers) for stay in snapshot.stays],
    }
    text = json.dumps(data, separators=(",", ":"))  # in ASCII: half a pair of UTF-16 has no bytes in UTF-8
    return Markup(text.replace("<", "\\u003c"))  # noqa: S704 - no end of a script can stand in it


def _logged(outlook: Outlook) -> dict[str, list[int]]:
    """Give what the journal says: when tasks began, and ended."""
    found = {}
    for one in outlook.schedule.placements:
        state = outlook.states.get(one.task, State.NEEDS_ACTION)
        if state is State.COMPLETED:
            found[one.task] = [one.start, one.finish]
        elif state is State.IN_PROCESS:
            found[one.task] = [one.start]
    return found


def _task(task: PlannedTask, snapshot: Snapshot, index: Index, numbers: dict[str, int]) -> dict[str, object]:
    return {
        "number": task.number,
        "kind": task.kind.value,
        "start": task.start,
        "finish": task.finish,
        "minutes": task.minutes,
        "people": [index.people.index(one) for one in task.people],
        "after": [
            [numbers[tie.before], _RELATIONS.index(tie.relation), tie.gap_min]
            for tie in snapshot.ties.get(task.id, ())
            if tie.before in numbers
        ],
    }


def _starts(task: PlannedTask) -> list[int] | None:
    """Give when recurring care begins each time; None: it does not recur."""
    return [piece.start for piece in task.segments] if task.times > 1 else None


def _rows(tasks: list[dict[str, object]]) -> dict[str, object]:
    """Name the fields of all tasks once; what a row ends with and lacks is left out."""
    rows = []
    for task in tasks:
        row = list(task.values())
        while row and row[-1] is None:
            row.pop()
        rows.append(row)
    return {"fields": list(tasks[0]) if tasks else [], "tasks": rows}


def _stay(stay: PlannedStay, numbers: dict[str, int]) -> dict[str, object]:
    return {
        "name": stay.name,
        "shut": [numbers.get(stay.shut_task, -1), int(stay.shut_edge == "finish")],
        "open": [numbers.get(stay.open_task, -1), int(stay.open_edge == "finish")],
        "from_min": stay.shut,
        "until_min": stay.opened,
        "low": stay.safe_low_min,
        "boxes": stay.containers,
    }
