from __future__ import annotations

from moveplan.journal.next_up import next_up
from moveplan.journal.records import Begun, Done, Dropped, Met, Opened, Reading, Record, Shut
from moveplan.journal.state import state_of
from tests.journal.builders import DAY, T0, entries, snapshot


def _next(now: int, *records: Record):  # type: ignore[no-untyped-def]
    return next_up(snapshot(), state_of(entries(*records)), now)


def test_before_anything_everybody_has_a_next_thing() -> None:
    found = _next(T0 - 60)
    assert (found.done, found.total) == (0, 6)
    assert [(name, item.task.id) for name, item in found.ahead] == [
        ("Ines Farrow", "draw-water"),
        ("Tomas Reddy", "catch-fish"),
    ]
    assert found.overdue == found.running == found.travelling == ()
    assert [hold.task.id for hold in found.hold_points] == ["water-matched-reef"]
    assert [task.id for task in found.hold_points[0].waits_for] == ["drive-van"]
    assert found.hold_points[0].lacks == ("temperature must be 24 to 27 °C; it was not read yet",)


def test_what_should_have_begun_is_overdue_and_what_was_begun_runs() -> None:
    found = _next(T0 + 45, Begun(at=T0 + 5, task="draw-water"))
    assert [item.task.id for item in found.overdue] == ["catch-fish"]
    assert [(item.task.id, item.span.start - T0, item.span.finish - T0) for item in found.running] == [
        ("draw-water", 5, 35)
    ]


def test_a_container_counts_from_its_logged_closing() -> None:
    planned = _next(T0 + 100).travelling
    assert [(one.stay.group, one.logged, one.left_min) for one in planned] == [("clowns", False, 330)]
    begun = _next(T0 + 100, Begun(at=T0 + 40, task="catch-fish")).travelling
    assert [(one.logged, one.left_min) for one in begun] == [(True, 340)]
    said = _next(T0 + 500, Begun(at=T0 + 40, task="catch-fish"), Shut(at=T0 + 60, group="clowns")).travelling
    assert [(one.logged, one.left_min) for one in said] == [(True, -40)]


def test_a_container_that_was_opened_counts_no_more() -> None:
    shut = Shut(at=T0 + 60, group="clowns")
    assert _next(T0 + 100, shut, Opened(at=T0 + 90, group="clowns")).travelling == ()
    assert _next(T0 + 100, shut, Done(at=T0 + 90, task="release-fish")).travelling == ()


def test_recurring_care_goes_time_by_time() -> None:
    found = _next(T0 + DAY + 700, Done(at=T0 + 610, task="daily-look", time=1))
    times = [(item.task.id, item.time) for item in found.overdue if item.time]
    assert times == [("daily-look", 2)]
    assert [(item.task.id, item.time) for _, item in found.ahead] == [("daily-look", 3)]
    all_done = [Done(at=T0 + time * DAY, task="daily-look", time=time) for time in (1, 2, 3)]
    assert _next(T0 + 5 * DAY, *all_done).done == 1


def test_dropped_tasks_are_no_longer_counted() -> None:
    found = _next(T0 + 60, Dropped(at=T0, task="draw-water", reason="no need"))
    assert found.total == 5
    assert [item.task.id for item in found.overdue] == ["catch-fish"]


def test_a_hold_point_goes_once_it_is_signed() -> None:
    reading = Reading(at=T0 + 290, what="temperature", value=25.0, unit="°C", said="25 C")
    before = _next(T0 + 295, reading, Done(at=T0 + 140, task="drive-van"))
    assert [(hold.lacks, hold.waits_for) for hold in before.hold_points] == [((), ())]
    met = Met(at=T0 + 300, task="water-matched-reef", by="Ines")
    assert _next(T0 + 301, reading, met).hold_points == ()
