"""The check of all jobs together: each limit broken on purpose is found, and by its own code."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from moveplan.errors import Fault, FaultError
from moveplan.firm import dispatch
from moveplan.firm.values import Firm
from moveplan.firm.verify import firm_kept
from moveplan.hours import Absence
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval
from tests.firm.firms import six_jobs

Rows = dict[str, tuple[Project, Schedule]]


def rows() -> Rows:
    return {one.job: (one.outlook.project, one.outlook.schedule) for one in six_jobs().placed}


def days() -> dict[str, date]:
    return {one.job: one.sent.day for one in six_jobs().placed}


def codes(faults: tuple[Fault, ...]) -> set[str]:
    return {fault.code for fault in faults}


def found(
    firm: Firm | None = None, changed: Rows | None = None, moving: dict[str, date] | None = None
) -> set[str]:
    outlook = six_jobs()
    return codes(firm_kept(firm or outlook.firm, outlook.roads.ways, changed or rows(), moving or days()))


def shifted(schedule: Schedule, by_min: int) -> Schedule:
    return replace(
        schedule,
        placements=tuple(
            replace(
                one,
                start=one.start + by_min,
                finish=one.finish + by_min,
                segments=tuple(
                    Interval(piece.start + by_min, piece.finish + by_min) for piece in one.segments
                ),
            )
            for one in schedule.placements
        ),
    )


def onto(job: str, other: str) -> Rows:
    """Put one job on the moving day of another, crew and all."""
    away = (days()[other] - days()[job]) // timedelta(days=1)
    changed = rows()
    project, schedule = changed[job]
    return changed | {job: (project, shifted(schedule, away * 1440))}


def test_a_sound_firm_passes() -> None:
    assert found() == set()


def test_one_crew_on_two_moving_days_at_once_is_found() -> None:
    assert "firm-twice" in found(changed=onto("surgery", "boat_shed"))


def test_a_day_that_is_not_the_promised_one_is_found() -> None:
    moving = days() | {"garden_flat": date(2027, 5, 9)}
    assert "firm-promise" in found(moving=moving)
    assert "firm-other-day" in found(moving=moving)


def test_a_longer_day_than_somebodys_longest_is_found() -> None:
    firm = six_jobs().firm
    short = replace(firm, people=tuple(replace(one, longest_day_min=60) for one in firm.people))
    assert "firm-long-day" in found(short)


def test_a_night_shorter_than_somebodys_rest_is_found() -> None:
    firm = six_jobs().firm
    long = replace(firm, people=tuple(replace(one, rest_min=23 * 60) for one in firm.people))
    assert "firm-short-night" in found(long)


def test_somebody_who_is_away_is_found() -> None:
    firm, day = six_jobs().firm, days()["garden_flat"]
    away = tuple(
        replace(one, helper=replace(one.helper, absences=(Absence(day, day),))) for one in firm.people
    )
    assert "firm-is-away" in found(replace(firm, people=away))


def test_a_drive_for_which_there_is_no_time_is_found() -> None:
    outlook = six_jobs()
    far = {pair: (600, km) for pair, (_, km) in outlook.roads.ways.items()}
    assert "firm-no-drive" in codes(firm_kept(outlook.firm, far, rows(), days()))


def test_more_gear_than_there_is_is_found() -> None:
    firm = six_jobs().firm
    few = replace(firm, gear=tuple(replace(one, item=replace(one.item, count=1)) for one in firm.gear))
    assert "firm-gear" in found(few)


def test_more_water_than_is_made_is_found() -> None:
    firm = six_jobs().firm
    assert firm.water is not None
    dry = replace(firm, water=replace(firm.water, storage_l=20.0, litres_a_day=1.0))
    assert "firm-water" in found(dry)


def test_a_fault_at_the_door_ends_the_run() -> None:
    outlook = six_jobs()

    def late(one: Placement) -> Placement:
        return replace(one, people=tuple(sorted({*one.people, "sol"})))

    broken = tuple(
        replace(
            one,
            outlook=replace(
                one.outlook,
                schedule=replace(
                    one.outlook.schedule, placements=tuple(map(late, one.outlook.schedule.placements))
                ),
            ),
        )
        for one in outlook.placed
    )
    with pytest.raises(FaultError):
        dispatch.check(outlook.firm, outlook.roads, broken)
