"""The rules of the standards over the bytes of a calendar, read here without any code of the program.

Every rule is one function that yields faults; its docstring names the section. ``faults`` runs them all;
``faults_between`` compares two exports of one plan.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

Faults = Iterator[str]

TEXTS = ("SUMMARY", "DESCRIPTION", "LOCATION", "NAME", "X-WR-CALNAME", "TZNAME", "X-MOVEPLAN-KEY")
UTC_TIME = re.compile(r"\d{8}T\d{6}Z")
LOCAL_TIME = re.compile(r"\d{8}T\d{6}")
DURATION = re.compile(r"[+-]?P(?:\d+W|(?=\d|T\d)(?:\d+D)?(?:T(?=\d)(?:\d+H)?(?:\d+M)?(?:\d+S)?)?)")
UNESCAPED = re.compile(r"(?<!\\)(?:\\\\)*[,;]|\\(?![\\;,nN])(?<!\\\\)")


@dataclass(slots=True)
class Line:
    name: str
    params: dict[str, str]
    value: str


@dataclass(slots=True)
class Block:
    name: str
    lines: list[Line] = field(default_factory=list)
    blocks: list[Block] = field(default_factory=list)

    def all(self, name: str) -> list[Line]:
        return [line for line in self.lines if line.name == name]

    def one(self, name: str) -> Line:
        (line,) = self.all(name)
        return line

    def value(self, name: str, default: str = "") -> str:
        found = self.all(name)
        return found[0].value if found else default

    @property
    def items(self) -> list[Block]:
        return [block for block in self.blocks if block.name in ("VEVENT", "VTODO")]

    @property
    def zones(self) -> list[Block]:
        return [block for block in self.blocks if block.name == "VTIMEZONE"]


def parsed(data: bytes) -> Block:
    """Plain reading of well-formed lines, by RFC 5545, section 3.1."""
    root = Block("")
    stack = [root]
    for text in data.decode().replace("\r\n ", "").split("\r\n")[:-1]:
        head, value = re.findall(r'^((?:[^":]|"[^"]*")*):(.*)$', text, re.DOTALL)[0]
        name, *params = re.findall(r'(?:[^";]|"[^"]*")+', head)
        if name == "BEGIN":
            stack.append(Block(value))
            stack[-2].blocks.append(stack[-1])
        elif name == "END":
            assert stack.pop().name == value
        else:
            stack[-1].lines.append(Line(name, dict(param.split("=", 1) for param in params), value))
    assert stack == [root]
    (calendar,) = root.blocks
    return calendar


def instant(line: Line) -> datetime:
    if line.params.get("VALUE") == "DATE":
        return datetime.strptime(line.value, "%Y%m%d").replace(tzinfo=UTC)
    zone = ZoneInfo(line.params["TZID"]) if "TZID" in line.params else UTC
    return datetime.strptime(line.value.rstrip("Z"), "%Y%m%dT%H%M%S").replace(tzinfo=zone).astimezone(UTC)


# --- the stream ---------------------------------------------------------------------------------------------


def lines_end_with_crlf(data: bytes) -> Faults:
    """RFC 5545, 3.1: content lines are delimited by CRLF."""
    if not data.endswith(b"\r\n"):
        yield "3.1 the last line does not end with CRLF"
    if b"\n" in data.replace(b"\r\n", b"") or b"\r" in data.replace(b"\r\n", b""):
        yield "3.1 a bare CR or LF"


def lines_are_short(data: bytes) -> Faults:
    """RFC 5545, 3.1: no more than 75 octets, excluding the line break."""
    yield from ("3.1 a line over 75 octets" for line in data.split(b"\r\n") if len(line) > 75)


def folds_keep_characters_whole(data: bytes) -> Faults:
    """RFC 5545, 3.1: folding between characters; 3.1.4: UTF-8; no byte order mark."""
    if data.startswith(b"\xef\xbb\xbf"):
        yield "3.1.4 a byte order mark"
    for line in data.split(b"\r\n"):
        try:
            line.decode()
        except UnicodeDecodeError:
            yield "3.1 a fold inside a character"


def no_controls(data: bytes) -> Faults:
    """RFC 5545, 3.1: CONTROL characters are not allowed in values."""
    if re.search(rb"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", data):
        yield "3.1 a control character"


STREAM_RULES: tuple[Callable[[bytes], Faults], ...] = (
    lines_end_with_crlf, lines_are_short, folds_keep_characters_whole, no_controls,
)  # fmt: skip


# --- the calendar -------------------------------------------------------------------------------------------


def calendar_properties(calendar: Block) -> Faults:
    """RFC 5545, 3.6, 3.7: PRODID and VERSION once, at least one component; RFC 7986, 5: others at most once."""
    for name in ("PRODID", "VERSION"):
        if len(calendar.all(name)) != 1:
            yield f"3.6 {name} must stand once"
    if calendar.value("VERSION") != "2.0":
        yield "3.7.4 VERSION is not 2.0"
    if not calendar.blocks:
        yield "3.6 no component"
    for name in ("CALSCALE", "UID", "LAST-MODIFIED", "NAME", "X-WR-CALNAME"):
        if len(calendar.all(name)) > 1:
            yield f"7986 5 {name} more than once"
    if calendar.all("LAST-MODIFIED") and not UTC_TIME.fullmatch(calendar.value("LAST-MODIFIED")):
        yield "7986 5.4 LAST-MODIFIED is not UTC"


def invites_nobody(calendar: Block) -> Faults:
    """RFC 5546, 3.2.1 and RFC 4791, 4.1: without METHOD it is a snapshot, and it names no people."""
    if calendar.all("METHOD"):
        yield "4791 4.1 METHOD"
    for item in calendar.items:
        if item.all("ORGANIZER") or item.all("ATTENDEE"):
            yield "5546 3.2.1 people"


def texts_are_escaped(calendar: Block) -> Faults:
    """RFC 5545, 3.3.11: comma, semicolon and backslash are escaped, also in NAME (RFC 7986, 5.1)."""
    blocks = [calendar, *calendar.blocks, *(inner for block in calendar.blocks for inner in block.blocks)]
    for block in blocks:
        for line in block.lines:
            if line.name in TEXTS and UNESCAPED.search(line.value.replace("\\\\", "")):
                yield f"3.3.11 {line.name} is not escaped"


def required_properties(calendar: Block) -> Faults:
    """RFC 5545, 3.6.1, 3.6.2: UID and DTSTAMP once; DTSTART of an event once where there is no METHOD (3.8.2.4)."""
    for item in calendar.items:
        once = ("UID", "DTSTAMP", "SEQUENCE", "CREATED", "LAST-MODIFIED", "SUMMARY", "STATUS")
        for name in (*once, *(("DTSTART", "DTEND", "TRANSP") if item.name == "VEVENT" else ("DUE",))):
            if len(item.all(name)) != 1:
                yield f"3.6.1 {name} must stand once"
        if item.all("DURATION") or (item.name == "VTODO" and item.all("DTSTART")):
            yield "3.6.1 two ways to say when"
        if len(item.all("CLASS")) > 1 or len(item.all("DESCRIPTION")) > 1 or len(item.all("LOCATION")) > 1:
            yield "3.6.1 something more than once"


def uids_are_opaque_and_unique(calendar: Block) -> Faults:
    """RFC 7986, 5.3: shorter than 255 octets, letters, digits, hyphen; RFC 5545, 3.8.4.7: unique."""
    owners = [*calendar.items, *(alarm for item in calendar.items for alarm in item.blocks)]
    uids = [owner.value("UID") for owner in owners] + [line.value for line in calendar.all("UID")]
    for uid, times in Counter(uids).items():
        if not re.fullmatch(r"[A-Za-z0-9-]{1,254}", uid):
            yield f"7986 5.3 {uid!r} is no opaque UID"
        if times > 1:
            yield f"3.8.4.7 {uid} names two things"


def ends_come_after_starts(calendar: Block) -> Faults:
    """RFC 5545, 3.8.2.2: DTEND has the type of DTSTART, is local if and only if that is, and comes later."""
    for item in calendar.items:
        if item.name != "VEVENT":
            continue
        start, end = item.one("DTSTART"), item.one("DTEND")
        if start.params != end.params or len(start.value) != len(end.value):
            yield "3.8.2.2 DTEND of another type than DTSTART"
        elif not instant(start) < instant(end):
            yield "3.8.2.2 DTEND is not later than DTSTART"


def times_have_a_form(calendar: Block) -> Faults:
    """RFC 5545, 3.3.4, 3.3.5, 3.2.19: date, UTC, or local with TZID; never floating."""
    for item in calendar.items:
        for line in item.lines:
            if line.name not in ("DTSTART", "DTEND", "DUE"):
                continue
            if line.params.get("VALUE") == "DATE":
                good = bool(re.fullmatch(r"\d{8}", line.value)) and "TZID" not in line.params
            elif "TZID" in line.params:
                good = bool(LOCAL_TIME.fullmatch(line.value))
            else:
                good = bool(UTC_TIME.fullmatch(line.value))
            if not good:
                yield f"3.3.5 {line.name} has no good form"


def stamps_are_right(calendar: Block) -> Faults:
    """RFC 5545, 3.8.7: UTC; DTSTAMP equals LAST-MODIFIED without METHOD (3.8.7.2); SEQUENCE counts (3.8.7.4)."""
    for item in calendar.items:
        if not all(UTC_TIME.fullmatch(item.value(name)) for name in ("DTSTAMP", "CREATED", "LAST-MODIFIED")):
            yield "3.8.7 a stamp is not UTC"
        if item.value("DTSTAMP") != item.value("LAST-MODIFIED"):
            yield "3.8.7.2 DTSTAMP is not LAST-MODIFIED"
        if not item.value("CREATED") <= item.value("LAST-MODIFIED") <= calendar.value("LAST-MODIFIED", "9"):
            yield "3.8.7 stamps out of order"
        if not re.fullmatch(r"\d+", item.value("SEQUENCE")):
            yield "3.8.7.4 SEQUENCE is no count"


def states_are_known(calendar: Block) -> Faults:
    """RFC 5545, 3.8.1.11, 3.8.2.7, 3.8.1.3, 3.8.1.8, 3.8.2.1: the words and numbers that are allowed."""
    known = {
        "VEVENT": ("TENTATIVE", "CONFIRMED", "CANCELLED"),
        "VTODO": ("NEEDS-ACTION", "IN-PROCESS", "COMPLETED", "CANCELLED"),
    }
    for item in calendar.items:
        if item.value("STATUS") not in known[item.name]:
            yield "3.8.1.11 STATUS"
        if item.value("TRANSP", "OPAQUE") not in ("OPAQUE", "TRANSPARENT"):
            yield "3.8.2.7 TRANSP"
        if item.value("CLASS", "PUBLIC") not in ("PUBLIC", "PRIVATE", "CONFIDENTIAL"):
            yield "3.8.1.3 CLASS"
        if not 0 <= int(item.value("PERCENT-COMPLETE", "0")) <= 100:
            yield "3.8.1.8 PERCENT-COMPLETE"
        completed = item.value("COMPLETED")
        if bool(completed) != (item.value("STATUS") == "COMPLETED") or not UTC_TIME.fullmatch(
            completed or "00000000T000000Z"
        ):
            yield "3.8.2.1 COMPLETED"


def waits_and_cancelled_block_nothing(calendar: Block) -> Faults:
    """RFC 5545, 3.8.2.7: what takes nobody's time is TRANSPARENT; RFC 5546, 3.2.5: cancelled."""
    for item in calendar.items:
        off = item.value("STATUS") == "CANCELLED"
        days = item.name == "VEVENT" and item.one("DTSTART").params.get("VALUE") == "DATE"
        if item.name == "VEVENT" and (off or days) and item.value("TRANSP") != "TRANSPARENT":
            yield "3.8.2.7 blocks time"
        if off and (item.blocks or item.all("RELATED-TO")):
            yield "5546 3.2.5 a cancelled event rings or is linked"


