"""Whatever happens to a plan, its calendar keeps the rules, and whatever the earlier calendar is, nothing breaks."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import icalendar
from hypothesis import given, settings
from hypothesis import strategies as st

from moveplan.errors import OutputError
from moveplan.network.task import State
from moveplan.outputs.calendar.event import Alarm, Event, Timed, Words
from moveplan.outputs.calendar.export import CalendarExport, calendar_bytes
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.calendar.spelling import text
from moveplan.outputs.calendar.write import event_component
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.wording.escape import clean
from tests.outputs.calendar.rules import DURATION, faults, faults_between, parsed
from tests.outputs.calendar.scene import DAY, NOW, Item, export, moving, outlook

ZONES = (
    "Europe/Dublin",
    "America/New_York",
    "Australia/Sydney",
    "Africa/Casablanca",
    "Asia/Kathmandu",
    "UTC",
)
TEXTS = st.text(max_size=120) | st.text("\\,;:\r\n \t🐠é\u2028", max_size=200)


@st.composite
def outlooks(draw: st.DrawFn, now: int) -> Outlook:
    """Some of the tasks, each on some date, under some title and in some state."""
    rows: list[Item] = []
    for row in draw(st.lists(st.sampled_from(moving()), min_size=1, unique_by=lambda row: row.task.id)):
        moved = row.moved(
            draw(st.sampled_from([0, 15, 3 * DAY, -2 * DAY, 215 * DAY]) | st.integers(-DAY, 400 * DAY))
        )
        title = draw(st.just(row.task.title) | TEXTS)
        rows.append(replace(moved, task=replace(row.task, title=title, steps=(draw(TEXTS),))))
    states = {row.task.id: draw(st.sampled_from(State)) for row in rows if draw(st.booleans())}
    zone = ZoneInfo(draw(st.sampled_from(ZONES)))
    return outlook(rows, states=states, now=now, zone=zone, title=draw(TEXTS))


@st.composite
def lives(draw: st.DrawFn) -> list[Outlook]:
    gaps = draw(st.lists(st.sampled_from([0, 1, DAY, 40 * DAY]), min_size=1, max_size=3))
    return [draw(outlooks(NOW + sum(gaps[:n]))) for n, _ in enumerate(gaps)]


OPTIONS = st.builds(
    CalendarOptions,
    alarms=st.booleans(), private=st.booleans(), addresses=st.booleans(), links=st.booleans(),
    moving_day=st.booleans(), todos=st.just(True), name=st.booleans(),
)  # fmt: skip


def read_by_the_library(seen: Outlook, before: CalendarExport, options: CalendarOptions) -> CalendarExport:
    """Build upon a file in which no item is spelled in our octets: an editor changed its line ends."""
    plain = [data.replace(b"\r\n", b"\n") if data else None for data in (before.data, before.todos)]
    return calendar_bytes(seen, plain[0], options, plain[1])


@settings(max_examples=60, deadline=None)
@given(lives(), OPTIONS)
def test_every_life_keeps_the_rules(life: list[Outlook], options: CalendarOptions) -> None:
    before: CalendarExport | None = None
    for seen in life:
        earlier = (before.data, before.todos) if before else (None, None)
        after = calendar_bytes(seen, earlier[0], options, earlier[1])
        now = datetime.fromtimestamp(seen.now * 60, UTC)
        assert faults(after.data) == []
        assert faults(after.todos or b"") == []
        if before:
            assert faults_between(before.data, after.data, now) == []
            assert faults_between(before.todos or b"", after.todos or b"", now) == []
            assert read_by_the_library(seen, before, options) == after
        again = calendar_bytes(seen, after.data, options, after.todos)
        assert (again.data, again.todos) == (after.data, after.todos)
        counts = after.counts
        total = counts.new + counts.moved + counts.changed + counts.cancelled + counts.unchanged
        assert total == len(parsed(after.data).items)
        before = after


FIRST = export(outlook()).data


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(FIRST)), st.integers(0, 60), st.binary(max_size=30))
def test_a_damaged_earlier_calendar_is_refused_or_gives_a_good_one(at: int, length: int, new: bytes) -> None:
    damaged = FIRST[:at] + new + FIRST[at + length :]
    try:
        after = calendar_bytes(outlook(), damaged, CalendarOptions())
    except OutputError:
        return
    assert faults(after.data) == []


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=200))
def test_anything_else_is_never_built_upon(earlier: bytes) -> None:
    try:
        calendar_bytes(outlook(), earlier, CalendarOptions())
    except OutputError as error:
        assert str(error).startswith("the earlier calendar.ics cannot be built upon: ")  # noqa: PT017 - any text may do
    else:
        raise AssertionError(earlier)


@settings(max_examples=200, deadline=None)
@given(TEXTS | st.text("\\nN,", max_size=12))
def test_any_text_comes_back_from_a_line(words: str) -> None:
    cleaned = clean(words)
    event = icalendar.Event()
    event.add("SUMMARY", text(cleaned))
    event.add("CATEGORIES", text(cleaned))
    event.add("X-TITLE", text(cleaned), parameters={"VALUE": "TEXT"})

    read = icalendar.Event.from_ical(event.to_ical())

    assert str(read["SUMMARY"]) == str(read["X-TITLE"]) == cleaned
    assert list(map(str, read.get("CATEGORIES"))) == [cleaned]


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 10**7))
def test_alarms_have_the_form_of_the_standard_and_the_right_length(before_min: int) -> None:
    when = Timed(0, 60, ZoneInfo("UTC"))
    event = Event(key="k", uid="u", when=when, words=Words("a"), alarm=Alarm("a", before_min))
    (line,) = [line for line in event_component(event).content_lines() if line.startswith("TRIGGER")]
    trigger = line.removeprefix("TRIGGER:")
    assert DURATION.fullmatch(trigger)

    days, _, clock = trigger.lstrip("-").removeprefix("P").partition("T")
    hours, _, rest = clock.rpartition("H")
    assert int(days.rstrip("D") or 0) * DAY + int(hours or 0) * 60 + int(rest.rstrip("M") or 0) == before_min
    assert trigger.startswith("-") == (before_min > 0)
