from __future__ import annotations

import pytest

from moveplan.outputs.calendar.lines import (
    Component,
    Property,
    UnreadableError,
    read,
    text_of,
    text_property,
    written,
)


@pytest.mark.parametrize(
    ("text", "escaped"),
    [
        ("plain: text", "plain: text"),
        ("a,b;c", r"a\,b\;c"),
        ("back\\slash", r"back\\slash"),
        ("two\nlines", r"two\nlines"),
        ("\\n", r"\\n"),
        ("\\,", r"\\\,"),
        ("", ""),
    ],
)
def test_text_is_escaped_and_comes_back(text: str, escaped: str) -> None:
    prop = text_property("SUMMARY", text)

    assert prop.value == escaped
    assert text_of(prop) == text


def test_capital_n_is_a_line_end_too() -> None:
    assert text_of(Property("SUMMARY", r"a\Nb")) == "a\nb"


@pytest.mark.parametrize("letter", ["x", "é", "漢", "🐠"])
@pytest.mark.parametrize("length", range(60, 90))
def test_lines_are_folded_at_75_octets_between_characters(letter: str, length: int) -> None:
    component = Component("VEVENT", (Property("SUMMARY", letter * length),))

    lines = written(component).split(b"\r\n")

    assert all(len(line) <= 75 for line in lines)
    assert all(line.decode().isprintable() for line in lines)
    assert len(lines) == 4 or len(lines[1]) > 75 - len(letter.encode())
    assert read(written(component)) == component


def test_a_component_with_parts_comes_back() -> None:
    inner = Component("VALARM", (Property("TRIGGER", "-PT5M"),))
    event = Component(
        "VEVENT", (Property("DTSTART", "20270301T080000", (("TZID", '"a:b"'),)),), (inner, inner)
    )
    calendar = Component("VCALENDAR", (Property("VERSION", "2.0"),), (event,))

    assert read(written(calendar)) == calendar


def test_line_ends_of_editors_a_byte_order_mark_and_lower_case_are_read() -> None:
    stream = b"\xef\xbb\xbfbegin:vcalendar\nversion;x=1:2\n .0\n\nend:vcalendar\n"

    assert read(stream) == Component("VCALENDAR", (Property("VERSION", "2.0", (("X", "1"),)),))


def test_a_control_character_is_not_written() -> None:
    with pytest.raises(ValueError, match=r"'SUMMARY:a\\rb' holds a control character"):
        written(Component("VEVENT", (Property("SUMMARY", "a\rb"),)))


@pytest.mark.parametrize(
    ("stream", "message"),
    [
        (b"", "it holds 0 calendars instead of one"),
        (b"\xff\xfe", "it is not UTF-8 text (octet 0)"),
        (b"BEGIN:VCALENDAR\r\nhello\r\nEND:VCALENDAR", "line 2 is not a content line"),
        (b"BEGIN:VCALENDAR\r\nX;=:1\r\nEND:VCALENDAR", "line 2 is not a content line"),
        (b"BEGIN:VCALENDAR\r\nX:a\x00\r\nEND:VCALENDAR", "line 2 is not a content line"),
        (b"BEGIN:VCALENDAR\r\nX:a\rb\r\nEND:VCALENDAR", "line 2 is not a content line"),
        (b"VERSION:2.0", "line 1 stands outside of any component"),
        (b"END:VCALENDAR", "line 1 stands outside of any component"),
        (b"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nEND:VCALENDAR", "line 3 ends VCALENDAR inside VEVENT"),
        (b"BEGIN:VCALENDAR\r\nVERSION:2", "the end of VCALENDAR is missing"),
        (b"BEGIN:A\nEND:A\nBEGIN:A\nEND:A", "it holds 2 calendars instead of one"),
    ],
)
def test_what_is_no_calendar_is_told(stream: bytes, message: str) -> None:
    with pytest.raises(UnreadableError) as caught:
        read(stream)

    assert str(caught.value) == message


def test_a_long_line_of_parameters_is_refused_quickly() -> None:
    with pytest.raises(UnreadableError, match="line 1 is not a content line"):
        read(b"X" + b";A=b" * 50_000)


def test_first_and_value() -> None:
    component = Component("VEVENT", (Property("A", "1"), Property("A", "2")))

    assert component.first("A") == Property("A", "1")
    assert (component.value("A"), component.first("B"), component.value("B")) == ("1", None, "")
