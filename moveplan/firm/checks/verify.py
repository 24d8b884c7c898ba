"""An independent check of all jobs together; shares no code with what chose days and made schedules.

It reads every placement of every job, the firm's values and the ways between places, and counts again: nobody and
nothing at two places, drives, rest, longest days, days off, gear with the time until it is ready, water, promises.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise, takewhile

from moveplan.errors import Fault
from moveplan.firm.checks.gear import gear_kept
from moveplan.firm.values import Firm, Worker
from moveplan.hours import Absence
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import to_local

Minutes = Mapping[tuple[str, str], tuple[int, float]]
"""Drives by pair of sites, the base being an empty text. [min], [km]"""
DAY = timedelta(days=1)
SLACK_L = 1.0
"""Litres of rounding over a season. [l]"""


@dataclass(frozen=True, slots=True, order=True)
class _Piece:
    start: int
    finish: int
    job: str
    task: str
    begins: str
    ends: str
    works: bool


def firm_kept(
    firm: Firm, ways: Minutes, schedules: Mapping[str, tuple[Project, Schedule]], moving: Mapping[str, date]
) -> tuple[Fault, ...]:
    """Check every limit that jobs share.

    Parameters
    ----------
    firm : Firm
        Its people, vehicles, gear, water and promises.
    ways : Mapping
        Minutes and kilometres between sites. [min], [km]
    schedules : Mapping of str to (Project, Schedule)
        Each job as it was scheduled.
    moving : Mapping of str to date
        The moving day of each.
    """
    faults: list[Fault] = []
    spans = {job: _span(firm, *rows, moving[job]) for job, rows in schedules.items()}
    for one in firm.people:
        pieces = sorted(_pieces(schedules, one.id, "people"))
        faults += _two_places(one.id, pieces, ways)
        faults += _days(firm, one, pieces, ways, spans)
        faults += _gone(firm, one.id, pieces, one.helper.absences)
        faults += _alone(firm, one, pieces, moving)
    for vehicle in firm.vehicles:
        pieces = sorted(_pieces(schedules, vehicle.id, "vehicles"))
        faults += _two_places(vehicle.id, pieces, ways)
        faults += _gone(firm, vehicle.id, pieces, vehicle.service)
    faults += _crews(firm, schedules, moving, spans)
    faults += gear_kept(firm, schedules)
    faults += _water(firm, schedules)
    faults += _promises(firm, schedules, moving)
    return tuple(faults)


def _pieces(schedules: Mapping[str, tuple[Project, Schedule]], who: str, what: str) -> Iterator[_Piece]:
    for job, (project, schedule) in schedules.items():
        tasks = {task.id: task for task in project.network.tasks}
        for placed in schedule.placements:
            task = tasks[placed.task]
            for n, piece in enumerate(placed.segments):
                crew = (
                    placed.segment_people[n]
                    if placed.segment_people and what == "people"
                    else getattr(placed, what)
                )
                if who in crew and piece.finish > piece.start:
                    begins = f"{job}.{task.place}" if task.place else ""
                    ends = f"{job}.{task.place_after}" if task.place_after else begins
                    works = task.kind.value not in ("rest", "wait")
                    yield _Piece(piece.start, piece.finish, job, task.id, begins, ends, works)


def _minutes(ways: Minutes, one: str, two: str) -> int:
    return 0 if one == two else ways[one, two][0]


def _two_places(who: str, pieces: list[_Piece], ways: Minutes) -> Iterator[Fault]:
    """Check that between two jobs there is time for the drive; within a job its own check has done so."""
    for at, (one, two) in enumerate(pairwise(pieces)):
        if one.job == two.job:
            continue
        if two.start < one.finish:
            yield Fault("firm-twice", (who, one.job, two.job), (one.finish, two.start), (two.task, one.task))
            continue
        wanted = min(
            _minutes(ways, origin, destination)
            for origin in _where(one.ends, reversed(pieces[: at + 1]), one)
            for destination in _where(two.begins, pieces[at + 1 :], two)
        )
        if two.start - one.finish < wanted:
            yield Fault(
                "firm-no-drive", (who, one.job, two.job), (two.start - one.finish, wanted), (two.task,)
            )


def _where(site: str, near: Iterable[_Piece], piece: _Piece) -> tuple[str, ...]:
    """Give the sites at which a piece may be: a break or desk work at the base, or where the job is just then."""
    if site:
        return (site,)
    there = next((one.begins for one in takewhile(lambda one: one.job == piece.job, near) if one.begins), "")
    return ("", there) if there else ("",)


def _days(
    firm: Firm, who: Worker, pieces: list[_Piece], ways: Minutes, spans: Mapping[str, tuple[int, int]]
) -> Iterator[Fault]:
    """Check days and nights; on a moving day everybody comes and leaves with the crew."""
    by_day: dict[date, list[_Piece]] = defaultdict(list)
    for piece in pieces:
        by_day[to_local(piece.start, firm.zone).date()].append(piece)
    ends: dict[date, tuple[int, int, str, str]] = {}
    for day, rows in sorted(by_day.items()):
        sites = [site for row in rows for site in (row.begins, row.ends) if site]
        out = _minutes(ways, "", sites[0]) if sites else 0
        back = _minutes(ways, sites[-1], "") if sites else 0
        between = sum(
            _minutes(ways, one.ends, two.begins)
            for one, two in pairwise([row for row in rows if row.begins])
            if one.job != two.job
        )
        worked = sum(row.finish - row.start for row in rows if row.works) + out + back + between
        if worked > who.longest_day_min:
            yield Fault("firm-long-day", (who.id, str(day)), (worked, who.longest_day_min), (rows[0].task,))
        crew = [span for row in rows if (span := spans[row.job])[0] <= row.start < span[1]]
        first = min([rows[0].start] + [start for start, _ in crew])
        last = max([row.finish for row in rows] + [finish for _, finish in crew])
        ends[day] = first - out, last + back, rows[0].job, rows[-1].job
    for day, (leaves, _, job, _) in ends.items():
        before = ends.get(day - DAY)
        if before and leaves - before[1] < who.rest_min:
            yield Fault(
                "firm-short-night", (who.id, str(day), before[3], job), (leaves - before[1], who.rest_min)
            )


def _on_the_day(firm: Firm, project: Project, schedule: Schedule, day: date) -> list[Placement]:
    """Give what the firm's people and vehicles do on a moving day."""
    tagged = {task.id for task in project.network.tasks if task.day}
    firms = {one.id for one in firm.people}
    return [
        row
        for row in schedule.placements
        if row.task in tagged and (firms & set(row.people) or row.vehicles)
        if to_local(row.start, firm.zone).date() == day
    ]


