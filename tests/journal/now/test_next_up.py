from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.journal.file.snapshot import Snapshot, Tie
from moveplan.journal.now.failure import ASSUMED_MIN, Failed
from moveplan.journal.now.next_up import next_up
from moveplan.journal.records import (
    Begun,
    Counted,
    Done,
    Dropped,
    Met,
    Opened,
    Reading,
    Record,
    Shut,
    Tended,
)
from moveplan.journal.state import state_of
from tests.journal.builders import DAY, T0, entries, planned, snapshot


def _next(now: int, *records: Record):  # type: ignore[no-untyped-def]
    return next_up(unnumbered(), state_of(entries(*records)), now)


def unnumbered() -> Snapshot:
    """Give the day with containers that have no numbers."""
    return replace(snapshot(), stays=(replace(snapshot().stays[0], containers=()),))


def test_before_anything_everybody_has_a_next_thing() -> None:
    found = _next(T0 - 60)
    assert (found.done, found.total) == (0, 6)
    assert [(turn.name, turn.item.task.id, turn.ready) for turn in found.first] == [
        ("Ines Farrow", "draw-water", True),
        ("Tomas Reddy", "catch-fish", False),  # with Ines, who first draws water
    ]
    assert [(name, task.id) for name, task in found.first[1].without] == [("Ines Farrow", "draw-water")]
    assert found.running == found.travelling == found.unsaid == ()
    assert found.behind_min == 0
    assert [hold.task.id for hold in found.hold_points] == ["water-matched-reef"]
    assert [wait.before.id for wait in found.hold_points[0].waits] == ["drive-van"]
    assert found.hold_points[0].at == T0 + 300
    assert _next(T0 + 270).hold_points[0].at == T0 + 270 + 30 + 60 + 45
    assert found.hold_points[0].lacks == ("temperature must be 24 to 27 °C; it was not read yet",)


