from __future__ import annotations

from datetime import timedelta

import icalendar
import pytest
from icalendar import vDuration, vText

from moveplan.outputs.calendar.spelling import KEY, respelled, text, told, utc


@pytest.mark.parametrize(
    ("words", "escaped"),
    [
        ("plain: text", b"plain: text"),
        ("a,b;c", rb"a\,b\;c"),
        ("back\\slash", rb"back\\slash"),
        ("two\nlines\tand a tab", b"two\\nlines\tand a tab"),
        ("\\n", rb"\\n"),
        ("C:\\New, \\\\Network", rb"C:\\New\, \\\\Network"),
        ("\\N", rb"\\N"),
        ("", b""),
    ],
)
def test_text_is_escaped_and_comes_back(words: str, escaped: bytes) -> None:
    event = icalendar.Event()
    event.add("SUMMARY", text(words))

    assert text(words).to_ical() == escaped
    assert str(icalendar.Event.from_ical(event.to_ical())["SUMMARY"]) == words


def test_the_library_alone_breaks_a_line_at_a_backslash_and_a_capital_n() -> None:
    # If this fails, the library has mended it, and the guard in spelling.py can go.
    assert vText("C:\\New").to_ical() == rb"C:\new"


@pytest.mark.parametrize("words", ["a\rb", "\x00", "\x0b", "\x1b[0m", "\x7f", "\ud800"])
def test_what_breaks_a_line_or_has_no_octets_is_refused(words: str) -> None:
    with pytest.raises(ValueError) as caught:
        text(words)

    assert str(caught.value) == f"{words!r} holds a character that a calendar cannot"


@pytest.mark.parametrize("letter", ["x", "é", "漢", "🐠", "\\", ","])
@pytest.mark.parametrize("length", range(60, 90))
def test_lines_are_folded_at_75_octets_between_characters(letter: str, length: int) -> None:
    event = icalendar.Event()
    event.add("SUMMARY", text(letter * length))

    lines = event.to_ical().split(b"\r\n")

    assert all(len(line) <= 75 for line in lines)
    assert all(line.decode().isprintable() for line in lines)
    assert str(icalendar.Event.from_ical(event.to_ical())["SUMMARY"]) == letter * length


def made() -> icalendar.Event:
    event = icalendar.Event()
    event.add("SUMMARY", text("C:\\New"))
    event.add("CATEGORIES", text("a, \\Nb"))
    event.add("RELATED-TO", "u-2", parameters=icalendar.Parameters(GAP=vDuration(timedelta(hours=1))))
    event.add("DTSTART", utc(0))
    event.add(KEY, text("k;1"), parameters={"VALUE": "TEXT"})
    alarm = icalendar.Alarm()
    alarm.add("TRIGGER", timedelta(days=-1))
    event.add_component(alarm)
    return event


def test_what_was_made_and_what_was_read_tell_the_same() -> None:
    assert told(icalendar.Event.from_ical(made().to_ical())) == told(made())


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"GAP=PT1H", b"GAP=PT2H"),
        (b"a\\,", b"a\\;"),
        (b"-P1D", b"-P2D"),
        (b"DTSTART:19700101T000000Z", b"DTSTART;TZID=Europe/London:19700101T010000"),
        (b"VALARM", b"X-ALARM"),
        (b"END:VEVENT", b"PRIORITY:1\r\nEND:VEVENT"),
    ],
)
def test_every_change_is_told(old: bytes, new: bytes) -> None:
    assert old in made().to_ical()

    assert told(icalendar.Event.from_ical(made().to_ical().replace(old, new))) != told(made())


def test_stamps_are_not_told() -> None:
    stamped = made()
    stamped.add("SEQUENCE", 3)
    stamped.add("LAST-MODIFIED", utc(5))

    assert told(stamped) == told(made())


def test_what_was_read_is_written_as_it_was_made() -> None:
    read = icalendar.Event.from_ical(made().to_ical())
    made_alone = made()
    made_alone.subcomponents.clear()

    assert respelled(read, read.keys()).to_ical() == made_alone.to_ical()
    assert list(respelled(read, ("SUMMARY", "LOCATION"))) == ["SUMMARY"]