def alarms_are_plain(calendar: Block) -> Faults:
    """RFC 5545, 3.6.6, 3.8.6.3 and RFC 9074, 4: one DISPLAY at most, not after the start, with a UID."""
    for item in calendar.items:
        if len(item.blocks) > 1:
            yield "3.6.6 more than one alarm"
        for alarm in item.blocks:
            names = sorted(line.name for line in alarm.lines)
            if names != ["ACTION", "DESCRIPTION", "TRIGGER", "UID"] or alarm.value("ACTION") != "DISPLAY":
                yield "3.6.6 not a plain DISPLAY alarm"
                continue
            trigger = alarm.one("TRIGGER")
            if (
                trigger.params
                or not re.fullmatch(r"-P.+|P0D", trigger.value)
                or not DURATION.fullmatch(trigger.value)
            ):
                yield "3.8.6.3 TRIGGER is not a time before the start"
            if item.one("DTSTART").params.get("VALUE") == "DATE":
                yield "3.8.6.3 an alarm on whole days"


def zones_are_complete(calendar: Block) -> Faults:
    """RFC 5545, 3.6.5, 3.2.19: one VTIMEZONE for each TZID, no other, each with its properties."""
    used = {line.params["TZID"] for item in calendar.items for line in item.lines if "TZID" in line.params}
    defined = [zone.value("TZID") for zone in calendar.zones]
    if calendar.items and sorted(used) != defined:
        yield "3.2.19 the zones defined are not those used"
    for zone in calendar.zones:
        if [line.name for line in zone.lines] != ["TZID"]:
            yield "3.6.5 a property that VTIMEZONE does not have"
        if "STANDARD" not in [block.name for block in zone.blocks]:
            yield "3.6.5 no STANDARD"
        for block in zone.blocks:
            yield from _observance(block)