def test_what_was_begun_runs_and_comes_first() -> None:
    found = _next(T0 + 45, Begun(at=T0 + 5, task="draw-water"))
    assert [(turn.person, turn.item.task.id, turn.runs) for turn in found.first] == [
        ("ines", "draw-water", True),
        ("tom", "catch-fish", False),
    ]
    assert [(name, task.id) for name, task in found.first[1].without] == [("Ines Farrow", "draw-water")]
    assert [(item.task.id, item.span.start - T0, item.span.finish - T0) for item in found.running] == [
        ("draw-water", 5, 45)
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
    done = [Done(at=T0 + 1, task=name) for name in ("draw-water", "catch-fish", "drive-van", "release-fish")]
    met = Met(at=T0 + 1, task="water-matched-reef", by="Ines")
    found = _next(T0 + DAY + 700, *done, met, Done(at=T0 + 610, task="daily-look", time=1))
    assert [(turn.item.task.id, turn.item.time) for turn in found.turns] == [
        ("daily-look", 2),
        ("daily-look", 3),
    ]
    found = _next(T0 + 2 * DAY + 610, *done, met, Done(at=T0 + 610, task="daily-look", time=1))
    assert [turn.item.time for turn in found.turns] == [3]
    all_done = [Done(at=T0 + time * DAY, task="daily-look", time=time) for time in (1, 2, 3)]
    assert _next(T0 + 5 * DAY, *all_done).done == 1


def test_dropped_tasks_are_no_longer_counted() -> None:
    found = _next(T0 + 60, Dropped(at=T0, task="draw-water", reason="no need"))
    assert found.total == 5
    assert [turn.item.task.id for turn in found.first] == ["catch-fish", "catch-fish"]


def test_a_hold_point_goes_once_it_is_signed() -> None:
    reading = Reading(at=T0 + 290, what="temperature", value=25.0, unit="°C", said="25 C")
    before = _next(T0 + 295, reading, Done(at=T0 + 140, task="drive-van"))
    assert [(hold.lacks, hold.waits) for hold in before.hold_points] == [((), ())]
    met = Met(at=T0 + 300, task="water-matched-reef", by="Ines")
    assert _next(T0 + 301, reading, met).hold_points == ()


def test_nobody_passes_a_hold_point_and_what_nobody_logged_is_asked_for() -> None:
    found = _next(T0 + 340, Done(at=T0 + 200, task="drive-van"))
    ines = [turn for turn in found.turns if turn.person == "ines"]
    assert [turn.item.task.id for turn in ines if turn.ready][:2] == ["draw-water", "catch-fish"]
    release = next(turn for turn in ines if turn.item.task.id == "release-fish")
    assert [wait.before.id for wait in release.waits] == ["water-matched-reef"]
    begun = _next(T0 + 340, Done(at=T0 + 330, task="water-matched-reef"))
    assert [(task.id, after.id) for task, after in begun.unsaid] == [("drive-van", "water-matched-reef")]
    passed = _next(T0 + 340, Done(at=T0 + 330, task="release-fish"))
    assert passed.unsaid == ()
    assert [hold.task.id for hold in passed.hold_points] == ["water-matched-reef"]


def test_what_was_begun_after_what_follows_it_is_not_taken_for_over() -> None:
    """Somebody pressed the wrong task first, or went back to what was left open: that goes on, and is asked about."""
    tied = _next(
        T0 + 350, Begun(at=T0 + 320, task="water-matched-reef"), Begun(at=T0 + 330, task="drive-van")
    )
    assert tied.unsaid == ()
    assert "drive-van" in [item.task.id for item in tied.running]
    before = _next(
        T0 + 350, Begun(at=T0 + 310, task="drive-van"), Begun(at=T0 + 320, task="water-matched-reef")
    )
    assert [(task.id, after.id) for task, after in before.unsaid] == [("drive-van", "water-matched-reef")]


def test_lids_count_container_by_container_and_lost_animals_are_not_counted() -> None:
    one = replace(snapshot().stays[0], containers=(("B1", 1), ("B2", 1)), count=2)
    boxed = replace(snapshot(), stays=(one,))

    def rows(now: int, *records: Record) -> list[tuple[str, int, int | None]]:
        found = next_up(boxed, state_of(entries(*records)), now)
        return [(each.number, each.count, each.left_min) for each in found.travelling]

    first, second = Shut(at=T0 + 40, container="B1"), Shut(at=T0 + 60, container="B2")
    assert rows(T0 + 100, first, second) == [("B1", 1, 340), ("B2", 1, 360)]
    assert rows(T0 + 100, first, second, Opened(at=T0 + 90, container="B1")) == [("B2", 1, 360)]
    again = Shut(at=T0 + 95, container="B1")
    assert rows(T0 + 100, first, Opened(at=T0 + 90, container="B1"), again) == [("B1", 1, 340)]
    assert rows(T0 + 100, first, second, Counted(at=T0 + 99, group="clowns", change=-1)) == [("B2", 1, 360)]
    from_it = Counted(at=T0 + 99, group="clowns", change=-1, container="B2")
    assert rows(T0 + 100, first, second, from_it) == [("B1", 1, 340)]
    assert rows(T0 + 100, first, second, from_it, from_it) == []
    again_there = Counted(at=T0 + 99, group="clowns", change=1)
    assert rows(T0 + 100, first, second, from_it, again_there, again_there) == [
        ("B1", 1, 340),
        ("B2", 1, 360),
    ]
    in_it = replace(again_there, container="B2")
    assert rows(T0 + 100, first, second, from_it, from_it, in_it) == [("B2", 1, 360)]
    moved = Tended(at=T0 + 99, container="B1", what="moved", where="Hired van")
    found = next_up(boxed, state_of(entries(first, moved)), T0 + 100)
    assert [each.where for each in found.travelling] == ["Hired van"]


def test_no_lid_gives_a_closed_container_time_again() -> None:
    """A look, or a lid that is said to be on a second time, does not air the water."""
    closing = Begun(at=T0 + 30, task="catch-fish"), Done(at=T0 + 60, task="catch-fish")
    look = Opened(at=T0 + 100, group="clowns"), Shut(at=T0 + 100, group="clowns")

    def since(*records: Record) -> list[tuple[int, bool]]:
        return [(one.since - T0, one.logged) for one in _next(T0 + 120, *records).travelling]

    assert since(*closing) == since(*closing, *look) == since(*closing, look[1]) == [(30, True)]
    assert since(closing[0], *look) == [(30, True)]
    assert since(*look) == [(30, False)]
    assert since(*closing, Shut(at=T0 + 45, group="clowns"), *look) == [(45, True)]
    assert since(Opened(at=T0 + 10, group="clowns"), Shut(at=T0 + 20, group="clowns")) == [(20, True)]


def test_a_lid_that_is_put_on_and_off_before_the_animals_are_in_ends_no_later_stay() -> None:
    wrong = Shut(at=T0 + 5, group="clowns"), Opened(at=T0 + 10, group="clowns")
    caught = Begun(at=T0 + 35, task="catch-fish"), Done(at=T0 + 60, task="catch-fish")

    def since(*records: Record) -> list[tuple[int, bool]]:
        return [(one.since - T0, one.logged) for one in _next(T0 + 120, *records).travelling]

    assert since(*wrong) == []
    assert since(*wrong, *caught) == since(*wrong, caught[0]) == [(35, True)]
    assert since(*wrong, caught[1]) == [(60, True)]
    assert since(*wrong, *caught, Shut(at=T0 + 58, group="clowns")) == [(58, True)]
    assert since(*wrong, *caught, Opened(at=T0 + 70, group="clowns")) == []


def test_a_second_stay_counts_by_itself() -> None:
    first = unnumbered().stays[0]
    second = replace(
        first, shut_task="daily-look", open_task="", shut=first.shut + 2000, opened=first.opened + 2000
    )
    twice = replace(snapshot(), stays=(first, second))
    records = (
        Shut(at=T0 + 30, group="clowns"),
        Done(at=T0 + 350, task="release-fish"),
        Shut(at=T0 + 2050, group="clowns"),
    )
    found = next_up(twice, state_of(entries(*records)), T0 + 2100).travelling
    assert [(one.stay.shut, one.left_min) for one in found] == [(second.shut, 350)]


def test_a_countdown_stays_until_an_opening_is_recorded() -> None:
    after = T0 + 350 + 5
    assert [one.logged for one in _next(after).travelling] == [False]
    assert [one.logged for one in _next(after, Begun(at=T0 + 40, task="catch-fish")).travelling] == [True]
    assert _next(after, Begun(at=T0 + 40, task="draw-water")).travelling == ()


def test_what_waits_for_a_failed_vehicle_makes_the_day_late_whatever_else_is_at_hand() -> None:
    tidy = planned("tidy", 60, 20, people=("tom",), number=7)
    plan = replace(snapshot(), tasks=(*snapshot().tasks, tidy))
    through = [Done(at=T0 + at, task=task) for at, task in ((30, "draw-water"), (90, "catch-fish"))]
    assert next_up(plan, state_of(entries(*through)), T0 + 90).behind_min == 0
    failed = Failed(at=T0 + 90, what="vehicle", name="van")
    for now in (145, 200, 250, 300):
        # as if it worked again after a while, and Tomas were there once he has tidied; then 45 min of driving, 15 of
        # looking at the water, and 30 of letting out, which were to be over at 350
        found = next_up(plan, state_of(entries(*through, failed)), T0 + now)
        assert [turn.item.task.id for turn in found.first if turn.person == "tom"] == ["tidy"]
        drives = max(90 + ASSUMED_MIN, now + 20)
        assert found.behind_min == max(drives + 45 + 15 + 30 - 350, 0)
    assert found.behind_min > 0


def test_animals_that_were_lost_are_fewer_in_what_was_agreed() -> None:
    lost = Counted(at=T0 + 80, group="clowns", change=-1)
    found = Counted(at=T0 + 81, group="clowns", change=1)
    for plan in (snapshot(), unnumbered()):
        said = [
            next_up(plan, state_of(entries(*rows)), T0 + 90).lost for rows in ((), (lost,), (lost, found))
        ]
        assert said == [(), (("Clownfish", 1),), ()]


@pytest.mark.parametrize(("slower_min", "first"), [(0, "release-a"), (60, "release-b")])
def test_animals_whose_time_runs_short_come_before_what_is_planned_sooner(
    slower_min: int, first: str
) -> None:
    """The second group has 100 minutes less: in time where the day is, too short where it runs an hour late."""
    own: dict[str, object] = {"people": ("ines",), "day": "move"}
    plan = snapshot()
    tasks = (
        planned("shut", 0, 10, number=1, **own),
        planned("release-a", 100, 30, number=2, **own),
        planned("release-b", 130, 30, number=3, **own),
    )
    stay = replace(
        plan.stays[0], shut_task="shut", shut_edge="start", shut=T0, places=(), in_vehicle_min=None
    )
    stays = tuple(
        replace(
            stay, group=group, name=group, open_task=f"release-{group}", open_edge="finish",
            opened=T0 + at, safe_low_min=low, containers=((number, 1),),
        )
        for group, at, low, number in (("a", 130, 300, "B1"), ("b", 160, 200, "B2"))
    )  # fmt: skip
    plan = replace(plan, tasks=tasks, stays=stays, waits={one.id: ("shut",) for one in tasks[1:]}, gaps=())
    records = (Begun(at=T0, task="shut"), Done(at=T0 + 10, task="shut"))
    found = next_up(plan, state_of(entries(*records)), T0 + 100 + slower_min)
    assert {one.stay.group: (one.spare_min or 0) < 0 for one in found.travelling} == {
        "a": False,
        "b": slower_min > 0,
    }
    (ines,) = (turn for turn in found.first if turn.person == "ines")
    assert (ines.item.task.id, ines.ready) == (first, True)


def test_nobody_is_sent_to_anything_before_their_day_begins() -> None:
    """Tomas comes at 30; what he could do sooner waits until then, and so does who is to do it with him."""
    pack = planned("pack", 120, 10, people=("tom",), number=7)
    lift = planned("lift", 45, 5, people=("ines", "tom"), number=8)
    plan = replace(snapshot(), tasks=(*snapshot().tasks, pack, lift))
    drawn = [Done(at=T0 + 5, task="draw-water")]

    def asked(now: int, *records: Record):  # type: ignore[no-untyped-def]
        found = next_up(plan, state_of(entries(*drawn, *records)), T0 + now)
        return found.coming, {
            turn.person: (turn.item.task.id, turn.item.planned - T0) for turn in found.first
        }

    assert asked(10) == ({"tom": T0 + 30}, {"ines": ("catch-fish", 30), "tom": ("catch-fish", 30)})
    # he has come sooner, and is at something
    begun = Begun(at=T0 + 8, task="pack")
    assert asked(10, begun) == ({}, {"ines": ("catch-fish", 30), "tom": ("pack", 120)})
    assert asked(30)[0] == {}
    # the day before nobody is to come today
    eve = next_up(plan, state_of(()), T0 - DAY)
    assert eve.coming == {}


def test_what_is_through_before_it_is_planned_holds_nothing_back() -> None:
    tied = replace(
        snapshot(),
        waits={"catch-fish": ("draw-water",)},
        gaps=(Tie("draw-water", "catch-fish", gap_min=20),),
    )
    for done, holds in ((5, ()), (15, ("draw-water",))):
        found = next_up(tied, state_of(entries(Done(at=T0 + done, task="draw-water"))), T0 + 16)
        for turn in (one for one in found.turns if one.item.task.id == "catch-fish"):
            assert turn.waits
            assert tuple(wait.before.id for wait in turn.holding) == holds
