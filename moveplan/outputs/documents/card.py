"""What the card of the page has to know: the network, who does what, and what is in which container."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from math import floor

from markupsafe import Markup

from moveplan.journal.file.snapshot import PlannedStay, PlannedTask, Snapshot, Tie
from moveplan.journal.now.another import Contact
from moveplan.journal.now.failure import PERSON, POWER, TANK, VEHICLE
from moveplan.journal.now.held_up import hangs_on, stops
from moveplan.journal.premises import Premises
from moveplan.journal.taking.marks import counts_told
from moveplan.journal.taking.said import all_said
from moveplan.journal.taking.slip import TROUBLES, Index, index_of
from moveplan.journal.waters.contained import stands_c
from moveplan.journal.waters.doubt import RECENT_MIN
from moveplan.journal.waters.readings import KINDS
from moveplan.journal.waters.typed import FITTED_C, FRESH, typed_readings
from moveplan.journal.waters.unionised import PKA_NBS, USUAL, total_ammonia_at
from moveplan.network.link import Relation
from moveplan.network.task import Kind, State
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from moveplan.plan.people import HIRE, VETS, fits
from moveplan.practice.attendance.rides import rides_of
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.risk.register.words import risk_words
from moveplan.units import decimal_sign, localised

_RELATIONS = (
    Relation.FINISHTOSTART,
    Relation.STARTTOSTART,
    Relation.FINISHTOFINISH,
    Relation.STARTTOFINISH,
)
_KINDS = (Kind.WORK, Kind.WAIT, Kind.TRAVEL, Kind.HOLD_POINT, Kind.REST)


@dataclass(frozen=True, slots=True)
class Card:
    """The card.

    Parameters
    ----------
    people : tuple of (int, str)
        Index and name of each, in the order of the plan: the first is who a page is for that was not told.
    reads : tuple of str
        What may be read, in words, in the order of its indices.
    things : tuple of (str, str)
        What may fail and who may fall out, in the order of its indices: the sort, and what to print.
    troubles : tuple of (str, tuple of str)
        What may go wrong with animals and devices, and what the list of risks says to do then.
    stands : Premises or None
        How long batteries last, and who takes animals in.
    ring : tuple of (str, str, str)
        Whom to ring, from vehicles to animals: name, role, phone number.
    data : Markup
        All that the script of the page reckons with, as JSON.
    """

    people: tuple[tuple[int, str], ...]
    reads: tuple[str, ...]
    things: tuple[tuple[str, str], ...]
    troubles: tuple[tuple[str, tuple[str, ...]], ...]
    stands: Premises | None
    ring: tuple[Contact, ...]
    data: Markup


def card_of(outlook: Outlook) -> Card | None:
    """Gather what the card has to know; None where there is no schedule, or nobody to do it."""
    if not outlook.schedule.placements:
        return None
    snapshot = snapshot_of_outlook(outlook)
    index = index_of(snapshot, outlook.project.plan.id)
    if not index.people:
        return None
    listed = [one.id for one in outlook.project.scheduling.people if one.id in index.people]
    people = tuple((index.people.index(one), snapshot.people[one]) for one in listed)
    reads = tuple(_in_words(name, snapshot, outlook.project.plan.units) for name in index.readings)
    things = tuple(_thing(name, snapshot) for name in index.things)
    troubles = tuple(_troubles(outlook, index))
    stands, data = snapshot.premises, _data(outlook, snapshot, index)
    calls = stands.ring if stands else ()
    ring = tuple(sorted(calls, key=lambda one: fits(one[1], VETS) - fits(one[1], HIRE)))
    return Card(people, reads, things, troubles, stands, ring, data)


def _troubles(outlook: Outlook, index: Index) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Choose what may go wrong in this plan, with the words that its risks have for it."""
    kinds = {one.traits.group for one in outlook.project.plan.livestock}
    fish, mobile = kinds & set(FISH), kinds - set(CORALS)
    risks = {"fish-not-caught": ("fish-not-caught",), "device-dead": ("heater-stuck", "air-pump-stops")}
    applies = {
        "animal-gasps": fish,
        "animal-missing": mobile,
        "container-leaks": index.containers,
        "fish-not-caught": fish,
    }
    for trouble in TROUBLES:
        if applies.get(trouble, outlook.project.plan.systems):
            yield trouble, tuple(risk_words(risk)[2] for risk in risks.get(trouble, ()))


def _thing(name: str, snapshot: Snapshot) -> tuple[str, str]:
    """Give the sort of a thing, and its name for people."""
    what, _, one = name.partition(":")
    places = snapshot.premises.places if snapshot.premises else {}
    names = {PERSON: snapshot.people, VEHICLE: snapshot.vehicles, TANK: snapshot.systems, POWER: places}
    return what, names[what][one]


