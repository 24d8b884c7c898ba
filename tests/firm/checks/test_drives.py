"""The check of drives: each broken on purpose is found by its own code, and all papers tell the same ones."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from moveplan.errors import Fault
from moveplan.firm.checks.drives import drives_kept
from moveplan.firm.day.drives import Drive, unreached
from moveplan.firm.papers.people import Row, person_days, vehicle_days
from moveplan.firm.placing.traces import Run, trace_of
from moveplan.times import Interval
from tests.firm.firms import six_jobs


def found(drives: tuple[Drive, ...]) -> tuple[Fault, ...]:
    outlook = six_jobs()
    rows = {one.job: (one.outlook.project, one.outlook.schedule) for one in outlook.placed}
    return drives_kept(outlook.firm, outlook.roads.ways, drives, rows)


def changed(at: Drive, **values: object) -> tuple[Drive, ...]:
    return tuple(replace(one, **values) if one is at else one for one in six_jobs().drives)  # type: ignore[arg-type]


def back() -> Drive:
    return next(one for one in six_jobs().drives if one.vehicle and not one.destination)


def test_the_drives_of_the_example_pass() -> None:
    assert found(six_jobs().drives) == ()


def _seats_too_few() -> tuple[Fault, ...]:
    crew = tuple(one.id for one in six_jobs().firm.people if one.id != back().driver)
    return found(changed(back(), along=crew))


BROKEN: dict[str, Callable[[], tuple[Fault, ...]]] = {
    "firm-may-not-drive": lambda: found(changed(back(), driver="sol")),
    "firm-not-there": lambda: found(changed(back(), origin="boat_shed.new")),
    "firm-not-home": lambda: found(tuple(one for one in six_jobs().drives if one is not back())),
    "firm-drives-twice": lambda: found(changed(back(), start=back().start - 300)),
    "firm-seat-short": _seats_too_few,
}


@pytest.mark.parametrize("code", BROKEN)
def test_each_drive_that_is_broken_is_found_by_its_own_code(code: str) -> None:
    assert code in {fault.code for fault in BROKEN[code]()}


def test_whoever_does_not_drive_works_nowhere_but_where_the_crew_takes_them() -> None:
    """Sol Embry has ``drives: no`` in the firm file; everything they do is of a moving day."""
    outlook = six_jobs()
    assert not outlook.firm.worker("sol").helper.drives
    done = [
        (one.job, task)
        for one in outlook.placed
        for task in one.outlook.project.network.tasks
        for row in one.outlook.schedule.placements
        if row.task == task.id and task.place and "sol" in row.people
    ]
    assert done
    assert all(task.day for _, task in done), done
    assert not [one for one in outlook.drives if one.driver == "sol"]
    rides = [one for one in outlook.drives if one.has("sol")]
    assert rides
    assert all(one.vehicle for one in rides)


def test_a_drive_is_told_alike_on_the_sheets_of_its_vehicle_and_of_everybody_in_it() -> None:
    outlook = six_jobs()
    firm = outlook.firm

    def drives(rows: list[Row]) -> set[tuple[object, ...]]:
        return {(row.start, row.finish, row.where, row.by, row.driver, row.along) for row in rows if row.by}

    people = {
        one.name: drives([row for day in person_days(outlook, one.id) for row in day.rows])
        for one in firm.people
    }
    vans = {
        one.name: drives([row for day in vehicle_days(outlook, one.id) for row in day.rows])
        for one in firm.vehicles
    }
    assert any(vans.values())
    for van, rows in vans.items():
        told = {row for rows in people.values() for row in rows if row[3] == van}
        assert rows == told
    for name, rows in people.items():
        assert all(name == row[4] or name in row[5] for row in rows)  # type: ignore[operator]
    for rows in vans.values():
        for row in rows:
            assert all(row in people[name] for name in (row[4], *row[5]))  # type: ignore[misc]


def test_work_at_a_place_where_no_drive_takes_somebody_is_found_before_a_schedule_stands() -> None:
    """A visit to the old home that begins while the crew is still at the new one, and its van too."""
    outlook = six_jobs()
    job, visit = next(
        (one, row)
        for one in outlook.placed
        for row in one.outlook.schedule.placements
        if row.task == "clean-old-room" and set(row.people) <= set(one.sent.crew)
    )
    back = next(one for one in outlook.drives if one.job == job.job and not one.destination)
    early = Interval(back.start - 30, back.start - 30 + visit.finish - visit.start)
    moved = replace(visit, start=early.start, finish=early.finish, segments=(early,))
    rows = tuple(moved if row is visit else row for row in job.run.schedule.placements)
    schedule = replace(job.run.schedule, placements=rows)
    trace = trace_of(outlook.firm, outlook.roads, job.job, job.run.project, schedule)
    run = Run(job.job, job.run.project, schedule, trace)
    assert not unreached(outlook.firm, outlook.roads, job.run, ())
    assert early in unreached(outlook.firm, outlook.roads, run, ())[visit.people[0]]