def _span(firm: Firm, project: Project, schedule: Schedule, day: date) -> tuple[int, int]:
    rows = _on_the_day(firm, project, schedule, day)
    return min((row.start for row in rows), default=0), max((row.finish for row in rows), default=0)


def _crews(
    firm: Firm,
    schedules: Mapping[str, tuple[Project, Schedule]],
    moving: Mapping[str, date],
    spans: Mapping[str, tuple[int, int]],
) -> Iterator[Fault]:
    """Check that a crew has seats and drivers, and stays together on its moving day."""
    for job, (project, schedule) in schedules.items():
        rows = _on_the_day(firm, project, schedule, moving[job])
        crew = [one for one in firm.people if any(one.id in row.people for row in rows)]
        yield from _seated(firm, job, rows, crew)
        start, finish = spans[job]
        for one in crew:
            pieces = sorted(_pieces(schedules, one.id, "people"))
            away = [row for row in pieces if row.job != job and row.start < finish and start < row.finish]
            yield from (Fault("firm-leaves-crew", (one.id, job, row.job), (), (row.task,)) for row in away)


def _seated(firm: Firm, job: str, rows: list[Placement], crew: list[Worker]) -> Iterator[Fault]:
    vehicles = {vehicle for row in rows for vehicle in row.vehicles}
    seats = sum(one.vehicle.seats for one in firm.vehicles if one.id in vehicles)
    if vehicles and len(crew) > seats:
        yield Fault("firm-no-seat", (job,), (len(crew), seats))
    if sum(one.helper.drives for one in crew) < len(vehicles):
        yield Fault("firm-no-driver", (job, ", ".join(one.id for one in crew)), ())


def _alone(firm: Firm, who: Worker, pieces: list[_Piece], moving: Mapping[str, date]) -> Iterator[Fault]:
    """Check that whoever does not drive goes nowhere but with a crew."""
    for row in pieces if not who.helper.drives else ():
        if row.begins and to_local(row.start, firm.zone).date() != moving[row.job]:
            yield Fault("firm-no-driver", (row.job, who.id), (), (row.task,))


def _gone(firm: Firm, who: str, pieces: list[_Piece], absences: Iterable[Absence]) -> Iterator[Fault]:
    from dateutil.rrule import rrulestr

    for piece in pieces:
        day = to_local(piece.start, firm.zone).date()
        for one in absences:
            if not one.first <= day <= one.last:
                continue
            noon = datetime(day.year, day.month, day.day)  # noqa: DTZ001 - recurrence rules count in local days
            begin = datetime(one.first.year, one.first.month, one.first.day)  # noqa: DTZ001 - the same
            if not one.rule or rrulestr(one.rule, dtstart=begin).between(noon, noon, inc=True):
                yield Fault("firm-is-away", (who, str(day), piece.job), (), (piece.task,))


def _water(firm: Firm, schedules: Mapping[str, tuple[Project, Schedule]]) -> Iterator[Fault]:
    """Follow the store of the base from day to day, what does not fit in being poured away."""
    fetched = _fetched(firm, schedules)
    if firm.water is None or not fetched:
        return
    stock, day = firm.water.storage_l, min(fetched)
    while day <= max(fetched):
        stock -= fetched.get(day, 0.0)
        if stock < -SLACK_L:
            yield Fault("firm-water", (str(day),), (fetched[day], stock))
            return
        stock = min(firm.water.storage_l, stock + firm.water.litres_a_day)
        day += DAY


def _fetched(firm: Firm, schedules: Mapping[str, tuple[Project, Schedule]]) -> dict[date, float]:
    fetched: dict[date, float] = defaultdict(float)
    for project, schedule in schedules.values():
        making = project.plan.water_making
        if making is None or making.rate_l_day > 0:
            continue
        stands = {row.task: row for row in schedule.placements}
        for pour in project.ledger.pours:
            if pour.target == "purified" and pour.task in stands:
                for piece in stands[pour.task].segments:
                    fetched[to_local(piece.start, firm.zone).date()] += pour.litres
    return fetched


def _promises(
    firm: Firm, schedules: Mapping[str, tuple[Project, Schedule]], moving: Mapping[str, date]
) -> Iterator[Fault]:
    for job in firm.jobs:
        if job.id not in schedules:
            continue
        if job.promised and moving[job.id] != job.day:
            yield Fault("firm-promise", (job.id, str(job.day), str(moving[job.id])))
        project, schedule = schedules[job.id]
        tagged = {task.id for task in project.network.tasks if task.day == "moving-day"}
        days = {to_local(row.start, firm.zone).date() for row in schedule.placements if row.task in tagged}
        if days and days != {moving[job.id]}:
            yield Fault("firm-other-day", (job.id, str(moving[job.id])), ())