def _in_words(reading: str, snapshot: Snapshot, units: str) -> str:
    """Say what is read: with its unit, and with the water where there are several."""
    what, _, water = reading.partition("@")
    unit = "°F" if units == "us" and what == "temperature" else KINDS[what].unit
    unit = "" if unit == "-" else f" ({unit})"
    return (
        ("pH" if what == "ph" else what)
        + unit
        + (f", {snapshot.systems.get(water, water)}" if len(snapshot.systems) > 1 else "")
    )


def _data(outlook: Outlook, snapshot: Snapshot, index: Index) -> Markup:
    cautions = {task.id: task.cautions for task in outlook.project.network.tasks}
    logged = _logged(outlook)
    tasks, ties = {task.id: task for task in snapshot.tasks}, snapshot.ties
    numbers = {name: at for at, name in enumerate(index.tasks)}
    places = sorted(
        {task.place for task in snapshot.tasks}
        | {where for stay in snapshot.stays for where, _, _ in stay.places}
    )
    named = sorted({caution for name in index.tasks for caution in cautions[name]})
    skills = sorted({skill for several in snapshot.skills.values() for skill in several})
    needs = {name: _needs(tasks[name], skills) for name in index.tasks}
    asked = [one for one in dict.fromkeys(needs.values()) if one]
    base = min(task.start for task in snapshot.tasks)
    names = {place.id: place.name for place in outlook.project.plan.places}
    groups = list(dict.fromkeys((stay.group, stay.name) for stay in snapshot.stays))
    data = {
        "plan": index.plan_id,
        "key": index.key,
        "boxes": index.containers,
        "people": [
            [one, snapshot.people[one], [skills.index(skill) for skill in snapshot.skills.get(one, ())]]
            for one in index.people
        ],
        "skills": skills,
        "things": index.things,
        "hangs": [_hangs(name, snapshot, numbers) for name in index.things],
        "stops": sorted(numbers[name] for name in stops(snapshot) if name in numbers),
        "uses": [
            sorted(numbers[task.id] for task in snapshot.tasks if vehicle in task.vehicles)
            for vehicle in snapshot.vehicles
        ],
        "places": places,
        "needs": asked,
        "care": named,
        "base": base,
        "made": snapshot.now - base,
        **_rows(
            [
                {
                    **_task(tasks[name], ties.get(name, ()), base, index, numbers),
                    "place": places.index(tasks[name].place),
                    "care": [named.index(caution) for caution in cautions[name]] or None,
                    "needs": asked.index(one) if (one := needs[name]) else None,
                    "beyond": tasks[name].finish - tasks[name].start - tasks[name].minutes or None,
                    "starts": _starts(tasks[name], base),
                    "logged": logged.get(name),
                    "most": tasks[name].high if tasks[name].minutes > tasks[name].high else None,
                }
                for name in index.tasks
            ]
        ),
        "rides": [
            [
                index.people.index(ride.person),
                numbers.get(ride.drive, -1),
                ride.since - base,
                ride.until - base,
                names.get(ride.destination, ride.destination),
            ]
            for ride in rides_of(outlook.project, outlook.schedule)
            if ride.person in index.people
        ],
        "groups": groups,
        "troubles": TROUBLES,
        "stays": [
            [groups.index((stay.group, stay.name)), *_stay(stay, base, numbers, places)]
            for stay in snapshot.stays
        ],
        "tied": _four_a_digit(
            [numbers[task.id] for task in outlook.project.network.tasks if task.day and task.id in numbers]
        ),
        "home": numbers.get(snapshot.milestones.get("settled", ""), -1),
        "waters": sorted(snapshot.systems),
        "kinds": typed_readings(),
        "fresh": FRESH,
        "fits": FITTED_C,
        "stands": stands_c(snapshot.policy),
        "week": RECENT_MIN,
        "asks": {
            str(numbers[name]): _asks(tasks[name], index, numbers, decimal_sign(outlook.project.plan.locale))
            for name in index.tasks
            if tasks[name].gates
        },
    }
    if any(gate.unionised is not None for task in snapshot.tasks for gate in task.gates):
        data["usual"], data["acid"] = tuple(USUAL.values()), PKA_NBS
    if outlook.entries:
        data["counted"] = counts_told(outlook.entries)
        data["told"] = all_said(outlook.entries, snapshot, index, index)
    text = json.dumps(data, separators=(",", ":"))  # in ASCII: half a pair of UTF-16 has no bytes in UTF-8
    return Markup(text.replace("<", "\\u003c"))  # noqa: S704 - no end of a script can stand in it


def _needs(task: PlannedTask, skills: list[str]) -> tuple[tuple[int, ...], ...] | None:
    """Give how many people a task takes, and how many with each skill; None: those who are on it, without any."""
    known = [(skills.index(skill), count) for skill, count in task.needs if skill in skills]
    return ((task.hands,), *known) if known or task.hands != len(task.people) else None