def _observance(block: Block) -> Faults:
    if not LOCAL_TIME.fullmatch(block.value("DTSTART")) or block.one("DTSTART").params:
        yield "3.6.5 DTSTART is not local"
    if not all(
        re.fullmatch(r"[+-]\d{4}(\d{2})?", block.value(name)) for name in ("TZOFFSETFROM", "TZOFFSETTO")
    ):
        yield "3.6.5 no offsets"
    if block.all("RRULE") and block.all("RDATE"):
        yield "3.6.5 both a rule and dates"
    if any(
        line.name not in ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO", "TZNAME", "RRULE", "RDATE")
        for line in block.lines
    ):
        yield "3.6.5 a property that does not belong there"


def relations_hold(calendar: Block, known: frozenset[str] = frozenset()) -> Faults:
    """RFC 9253, 4 and 6: temporal relations in the predecessor only, to a UID in the file, GAP a duration."""
    uids = {item.value("UID") for item in calendar.items} | known
    pairs = set()
    for item in calendar.items:
        for line in item.all("RELATED-TO"):
            pairs.add((item.value("UID"), line.value))
            if line.params.get("RELTYPE") not in (
                "FINISHTOSTART",
                "STARTTOSTART",
                "FINISHTOFINISH",
                "STARTTOFINISH",
            ):
                yield "9253 4 RELTYPE"
            if not line.params.keys() <= {"RELTYPE", "GAP"} or not DURATION.fullmatch(
                line.params.get("GAP", "PT1H")
            ):
                yield "9253 6.2 GAP"
            if line.value not in uids:
                yield "9253 4 a relation to nothing"
    yield from ("9253 4 both directions" for one, other in pairs if (other, one) in pairs)


