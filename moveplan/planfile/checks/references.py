"""Entries name only entries that are there."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.planfile.checks.words import at, not_there, purpose
from moveplan.planfile.draft import Draft
from moveplan.planfile.fill.tasks import link_line
from moveplan.planfile.problems import Fault, unknown
from moveplan.planfile.schema.tasks import TaskEntry


def systems_stand_somewhere(draft: Draft) -> Iterator[Fault]:
    """Systems stand in, and move to, places of the plan."""
    for system_id, system in (draft.entry.systems or {}).items():
        for key, place in (("place", system.place), ("moves-to", system.moves_to)):
            if place is not None:
                yield from not_there(draft, ("systems", system_id, key), "place", "places", place)


def livestock_lives_somewhere(draft: Draft) -> Iterator[Fault]:
    """Animals live in systems of the plan and wait at boarding places of the plan."""
    for animal_id, animals in (draft.entry.livestock or {}).items():
        if animals.system is not None:
            yield from not_there(
                draft, ("livestock", animal_id, "system"), "system", "systems", animals.system
            )
        if animals.boarded is not None:
            path = ("livestock", animal_id, "boarded")
            yield from not_there(draft, path, "boarding place", "boarding", animals.boarded)


def people_start_somewhere(draft: Draft) -> Iterator[Fault]:
    """People start from places of the plan."""
    for helper_id, helper in (draft.entry.people or {}).items():
        if helper.place is not None:
            yield from not_there(draft, ("people", helper_id, "place"), "place", "places", helper.place)


def boarding_is_somewhere(draft: Draft) -> Iterator[Fault]:
    """Boarding is at a place of the plan."""
    for boarding_id, boarding in (draft.entry.boarding or {}).items():
        yield from not_there(draft, ("boarding", boarding_id, "place"), "place", "places", boarding.place)


def drives_join_places(draft: Draft) -> Iterator[Fault]:
    """Each drive joins two places, each pair once."""
    seen: dict[frozenset[str], int] = {}
    for position, drive in enumerate(draft.entry.drives or ()):
        line = draft.line_in("drives", position)
        for place in (drive.from_, drive.to):
            if place not in draft.ids("places"):
                yield Fault(line, ("drives",), *unknown("place", place, draft.ids("places")))
        pair = frozenset((drive.from_, drive.to))
        if len(pair) == 1:
            yield Fault(line, ("drives",), f"the drive leads from {drive.from_} to itself", "name two places")
        elif pair in seen:
            message = (
                f"the way between {drive.from_} and {drive.to} is written twice (first at line {seen[pair]})"
            )
            yield Fault(line, ("drives",), message, "keep one")
        seen.setdefault(pair, line)


def tasks_use_what_is_there(draft: Draft) -> Iterator[Fault]:
    """Own tasks name tasks, people, vehicles, gear and places of the plan."""
    whole_move = purpose(draft) != "own-tasks"
    known = {name: frozenset(draft.ids(name)) for name in ("tasks", "people", "vehicles", "gear", "places")}
    for task_id, task in (draft.entry.tasks or {}).items():
        for key, section, thing, names in _named(task):
            for name in names:
                if name not in known[section]:
                    yield at(draft, ("tasks", task_id, key), *unknown(thing, name, draft.ids(section)))
        for position, link in enumerate(task.after):
            if not whole_move and link.task not in known["tasks"]:
                node = draft.node("tasks", task_id)
                line = link_line(node, position) if node else 0
                yield Fault(
                    line, ("tasks", task_id, "after"), *unknown("task", link.task, draft.ids("tasks"))
                )


def _named(task: TaskEntry) -> Iterator[tuple[str, str, str, tuple[str, ...]]]:
    if isinstance(task.people, tuple):
        yield "people", "people", "person", task.people
    yield "vehicles", "vehicles", "vehicle", task.vehicles
    yield "gear", "gear", "gear", tuple(name for name, _count in task.gear)
    yield "place", "places", "place", (task.place,) if task.place else ()