def _hangs(thing: str, snapshot: Snapshot, numbers: dict[str, int]) -> list[object] | int:
    """Give what hangs on a thing: tasks, roots, whether what comes after done ones waits too, what cannot be undone.

    0: nothing does.
    """
    what, _, name = thing.partition(":")
    hangs = hangs_on(what, name, snapshot)
    tasks, roots, early = (
        sorted({numbers[one] for one in several if one in numbers})
        for several in (hangs.tasks, hangs.roots, hangs.early)
    )
    return [tasks, roots, int(hangs.lasting), early] if tasks or roots else 0


def _four_a_digit(numbers: Collection[int]) -> str:
    """Tell in hexadecimal digits which numbers are among some, the lowest of four first.

    >>> _four_a_digit([0, 3, 5])
    '92'
    """
    return "".join(
        f"{sum(2**bit for bit in range(4) if first + bit in numbers):x}"
        for first in range(0, max(numbers, default=-1) + 1, 4)
    )


def _asks(task: PlannedTask, index: Index, numbers: dict[str, int], sign: str) -> list[list[object]]:
    """Give what a hold point asks for: words, what counts, limits, age, times, spread, since, bends, may, and more.

    Of ammonia that is where pH, warmth and salinity are read, and the limit of its un-ionised part; or what is alike.
    """
    rows: list[list[object]] = []
    for gate in task.gates:
        waters = gate.waters or _waters(index)
        counted = _places(gate.what, waters, index)
        high, tail = gate.high, list[object]()
        if gate.unionised is not None:
            high = _down(total_ammonia_at(gate.unionised, (), ()))
            tail = [[_places(what, waters, index) for what in USUAL], gate.unionised]
        if gate.near is not None:
            like = _places(gate.what, gate.like_waters or _waters(index), index)
            tail = [[], 0, like, _whole(gate.near), _whole(gate.stated)]
        rows.append(
            [
                localised(f"{gate.name} {replace(gate, high=high).range}", sign),
                counted,
                _whole(gate.low),
                _whole(high),
                gate.within_min,
                gate.times,
                gate.apart_min,
                numbers.get(gate.since, -1),
                gate.risen + 2 * gate.falls,
                int(gate.may),
                *tail,
            ]
        )
    return rows


def _waters(index: Index) -> tuple[str, ...]:
    return tuple({name.partition("@")[2] for name in index.readings})


def _places(what: str, waters: Sequence[str], index: Index) -> list[int]:
    """Where something stands among what may be read, in one of several waters."""
    return [at for at, name in enumerate(index.readings) if name in {f"{what}@{one}" for one in waters}]


def _whole(value: float | None) -> float | None:
    """Write a whole number without its fraction."""
    return int(value) if value is not None and value.is_integer() else value


def _down(amount: float) -> float:
    return floor(100.0 * amount) / 100.0


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


def _task(
    task: PlannedTask, ties: Sequence[Tie], base: int, index: Index, numbers: dict[str, int]
) -> dict[str, object]:
    """Give one task: kinds by their index, minutes since the first task, and a bare index for "when that is done"."""
    return {
        "kind": _KINDS.index(task.kind),
        "start": task.start - base,
        "minutes": task.minutes,
        "people": [index.people.index(one) for one in task.people],
        "after": [
            numbers[tie.before]
            if tie == Tie(tie.before, tie.after)
            else [numbers[tie.before], _RELATIONS.index(tie.relation), tie.gap_min]
            for tie in ties
            if tie.before in numbers
        ],
    }


def _starts(task: PlannedTask, base: int) -> list[int] | None:
    """Give when recurring care begins each time; None: it does not recur."""
    return [piece.start - base for piece in task.segments] if task.times > 1 else None


def _rows(tasks: list[dict[str, object]]) -> dict[str, object]:
    """Name the fields of all tasks once; what a row ends with and lacks is left out, so what is rare stands last."""
    rows = []
    for task in tasks:
        row = list(task.values())
        while row and row[-1] is None:
            row.pop()
        rows.append(row)
    return {"fields": list(tasks[0]) if tasks else [], "tasks": rows}


def _stay(stay: PlannedStay, base: int, numbers: dict[str, int], places: list[str]) -> list[object]:
    """Give one stay without its group: edges as task and whether it is the finish, minutes since the first task."""
    return [
        [numbers.get(stay.shut_task, -1), int(stay.shut_edge == "finish")],
        [numbers.get(stay.open_task, -1), int(stay.open_edge == "finish")],
        stay.shut - base,
        stay.opened - base,
        stay.safe_low_min,
        stay.containers,
        stay.aboard_min,
        [
            [places.index(where), numbers.get(task, -1), int(edge == "finish")]
            for where, task, edge in stay.places
        ],
    ]
