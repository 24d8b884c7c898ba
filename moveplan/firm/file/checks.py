"""Rules between entries of a firm file; each a small function that yields what is wrong, with both lines."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from moveplan.firm.file.schema import FirmEntry, JobEntry
from moveplan.planfile.problems import Fault, unknown
from moveplan.planfile.schema.leaves import is_id
from moveplan.planfile.text import Node
from moveplan.planfile.walk import spot


def contradictions(entry: FirmEntry, root: Node, path: Path) -> Iterator[Fault]:
    """Find what does not go together in a firm file whose values are sound.

    Parameters
    ----------
    entry : FirmEntry
        The file.
    root : Node
        The same with its lines.
    path : Path
        The file, from whose folder plan files are named.
    """
    if entry.base not in entry.places:
        message, remedy = unknown("place", entry.base, list(entry.places))
        yield Fault(_line(root, "base"), ("base",), message, remedy)
    yield from _leads(entry, root)
    yield from _gear_of_clients(entry, root)
    yield from _ways(entry, root)
    if not entry.jobs:
        line = _line(root, "jobs")
        yield Fault(line, ("jobs",), "there is no job", 'add for example "- {plan: jobs/office.yaml}"')
    yield from _same_names(entry, root)
    yield from _same_plans(entry, root, path)
    yield from _learnt_twice(entry, root, path)
    for position, job in enumerate(entry.jobs):
        yield from _days(job, _line(root, "jobs", position), root, position)


def job_name(job: JobEntry) -> str:
    """Give the id of a job: its own, else the name of its file."""
    return job.id or Path(job.plan).stem


def _line(root: Node, *path: str | int) -> int:
    return spot(root, path)[0].line


def _leads(entry: FirmEntry, root: Node) -> Iterator[Fault]:
    if not any(one.lead for one in entry.people.values()):
        remedy = 'write "lead: yes" for whoever may lead a move'
        yield Fault(_line(root, "people"), ("people",), "nobody leads", remedy)
    for name, one in entry.people.items():
        if one.lead and one.cares is False:
            first, line = _line(root, "people", name, "lead"), _line(root, "people", name, "cares")
            message = f"who leads decides about animals, and handles none by line {line}"
            yield Fault(first, ("people", name, "lead"), message, 'write "cares: yes", or take lead out')
        if one.lead and not one.drives:
            line = _line(root, "people", name, "lead")
            message = "who leads goes to clients alone, and it is not said that they drive"
            yield Fault(line, ("people", name, "lead"), message, 'write "drives: yes", or take lead out')


def _gear_of_clients(entry: FirmEntry, root: Node) -> Iterator[Fault]:
    for name, one in (entry.gear or {}).items():
        if one.owner == "client":
            line = _line(root, "gear", name, "owner")
            remedy = "take it out here, and write it into the client's plan"
            yield Fault(line, ("gear", name, "owner"), "a client's gear is counted as the firm's", remedy)


def _ways(entry: FirmEntry, root: Node) -> Iterator[Fault]:
    for position, way in enumerate(entry.drives or ()):
        if way.from_ == way.to and (way.to == entry.base or "." in way.to):
            line = _line(root, "drives", position)
            remedy = "name two places, or the area whose places lie so far apart"
            yield Fault(line, ("drives",), f'a way leads from "{way.to}" to itself', remedy)


def _same_names(entry: FirmEntry, root: Node) -> Iterator[Fault]:
    first: dict[str, int] = {}
    for position, job in enumerate(entry.jobs):
        name, line = job_name(job), _line(root, "jobs", position)
        if not is_id(name):
            yield Fault(line, ("jobs", "id"), f'"{name}" cannot be an id', 'add for example "id: office"')
        if name in first:
            message = f'two jobs are called "{name}" (the other at line {first[name]})'
            yield Fault(line, ("jobs", name), message, 'give one of them an "id:" of its own')
        first.setdefault(name, line)


def _same_plans(entry: FirmEntry, root: Node, path: Path) -> Iterator[Fault]:
    first: dict[Path, int] = {}
    for position, job in enumerate(entry.jobs):
        file, line = (path.parent / job.plan).resolve(), _line(root, "jobs", position)
        if file in first:
            message = f"{job.plan} is planned twice (also at line {first[file]})"
            yield Fault(line, ("jobs", job_name(job), "plan"), message, "take one of the two out")
        first.setdefault(file, line)


def _learnt_twice(entry: FirmEntry, root: Node, path: Path) -> Iterator[Fault]:
    """Find plans to learn from that are jobs, which are learnt from when they are done, or that are named twice."""
    first = {
        (path.parent / job.plan).resolve(): _line(root, "jobs", position)
        for position, job in enumerate(entry.jobs)
    }
    for position, plan in enumerate(entry.learn or ()):
        file, line = (path.parent / plan).resolve(), _line(root, "learn", position)
        if file in first:
            message = f"{plan} stands at line {first[file]} too, and would be learnt from twice"
            yield Fault(line, ("learn",), message, "take it out here")
        first.setdefault(file, line)


def _days(job: JobEntry, line: int, root: Node, position: int) -> Iterator[Fault]:
    path = ("jobs", job_name(job))
    if job.promised and job.day is None:
        yield Fault(line, (*path, "promised"), "no day is promised", 'add "day:" with the day')
    if job.promise_price is not None and not job.promised:
        remedy = 'add "promised: yes", or take it out'
        yield Fault(line, (*path, "promise-price"), "nothing is promised that would have a price", remedy)
    if job.day and job.window and not job.window[0] <= job.day <= job.window[1]:
        day, window = _line(root, "jobs", position, "day"), _line(root, "jobs", position, "window")
        message = f"{job.day} lies outside the window {job.window[0]} to {job.window[1]} of line {window}"
        yield Fault(day, (*path, "day"), message, "change the day or the window")
