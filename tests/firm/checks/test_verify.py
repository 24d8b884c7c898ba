"""The check of all jobs together: each limit broken on purpose is found, and by its own code."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from moveplan.errors import Fault, FaultError
from moveplan.firm import finish
from moveplan.firm.checks.verify import firm_kept
from moveplan.firm.values import Firm, Worker
from moveplan.hours import Absence
from moveplan.practice.project import Project
from moveplan.scheduling.schedule import Placement, Schedule
from moveplan.times import Interval
from tests.firm.firms import built, six_jobs

Rows = dict[str, tuple[Project, Schedule]]


def rows() -> Rows:
    return {one.job: (one.outlook.project, one.outlook.schedule) for one in six_jobs().placed}


def days() -> dict[str, date]:
    return {one.job: one.sent.day for one in six_jobs().placed}


def found(
    firm: Firm | None = None, changed: Rows | None = None, moving: dict[str, date] | None = None
) -> tuple[Fault, ...]:
    outlook = six_jobs()
    return firm_kept(firm or outlook.firm, outlook.roads.ways, changed or rows(), moving or days())


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
    assert found() == ()


def _promised_otherwise() -> tuple[Fault, ...]:
    return found(moving=days() | {"garden_flat": date(2027, 5, 9)})


def _with_people(change: Callable[[Worker], Worker]) -> tuple[Fault, ...]:
    firm = six_jobs().firm
    return found(replace(firm, people=tuple(map(change, firm.people))))


def _all_away() -> tuple[Fault, ...]:
    firm, day = six_jobs().firm, days()["garden_flat"]
    away = tuple(
        replace(one, helper=replace(one.helper, absences=(Absence(day, day),))) for one in firm.people
    )
    return found(replace(firm, people=away))


def _far_apart() -> tuple[Fault, ...]:
    outlook = six_jobs()
    far = {pair: (600, km) for pair, (_, km) in outlook.roads.ways.items()}
    return firm_kept(outlook.firm, far, rows(), days())


def _one_of_each() -> tuple[Fault, ...]:
    firm = six_jobs().firm
    return found(
        replace(firm, gear=tuple(replace(one, item=replace(one.item, count=1)) for one in firm.gear))
    )


def _tubs(count: int) -> tuple[Fault, ...]:
    firm = six_jobs().firm
    return found(
        replace(
            firm,
            gear=tuple(
                replace(one, item=replace(one.item, count=count)) if one.item.id == "tubs" else one
                for one in firm.gear
            ),
        )
    )


def test_tubs_in_which_new_water_stands_count_over_all_jobs_until_they_are_dry() -> None:
    """From the files alone: numbers of each job, from the first use to the last and ``ready-after`` of a day."""
    folder, _ = built()
    uses = [
        (
            datetime.fromisoformat(use["from"]),
            datetime.fromisoformat(use["until"]),
            use["use"],
            (job, use["number"]),
        )
        for job in days()
        for use in json.loads((folder / "jobs" / job / "result.json").read_text("utf-8"))["containers"]
        if use["gear"] == "tubs"
    ]

    def most(rows: list[tuple[datetime, datetime, str, tuple[str, str]]]) -> int:
        return max(
            len({row[3] for row in rows if row[0] <= at < row[1] + timedelta(days=1)}) for at, *_ in rows
        )

    most_out = most(uses)
    assert most([row for row in uses if row[2] != "mixed-water"]) < most_out - 1
    assert _tubs(most_out) == ()
    assert {fault.code for fault in _tubs(most_out - 1)} == {"firm-gear"}


def _dry() -> tuple[Fault, ...]:
    firm = six_jobs().firm
    assert firm.water is not None
    return found(replace(firm, water=replace(firm.water, storage_l=20.0, litres_a_day=1.0)))


def _nobody_drives() -> tuple[Fault, ...]:
    return _with_people(lambda one: replace(one, helper=replace(one.helper, drives=False)))


def _one_seat() -> tuple[Fault, ...]:
    firm = six_jobs().firm
    return found(
        replace(
            firm,
            vehicles=tuple(replace(one, vehicle=replace(one.vehicle, seats=1)) for one in firm.vehicles),
        )
    )


BROKEN: dict[str, Callable[[], tuple[Fault, ...]]] = {
    "firm-twice": lambda: found(changed=onto("surgery", "boat_shed")),
    "firm-promise": _promised_otherwise,
    "firm-other-day": _promised_otherwise,
    "firm-long-day": lambda: _with_people(lambda one: replace(one, longest_day_min=60)),
    "firm-short-night": lambda: _with_people(lambda one: replace(one, rest_min=23 * 60)),
    "firm-is-away": _all_away,
    "firm-no-drive": _far_apart,
    "firm-no-seat": _one_seat,
    "firm-no-driver": _nobody_drives,
    "firm-leaves-crew": lambda: found(changed=onto("surgery", "boat_shed")),
    "firm-gear": _one_of_each,
    "firm-water": _dry,
}
"""Each limit of a firm by the code of its fault, broken on purpose."""


@pytest.mark.parametrize("code", BROKEN)
def test_each_limit_that_is_broken_is_found_by_its_own_code(code: str) -> None:
    assert code in {fault.code for fault in BROKEN[code]()}


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
        finish.check(outlook.firm, outlook.roads, broken)
