"""Tasks, links, people, vehicles and gear as data."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from moveplan.network.link import Hold, Link
from moveplan.network.task import State, Task
from moveplan.outputs.data.numbers import plain
from moveplan.outputs.livestock import in_use
from moveplan.outputs.outlook import Outlook
from moveplan.practice.attendance.rides import riders_of
from moveplan.scheduling.dates.critical import Driver
from moveplan.scheduling.schedule import Placement
from moveplan.times import Interval, iso


def _span(span: Interval, outlook: Outlook) -> dict[str, str]:
    zone = outlook.project.plan.zone
    return {"start": iso(span.start, zone), "finish": iso(span.finish, zone)}


def _spans(spans: Iterable[Interval], outlook: Outlook) -> list[dict[str, str]]:
    return [_span(span, outlook) for span in spans]


def place_data(outlook: Outlook) -> list[dict[str, Any]]:
    """List places, with the likely drives to those listed after them.

    Returns
    -------
    list of dict
        Drives by the id of the other place. [min]
    """
    places, problem = outlook.project.plan.places, outlook.project.scheduling
    return [
        {
            "id": place.id,
            "name": place.name,
            "drives": {
                other.id: minutes
                for other in places[at + 1 :]
                if (minutes := problem.drive_min(place.id, other.id))
            },
        }
        for at, place in enumerate(places)
    ]


def people_data(outlook: Outlook) -> list[dict[str, Any]]:
    """List people with the hours they have."""
    return [
        {"id": person.id, "name": person.name, "available": _spans(person.available, outlook)}
        for person in outlook.project.scheduling.people
    ]


def vehicle_data(outlook: Outlook) -> list[dict[str, Any]]:
    """List vehicles with what they may carry and when."""
    payloads = {vehicle.id: plain(vehicle.payload_kg, 1) for vehicle in outlook.project.plan.vehicles}
    return [
        {
            "id": vehicle.id,
            "name": vehicle.name,
            **({"payload_kg": payloads[vehicle.id]} if vehicle.id in payloads else {}),
            "available": _spans(vehicle.available, outlook),
        }
        for vehicle in outlook.project.scheduling.vehicles
    ]


def solver_data(outlook: Outlook) -> dict[str, Any]:
    """Say which engine answered, and how far its answer is proven."""
    schedule = outlook.schedule
    found = {"makespan_minutes": schedule.makespan_min, "bound_minutes": schedule.bound_min}
    return {
        "engine": schedule.engine.value,
        "status": schedule.status.value,
        **(found if schedule.placements else {}),
        **({"interrupted": True} if schedule.interrupted else {}),
        "aims": [
            {"aim": aim.name, "value": aim.value, "bound": aim.bound, "proven": aim.proven}
            for aim in schedule.aims
        ],
    }


def milestone_data(outlook: Outlook) -> dict[str, str] | None:
    """Date the milestones as they are promised; None where there are none or no schedule."""
    return _dates(outlook, outlook.promised())


def likely_data(outlook: Outlook) -> dict[str, str] | None:
    """Date the milestones as half of the runs reach them; None where nothing is promised."""
    return _dates(outlook, outlook.likely())


def _dates(outlook: Outlook, moments: Mapping[str, int]) -> dict[str, str] | None:
    zone = outlook.project.plan.zone
    return {name: iso(moment, zone) for name, moment in moments.items()} or None


def tasks_data(outlook: Outlook) -> list[dict[str, Any]]:
    """List the tasks, each with its place in the schedule."""
    placements = {placement.task: placement for placement in outlook.schedule.placements}
    chances = outlook.start_chances()
    riders = riders_of(outlook.project, outlook.schedule)
    return [
        _task(task, placements.get(task.id), chances.get(task.id), outlook)
        | ({"riders": riders[task.id]} if task.id in riders else {})
        for task in outlook.project.network.tasks
    ]


def _task(task: Task, placement: Placement | None, chance: float | None, outlook: Outlook) -> dict[str, Any]:
    return {
        "id": task.id,
        "title": task.title,
        "phase": task.phase,
        "place": task.place,
        **({"place_after": task.place_after} if task.place_after else {}),
        "kind": task.kind.value,
        **_placed(placement, outlook),
        **_lasting(task, placement),
        **({} if chance is None else {"start_chance": plain(chance, 4)}),
        "gear": dict(task.gear),
        **_repeats(task),
        **_room(task, outlook),
        "steps": list(task.steps),
        "cautions": list(task.cautions),
        "state": outlook.states.get(task.id, State.NEEDS_ACTION).value,
    }


def _placed(placement: Placement | None, outlook: Outlook) -> dict[str, Any]:
    if placement is None:
        return {}
    return {
        **_span(Interval(placement.start, placement.finish), outlook),
        "segments": _segments(placement, outlook),
        "people": list(placement.people),
        "vehicles": list(placement.vehicles),
    }


def _segments(placement: Placement, outlook: Outlook) -> list[dict[str, Any]]:
    """Working stretches, with the people of each where recurring care changes hands."""
    spans: list[dict[str, Any]] = [dict(_span(one, outlook)) for one in placement.segments]
    if not placement.segment_people:
        return spans
    return [
        span | {"people": list(people)} for span, people in zip(spans, placement.segment_people, strict=True)
    ]


def _lasting(task: Task, placement: Placement | None) -> dict[str, Any]:
    """Duration with the crew that was chosen; its spread grows and shrinks with it."""
    crew = len(placement.people) if placement else 0
    sizes = {larger.count: larger.minutes for larger in task.larger_crews}
    minutes = sizes.get(crew, task.minutes)
    share = minutes / task.minutes if task.minutes else 1.0
    return {
        "minutes": minutes,
        "estimate": {
            "low": round(task.estimate.low * share),
            "likely": round(task.estimate.likely * share),
            "high": round(task.estimate.high * share),
            "basis": task.estimate.basis,
            "provenance": task.estimate.provenance.value,
        },
    }


def _repeats(task: Task) -> dict[str, Any]:
    if task.repeats is None:
        return {}
    return {"repeats": {"every_minutes": task.repeats.every_min, "times": task.repeats.times}}


def _room(task: Task, outlook: Outlook) -> dict[str, Any]:
    times = outlook.times.get(task.id)
    if times is None:
        return {}
    zone = outlook.project.plan.zone
    return {
        "early_start": iso(times.early_start, zone),
        "early_finish": iso(times.early_finish, zone),
        "late_start": iso(times.late_start, zone),
        "late_finish": iso(times.late_finish, zone),
        "total_float_minutes": times.total_float_min,
        "free_float_minutes": times.free_float_min,
        "critical": times.critical,
        "driver": _driver(times.driver),
    }


def _driver(driver: Driver) -> dict[str, str]:
    named = {"kind": driver.kind, "task": driver.task, "resource": driver.resource}
    return {key: value for key, value in named.items() if value}


def links_data(outlook: Outlook) -> list[dict[str, Any]]:
    """List the links in the words of RFC 9253."""
    return [_link(link) for link in outlook.project.network.links]


def _link(link: Link) -> dict[str, Any]:
    return {
        "from": link.before,
        "to": link.after,
        "relation": link.relation.value,
        "min_gap_minutes": link.min_gap_min,
        "max_gap_minutes": link.max_gap_min,
        "why": link.why,
    }


def holds_data(outlook: Outlook) -> list[dict[str, Any]]:
    """List gear held between two tasks, dated where there is a schedule."""
    placements = {placement.task: placement for placement in outlook.schedule.placements}
    return [_hold(hold, placements, outlook) for hold in outlook.project.network.holds]


def _hold(hold: Hold, placements: Mapping[str, Placement], outlook: Outlook) -> dict[str, Any]:
    span = in_use(hold, placements)
    return {
        "gear": hold.gear,
        "count": hold.count,
        "from_task": hold.from_task,
        "until_task": hold.until_task,
        **(_span(span, outlook) if span else {}),
    }
