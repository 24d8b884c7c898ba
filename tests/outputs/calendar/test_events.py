"""Which event a task becomes, and what it says."""

from __future__ import annotations

from datetime import date

import pytest

from moveplan.network.link import Link, Relation
from moveplan.network.task import Kind, State
from moveplan.outputs.calendar.event import Days, Event, Status, Timed
from moveplan.outputs.calendar.events import events
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.calendar.source import Source
from moveplan.outputs.calendar.words import Wording
from moveplan.outputs.outlook import Outlook
from moveplan.risk.summary import StartBy
from tests.outputs.calendar.scene import DAY, DUBLIN, NOW, at, item, moving, outlook


def made(seen: Outlook, options: CalendarOptions | None = None) -> dict[str, Event]:
    found = events(Source(seen, options or CalendarOptions(), Wording()))
    by_key = {event.key: event for event in found}
    assert len(by_key) == len(found)
    return by_key


ALL = made(outlook())


def test_work_is_timed_blocks_time_and_rings_once() -> None:
    event = ALL["mix-water/1"]

    assert event.when == Timed(at("2027-03-06 09:00"), at("2027-03-06 12:00"), DUBLIN)
    assert (event.busy, event.status) == (True, Status.CONFIRMED)
    assert event.alarm is not None
    assert event.alarm.before_min == 30


def test_travel_is_work() -> None:
    assert ALL["drive/1"].busy


def test_a_rest_has_its_hour_and_rings_for_nobody() -> None:
    meal = item("meal", "2027-03-13 13:00", 30, kind=Kind.REST, people=("ines",), day="move")
    event = made(outlook((*moving(), meal)))["meal/1"]

    assert event.when == Timed(at("2027-03-13 13:00"), at("2027-03-13 13:30"), DUBLIN)
    assert (event.busy, event.alarm) == (False, None)


def test_a_long_wait_is_whole_days_that_block_nothing() -> None:
    event = ALL["let-stand/1"]

    assert event.when == Days(date(2027, 3, 6), date(2027, 3, 13))
    assert (event.busy, event.alarm) == (False, None)


@pytest.mark.parametrize(
    ("start", "minutes", "last"),
    [
        ("2027-03-06 00:00", DAY, date(2027, 3, 7)),  # ends at midnight: that day is free
        ("2027-03-06 00:01", DAY, date(2027, 3, 8)),
        ("2027-03-27 12:00", DAY, date(2027, 3, 29)),  # over a night of 23 hours
        ("2027-10-30 00:00", 2 * DAY + 60, date(2027, 11, 1)),  # a day of 25 hours
    ],
)
def test_whole_days_are_those_that_the_wait_touches(start: str, minutes: int, last: date) -> None:
    event = made(outlook([item("wait", start, minutes, kind=Kind.WAIT)]))["wait/1"]

    assert event.when == Days(date.fromisoformat(start[:10]), last)


def test_a_short_wait_is_timed_and_blocks_nothing() -> None:
    event = made(outlook([item("wait", "2027-03-06 09:00", DAY - 1, kind=Kind.WAIT)]))["wait/1"]

    assert event.when == Timed(at("2027-03-06 09:00"), at("2027-03-07 08:59"), DUBLIN)
    assert (event.busy, event.alarm) == (False, None)


def test_a_hold_point_is_a_quarter_of_an_hour_and_not_firm_until_it_is_met() -> None:
    event = ALL["go-or-no-go/1"]

    assert event.when == Timed(at("2027-03-12 20:00"), at("2027-03-12 20:15"), DUBLIN)
    assert (event.busy, event.status) == (False, Status.TENTATIVE)
    assert event.alarm is not None
    assert event.alarm.before_min == 60
    met = made(outlook(states={"go-or-no-go": State.COMPLETED}))["go-or-no-go/1"]
    assert (met.status, met.alarm) == (Status.CONFIRMED, None)


def test_what_takes_no_time_is_a_quarter_of_an_hour() -> None:
    event = ALL["settled/1"]

    assert event.when == Timed(at("2027-03-13 20:00"), at("2027-03-13 20:15"), DUBLIN)
    assert not event.busy


def test_a_pause_and_recurring_care_make_one_event_each_time() -> None:
    assert [key for key in ALL if key.startswith(("pack", "test"))] == [
        "pack-trays/1", "pack-trays/2", "test-water/1", "test-water/2", "test-water/3",
    ]  # fmt: skip
    assert ALL["test-water/3"].words.title == "Test water (3 of 3)"
    assert ALL["pack-trays/2"].words.title == "Pack trays (2 of 2)"


