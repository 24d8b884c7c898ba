"""Two pages for one client: the day, when the crew comes, what is theirs to do, the price; nothing of anybody else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from moveplan.firm.diaries import days_of
from moveplan.firm.papers.printing import Printing
from moveplan.firm.placing import Placed
from moveplan.firm.quote import Quote
from moveplan.firm.traces import Stop
from moveplan.firm.values import Firm
from moveplan.network.task import Kind
from moveplan.outputs.templates import template_folder
from moveplan.times import to_local

ARRIVAL_MIN = 60
"""Length of the window in which the crew comes; common practice, no source. [min]"""
HOMES_CAUTIONS = ("electricity", "flood", "slips", "glass", "zoanthids", "release", "floor")
"""Cautions that concern whoever is at home. [-]"""


@dataclass(frozen=True, slots=True)
class Visit:
    """When somebody of the firm comes: the day, from when to when, UTC [min], and who."""

    day: date
    start: int
    finish: int
    who: tuple[str, ...]
    moving: bool


@dataclass(frozen=True, slots=True)
class Theirs:
    """Something that is the client's to do: what, from when on, UTC [min], and how often."""

    title: str
    start: int
    times: int
    every_min: int


def client_html(firm: Firm, placed: Placed, quote: Quote) -> str:
    """Write the document of one client, in their locale.

    Parameters
    ----------
    firm : Firm
        Who writes; its other jobs are not looked at.
    placed : Placed
        The client's job.
    quote : Quote
        What it costs.
    """
    plan = placed.outlook.project.plan
    visits = list(_visits(firm, placed))
    moving = next((one for one in visits if one.moving), None)
    cautions = [one for one in placed.outlook.project.cautions if one.id in HOMES_CAUTIONS]
    return Printing(plan.zone, plan.locale, plan.currency).render(
        "html",
        "firm/client.html.j2",
        {
            "style": (template_folder() / "firm" / "client.css").read_text("utf-8"),
            "firm_name": firm.base.name,
            "plan": plan,
            "day": placed.sent.day,
            "arrival": (moving.start, moving.start + ARRIVAL_MIN) if moving else None,
            "ends": moving.finish if moving else None,
            "vehicles": len(placed.sent.vehicles),
            "visits": [one for one in visits if not one.moving],
            "theirs": list(_theirs(firm, placed)),
            "quote": quote,
            "cautions": cautions,
            "now": to_local(firm.now, plan.zone).date(),
        },
    )


def _visits(firm: Firm, placed: Placed) -> Iterator[Visit]:
    """Put together who comes on one day; desk work is no visit."""
    by_day: dict[date, list[tuple[Stop, str]]] = {}
    for who, stops in placed.trace.people.items():
        for day, several in days_of(firm, stops).items():
            by_day.setdefault(day, []).extend((stop, who) for stop in several if stop.first)
    for day, rows in sorted(by_day.items()):
        if rows:
            names = tuple(
                dict.fromkeys(firm.worker(who).name for _, who in sorted(rows, key=lambda row: row[1]))
            )
            yield Visit(
                day,
                min(stop.start for stop, _ in rows),
                max(stop.finish for stop, _ in rows),
                names,
                any(stop.moving for stop, _ in rows),
            )


def _theirs(firm: Firm, placed: Placed) -> Iterator[Theirs]:
    project = placed.outlook.project
    firms = {one.id for one in firm.people}
    tasks = {task.id: task for task in project.network.tasks}
    for row in sorted(placed.outlook.schedule.placements, key=lambda one: one.start):
        task = tasks[row.task]
        if row.people and not firms.intersection(row.people) and task.kind is Kind.WORK:
            repeats = task.repeats
            yield Theirs(
                task.title,
                row.start,
                len(row.segments) if repeats else 1,
                repeats.every_min if repeats else 0,
            )
