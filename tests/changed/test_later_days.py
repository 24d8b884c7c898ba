"""A later day of the move window, where the first that is possible leaves too little time before it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from moveplan.changed.helps import helps_for
from moveplan.changed.offers import later_days
from moveplan.door import door
from moveplan.outputs.documents.summary import summary_md
from moveplan.outputs.outlook import Help, Outlook, Verdict
from moveplan.pipeline import judge, schedule
from moveplan.practice.project import Project
from moveplan.risk.prepared.calendar import moving_days
from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Schedule
from moveplan.stages.reading import Settings
from moveplan.stages.surer import LEAST_GAIN
from tests.examples import plan, project, scheduled

SETTINGS = Settings(runs=2000, effort=Effort(seconds=0.1, engine="serial"))
OPEN = ("as-of=2027-05-08 09:00", "dates={move-window: 2027-06-05 to 2027-06-13}")


@cache
def found() -> tuple[Project, Schedule]:
    return schedule(project("short_plan", *OPEN), SETTINGS)


@cache
def outlook() -> Outlook:
    return judge(*found(), SETTINGS)


@cache
def later() -> Help:
    helps = [one for one in helps_for(outlook(), *found(), SETTINGS) if one.kind == "day"]
    assert helps
    return helps[0]


def test_where_the_day_slips_a_later_one_is_tried_and_surer() -> None:
    base = outlook()
    assert base.verdict is Verdict.TIGHT
    assert base.risk is not None
    assert base.risk.promise is not None
    assert base.risk.promise.breaks[0].what == "day"
    assert later().kept > base.risk.promise.kept + LEAST_GAIN


def test_what_is_written_moves_the_day() -> None:
    ((key, value),) = later().writes
    assert key == "dates.move-window"
    (day,) = later().who
    read = plan("short_plan", *OPEN, f"{key}={value}")
    assert read.dates is not None
    assert read.dates.move_days[0].isoformat() == day
    change = next(one for one in later_days(*found()) if one.writes == later().writes)
    assert change.apply(found()[0].plan).dates == read.dates
    hung = change.carried_out(*found())
    again = schedule(hung, SETTINGS)
    assert moving_days(*again)[0].day.isoformat() == day
    assert door.faults_of(*again) == ()


def test_a_later_day_is_offered_inside_the_window_alone() -> None:
    days = [change.day for change in later_days(*found())]
    window = plan("short_plan", *OPEN).dates
    assert window is not None
    assert 0 < len(days) <= 3
    assert set(days) <= set(window.move_days[1:])
    assert list(later_days(*scheduled("short_plan"))) == []


def test_the_papers_say_the_day_and_what_to_write() -> None:
    text = summary_md(replace(outlook(), helps=(later(),)))
    assert "a later day, move on " in text
    assert f"dates.move-window: {later().writes[0][1]}" in text