def test_a_latest_start_is_a_short_event_that_rings_the_day_before() -> None:
    event = ALL["start-by:mix-water"]

    assert event.when == Timed(NOW + 20 * DAY, NOW + 20 * DAY + 15, DUBLIN)
    assert event.words.title == "Latest start: Mix water"
    assert event.words.notes == (
        "Begun by 2027-02-21 09:00, it is ready in time in 90 % of the runs; "
        "the plan begins it at 2027-03-06 09:00.\nTask: mix-water"
    )
    assert event.alarm is not None
    assert event.alarm.before_min == DAY


@pytest.mark.parametrize("state", [State.IN_PROCESS, State.COMPLETED, State.CANCELLED])
def test_what_has_begun_needs_no_latest_start(state: State) -> None:
    assert "start-by:mix-water" not in made(outlook(states={"mix-water": state}))


def test_on_a_moving_day_only_the_first_work_and_the_hold_points_ring() -> None:
    rows = [
        item("unload", "2027-03-13 13:00", 60, day="move", people=("ines",)),
        item("pack-tubs", "2027-03-13 08:00", 60, day="move", people=("tom",)),
        item("catch-fish", "2027-03-13 08:00", 60, day="move", people=("ines",)),
        item("smell-right", "2027-03-13 07:00", 10, day="move", kind=Kind.HOLD_POINT),
        item("drip", "2027-03-13 06:00", 60, day="move", kind=Kind.WAIT),
        item("all-home", "2027-03-13 16:00", 10, day="move", kind=Kind.HOLD_POINT),
        item("fall-back", "2027-03-14 08:00", 60, day="second"),
        item("sweep", "2027-03-13 17:00", 60),
    ]

    def ringing(states: dict[str, State], **options: str) -> set[str]:
        found = made(outlook(rows, states=states), CalendarOptions(**options))  # type: ignore[arg-type]
        return {event.key for event in found.values() if event.alarm}

    hold_points = {"smell-right/1", "all-home/1"}
    assert ringing({}) == {"catch-fish/1", "fall-back/1", "sweep/1"} | hold_points
    assert ringing({}, person="tom") == {"pack-tubs/1"}
    # Once the first is done the next does not take over: it is under way by then.
    assert ringing({"catch-fish": State.COMPLETED}) == {"fall-back/1", "sweep/1"} | hold_points


def test_what_is_done_has_a_tick_and_does_not_ring() -> None:
    event = made(outlook(states={"mix-water": State.COMPLETED}))["mix-water/1"]

    assert (event.words.title, event.alarm, event.status) == ("✓ Mix water", None, Status.CONFIRMED)


def test_what_was_dropped_is_no_event() -> None:
    assert "mix-water/1" not in made(outlook(states={"mix-water": State.CANCELLED}))


def test_notes_tell_steps_people_order_and_care() -> None:
    assert ALL["mix-water/1"].words.notes == (
        "1. Fill the 60 l tub; salt, 35 psu\n2. Heat to 25 °C\nWho: Ines Farrow, Tom Reilly\nTask: mix-water"
    )
    assert ALL["drive/1"].words.notes == (
        "Who: Tom Reilly\n"
        "Vehicle: Hired long van\n"
        "Gear: 2 × Lidded tub\n"
        "Way: Mill Terrace to Harbour Lane\n"
        "Begins at least 12 h after and at most 3 d after the end of: Pack trays\n"
        "Begins at most 1 d after the end of: Go or no go\n"
        "Take care: Two people lift a tub; bend the knees.\n"
        "Task: drive"
    )
    assert ALL["let-stand/1"].words.notes == (
        "From 2027-03-06 12:00 to 2027-03-12 12:00.\nBegins after the end of: Mix water\nTask: let-stand"
    )
    assert ALL["test-water/2"].words.notes == (
        "Time 2 of 3.\nWho: Ines Farrow\nEnds after the end of: Drive\nTask: test-water"
    )
    assert ALL["pack-trays/2"].words.notes == (
        "Part 2 of 2; the work goes on where the part before left off.\nWho: Tom Reilly\nTask: pack-trays"
    )


