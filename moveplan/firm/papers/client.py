"""Two pages for one client: the day, when the crew comes, what is theirs to do, the price; nothing of anybody else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from moveplan.compiled import template_folder
from moveplan.firm.day.roads import site_of
from moveplan.firm.papers.printing import Printing
from moveplan.firm.placing.one_job import Placed
from moveplan.firm.quote import Quote
from moveplan.firm.values import Firm
from moveplan.network.task import Kind
from moveplan.quantities.policy import Policy
from moveplan.times import to_local

QUARTER_MIN = 15
"""A window of arrival begins and ends on a quarter of an hour; common practice, no source. [min]"""
ARRIVAL_MIN = 30
"""Least window of arrival: the runs begin at the door, and roads and parking are not in them; assumed. [min]"""
HOMES_CAUTIONS = ("electricity", "flood", "slips", "glass", "zoanthids", "release")
"""Cautions that concern whoever is at home. [-]"""


@dataclass(frozen=True, slots=True)
class Visit:
    """When somebody of the firm comes: the day, from when to when, UTC [min], where and who."""

    day: date
    start: int
    finish: int
    where: tuple[str, ...]
    who: tuple[str, ...]
    moving: bool


@dataclass(frozen=True, slots=True)
class Theirs:
    """Something that is the client's to do: what, from when on, UTC [min], and how often."""

    title: str
    start: int
    times: int
    every_min: int


def client_html(firm: Firm, placed: Placed, quote: Quote, arrives: tuple[int, int] | None = None) -> str:
    """Write the document of one client, in their locale.

    Parameters
    ----------
    firm : Firm
        Who writes; its other jobs are not looked at.
    placed : Placed
        The client's job.
    quote : Quote
        Its price.
    arrives : tuple of (int, int) or None
        Between when the crew comes, by the runs, UTC; None: nothing was run. [min]
    """
    plan = placed.outlook.project.plan
    visits = list(_visits(firm, placed))
    moving = next((one for one in visits if one.moving), None)
    cautions = [one for one in placed.outlook.project.cautions if one.id in HOMES_CAUTIONS]
    return Printing(plan.zone, plan.locale, plan.currency, plan.units).render(
        "html",
        "firm/client.html.j2",
        {
            "style": (template_folder() / "firm" / "client.css").read_text("utf-8"),
            "firm_name": firm.base.name,
            "plan": plan,
            "day": placed.sent.day,
            "arrival": window(moving.start, arrives) if moving else None,
            "ends": moving.finish if moving else None,
            "vehicles": len(placed.sent.vehicles),
            "visits": [one for one in visits if not one.moving],
            "theirs": list(_theirs(firm, placed)),
            "quote": quote,
            "cautions": cautions,
            "phone": firm.phone,
            "limit": Policy(plan.policy),
            "now": to_local(firm.now, plan.zone).date(),
        },
    )


def _visits(firm: Firm, placed: Placed) -> Iterator[Visit]:
    """Put together who is there at the same time; desk work is no visit."""
    places = {site_of(placed.job, one.id): one.name for one in placed.outlook.project.plan.places}
    rows = sorted((stop, who) for who, stops in placed.trace.people.items() for stop in stops if stop.first)
    while rows:
        there, finish = [rows[0]], rows[0][0].finish
        for stop, who in rows[1:]:
            if stop.start > finish:
                break
            there.append((stop, who))
            finish = max(finish, stop.finish)
        rows = rows[len(there) :]
        sites = dict.fromkeys(site for stop, _ in there for site in (stop.first, stop.last))
        yield Visit(
            to_local(there[0][0].start, firm.zone).date(),
            there[0][0].start,
            finish,
            tuple(places[site] for site in sites if site in places),
            tuple(dict.fromkeys(firm.worker(who).name for _, who in there)),
            any(stop.moving for stop, _ in there),
        )


def window(told: int, arrives: tuple[int, int] | None) -> tuple[int, int]:
    """Give the window in which the crew comes, on quarters of an hour, with the told time in it.

    Parameters
    ----------
    told : int
        When people are told to be there, UTC. [min]
    arrives : tuple of (int, int) or None
        Between when the crew comes, by the runs, UTC. [min]

    Returns
    -------
    tuple of (int, int)
        UTC. [min]

    >>> window(375, (380, 421)), window(380, None)
    ((375, 435), (375, 405))
    """
    early, late = arrives or (told, told)
    first = min(told, early) // QUARTER_MIN * QUARTER_MIN
    last = -(-max(told, late) // QUARTER_MIN) * QUARTER_MIN
    return first, max(last, first + ARRIVAL_MIN)


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