CALENDAR_RULES: tuple[Callable[[Block], Faults], ...] = (
    calendar_properties, invites_nobody, texts_are_escaped, required_properties, uids_are_opaque_and_unique,
    times_have_a_form, ends_come_after_starts, stamps_are_right, states_are_known, waits_and_cancelled_block_nothing,
    alarms_are_plain, zones_are_complete,
)  # fmt: skip


def faults(data: bytes, known: frozenset[str] = frozenset()) -> list[str]:
    """Every fault of a calendar; ``known`` are UIDs in neighbouring files."""
    found = [fault for rule in STREAM_RULES for fault in rule(data)]
    if not found:
        calendar = parsed(data)
        for rule in CALENDAR_RULES:
            new = list(rule(calendar))
            found += new
            if new and rule in (required_properties, times_have_a_form):
                return found  # the rules after these read what these ask for
        found += relations_hold(calendar, known)
    return found


# --- from one export to the next ----------------------------------------------------------------------------

STAMPS = ("DTSTAMP", "LAST-MODIFIED", "CREATED", "SEQUENCE")


def faults_between(old: bytes, new: bytes, now: datetime) -> list[str]:
    """Every fault of an update, by RFC 5546, 2.1.4 and 2.1.5, and RFC 5545, 3.8.7."""
    found = []
    after = {item.value("UID"): item for item in parsed(new).items}
    for before in parsed(old).items:
        item = after.get(before.value("UID"))
        if item is None:
            if (
                instant(before.all("DTEND")[0] if before.all("DTEND") else before.one("DUE"))
                + timedelta(days=30)
                >= now
            ):
                found.append("5546 3.2.5 an event vanished without being cancelled")
        else:
            found += _change_faults(before, item)
    return found


def _told(block: Block, names: Callable[[str], bool]) -> str:
    return str(
        sorted(
            (line.name, sorted(line.params.items()), line.value) for line in block.lines if names(line.name)
        )
    )


def _dates(block: Block) -> str:
    return _told(block, lambda name: name in ("DTSTART", "DTEND", "DUE", "RRULE", "EXDATE", "STATUS"))


def _all_but_stamps(block: Block) -> str:
    return _told(block, lambda name: name not in STAMPS) + str(block.blocks)


def _change_faults(before: Block, item: Block) -> Faults:
    rise = int(item.value("SEQUENCE")) - int(before.value("SEQUENCE"))
    if rise != (_dates(before) != _dates(item)):
        yield f"5546 2.1.4 SEQUENCE rises by {rise}"
    if before.value("CREATED") != item.value("CREATED"):
        yield "3.8.7.1 CREATED changes"
    if _all_but_stamps(before) == _all_but_stamps(item):
        if any(before.value(name) != item.value(name) for name in STAMPS):
            yield "3.8.7.3 stamps of an unchanged event change"
    elif not before.value("DTSTAMP") < item.value("DTSTAMP"):
        yield "5546 2.1.5 DTSTAMP does not rise with a change"