@pytest.mark.parametrize(
    ("relation", "least", "most", "words"),
    [
        (Relation.FINISHTOSTART, 0, None, "Begins after the end of: A"),
        (Relation.FINISHTOSTART, 90, None, "Begins at least 1 h 30 min after the end of: A"),
        (Relation.FINISHTOSTART, -1500, None, "Begins no earlier than 1 d 1 h before the end of: A"),
        (Relation.STARTTOSTART, 0, 45, "Begins after and at most 45 min after the start of: A"),
        (Relation.STARTTOFINISH, None, 2880, "Ends at most 2 d after the start of: A"),
        (Relation.FINISHTOSTART, None, 0, "Begins at most 0 min after the end of: A"),
        (
            Relation.FINISHTOFINISH,
            -120,
            -60,
            "Ends no earlier than 2 h before and at most 1 h before the end of: A",
        ),
    ],
)
def test_order_in_words(relation: Relation, least: int | None, most: int | None, words: str) -> None:
    rows = [item("a", "2027-03-06 09:00", 60), item("b", "2027-03-06 10:00", 60)]
    link = Link("a", "b", relation, least, most)

    assert made(outlook(rows, links=(link,)))["b/1"].words.notes == f"{words}\nTask: b"


def test_a_link_without_gaps_says_nothing() -> None:
    rows = [item("a", "2027-03-06 09:00", 60), item("b", "2027-03-06 10:00", 60)]

    assert made(outlook(rows, links=(Link("a", "b", min_gap_min=None),)))["b/1"].words.notes == "Task: b"


def test_places_are_told_with_their_address() -> None:
    assert ALL["mix-water/1"].words.location == "Mill Terrace, 3 Mill Terrace, Ballycove"
    assert ALL["mix-water/1"].words.category == "Water"


def test_no_addresses_tells_no_place() -> None:
    quiet = made(outlook(), CalendarOptions(addresses=False))

    assert [
        event.key for event in quiet.values() if event.words.location or "Way:" in event.words.notes
    ] == []


def test_no_alarms() -> None:
    assert [
        event.key for event in made(outlook(), CalendarOptions(alarms=False)).values() if event.alarm
    ] == []


def test_private() -> None:
    assert all(event.private for event in made(outlook(), CalendarOptions(private=True)).values())
    assert not any(event.private for event in ALL.values())


def test_links_only_where_wanted() -> None:
    assert not any(event.successors for event in ALL.values())
    linked = made(outlook(), CalendarOptions(links=True))
    assert linked["mix-water/1"].successors[0].uid == linked["let-stand/1"].uid


def test_the_same_link_twice_is_told_once_and_none_leaves_the_selection() -> None:
    links = (Link("pack-trays", "drive"), Link("pack-trays", "drive"), Link("mix-water", "drive"))
    options = CalendarOptions(links=True, person="tom", phase="Packing")

    assert len(made(outlook(links=links), CalendarOptions(links=True))["pack-trays/2"].successors) == 1
    assert made(outlook(links=links), options)["pack-trays/2"].successors == ()


@pytest.mark.parametrize(
    ("options", "tasks"),
    [
        (
            CalendarOptions(person="tom"),
            {"start-by:mix-water", "mix-water/1", "pack-trays/1", "pack-trays/2", "drive/1"},
        ),
        (CalendarOptions(phase="Packing"), {"soak-pads/1", "pack-trays/1", "pack-trays/2"}),
        (CalendarOptions(moving_day=True), {"drive/1", "settled/1"}),
        (CalendarOptions(person="ines", phase="Water"), {"start-by:mix-water", "mix-water/1"}),
        (CalendarOptions(person="ines", moving_day=True), set()),
    ],
)
def test_selections(options: CalendarOptions, tasks: set[str]) -> None:
    assert made(outlook(), options).keys() == tasks


def test_a_task_without_stretches_stands_from_start_to_finish() -> None:
    seen = outlook([item("a", "2027-03-06 09:00", 60)])
    (placement,) = seen.schedule.placements
    bare = type(placement)(placement.task, placement.start, placement.finish, ())
    object.__setattr__(seen.schedule, "placements", (bare,))

    assert made(seen)["a/1"].when == Timed(at("2027-03-06 09:00"), at("2027-03-06 10:00"), DUBLIN)


def test_long_titles_are_cut_and_empty_ones_replaced() -> None:
    rows = [
        item("long", "2027-03-06 09:00", 60, title="x" * 500),
        item("empty", "2027-03-06 09:00", 60, title="\n\x00"),
    ]
    found = made(outlook(rows, start_by=(StartBy("empty", NOW, 0.5),)))

    assert found["long/1"].words.title == "x" * 199 + "…"
    assert found["empty/1"].words.title == "empty"
    assert found["start-by:empty"].words.title == "Latest start: empty"


def test_the_scene_has_every_kind() -> None:
    """Rests apart, whose test adds one: the day of the scene is too short to need any."""
    assert {row.task.kind for row in moving()} == set(Kind) - {Kind.REST}
