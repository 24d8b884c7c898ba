"""Records of what happened beside the tasks: readings, dates, people, failures, containers, money."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal, InvalidOperation
from pathlib import Path

from moveplan.cli.recording.diary import open_diary
from moveplan.cli.recording.scribe import write, write_one
from moveplan.cli.terminal.paper import show_text
from moveplan.journal import records
from moveplan.journal.now.failure import Failed, Works
from moveplan.journal.now.next_up import next_up
from moveplan.journal.now.travelling import left_of
from moveplan.journal.records import Record
from moveplan.journal.taking.answers import reading_of
from moveplan.journal.taking.known import (
    Known,
    day_in,
    days_in,
    known_of,
    moment_in,
    refused,
    shift_in,
)
from moveplan.journal.taking.meant import person_meant, thing_meant, water_meant, where_meant
from moveplan.journal.taking.slip import MOVED, TENDED
from moveplan.journal.taking.vetting import undo_of
from moveplan.outputs.wording.journal import fill
from moveplan.times import to_local
from moveplan.units import Measure, QuantityError


def reading(plan: Path, what: str, said: str, water: str, at: str, now: str) -> None:
    """Write what was measured in which water, and say what follows from it."""
    write_one(plan, now, at, lambda moment, known: reading_of(what, said, moment, *water_meant(water, known)))
    _say_what_follows(plan, now)


def _say_what_follows(plan: Path, now_said: str) -> None:
    """Say what the last reading asks for, and when a cycle that runs is expected to be done."""
    diary = open_diary(plan, now_said)
    if not diary.state.accepted:
        return
    from moveplan.journal.waters.advice import advice_for
    from moveplan.journal.waters.contained import outside
    from moveplan.journal.waters.doubt import far_from
    from moveplan.journal.waters.ripening import ripening, runs, water_of

    snapshot = diary.snapshot()
    known = known_of(snapshot)
    last = next(
        entry.record for entry in reversed(diary.journal.entries) if isinstance(entry.record, records.Reading)
    )
    growing = any(
        runs(diary.state, one)
        for one, cycle in snapshot.cycles.items()
        if last.system in ("", water_of(one, cycle)) and not last.container
    )
    kept = diary.state.contained if last.container else diary.state.readings
    same = [one for one in kept if replace(last, at=one.at, value=one.value, said=one.said) == one]
    values = {
        "reading": last,
        "far": far_from(last, same),
        "advice": None
        if growing or last.container
        else advice_for(last, diary.state.readings, snapshot.policy),
        "outside": outside(last, snapshot) if last.container else None,
        "cycles": list(ripening(diary.state, snapshot.cycles)) if growing else [],
        "known": known,
    }
    show_text(fill("follows", known.zone, diary.now(known.zone), values))


def moved(plan: Path, what: str, to: str, now: str) -> None:
    """Write that a date which others set has moved."""
    if what == "dates":
        days = shift_in(to)
        _refuse_under_way(plan, now)
        write_one(plan, now, "", lambda moment, _: records.MovedDates(at=moment, days=days))
        _say_who_is_asked_again(plan, now)
    elif what in ("move-day", "fall-back-day"):
        day = day_in(to)
        write_one(plan, now, "", lambda moment, _: records.MovedDay(at=moment, what=what, day=day))
    elif what in ("access-from", "keys-back", "earliest-start"):
        write_one(
            plan,
            now,
            "",
            lambda moment, known: records.MovedMoment(at=moment, what=what, to=moment_in(to, known.zone)),
        )
    else:
        raise refused(
            f'"{what}" is no date that moves',
            "write access-from, keys-back, earliest-start, move-day or fall-back-day, or "
            'dates "+14 days" for all that go along',
        )


def _refuse_under_way(plan: Path, now_said: str) -> None:
    """Refuse to move the dates of animals that are in closed containers now."""
    diary = open_diary(plan, now_said)
    if not diary.state.accepted:
        return
    snapshot = diary.snapshot()
    now = diary.now(known_of(snapshot).zone)
    closed = [one for one in next_up(snapshot, diary.state, now).travelling if one.logged]
    if closed:
        names = ", ".join(dict.fromkeys(one.number or one.stay.name for one in closed))
        raise refused(
            f"animals are closed in now: {names}; this day cannot be moved",
            "say what holds it up (moveplan record PLAN fails WHAT --until TIME), or log that they were let out",
        )


def _say_who_is_asked_again(plan: Path, now_said: str) -> None:
    """Say whom the dates were promised to: nobody has agreed to the new ones yet."""
    diary = open_diary(plan, now_said)
    if diary.state.accepted:
        snapshot = diary.snapshot()
        zone = known_of(snapshot).zone
        day = min((task.start for task in snapshot.tasks if task.day), default=snapshot.tasks[0].start)
        today = to_local(diary.now(zone), zone).date()
        notice = max((to_local(day, zone).date() - today).days, 0)
        values = {"plan": snapshot, "file": str(plan), "notice": notice}
        show_text(fill("asked_again", zone, diary.now(zone), values))


def out(plan: Path, person: str, days: str, now: str, *, back: bool = False) -> None:
    """Write that somebody is not there on some days, or is there after all; without days, today."""
    kind = records.Back if back else records.Out

    def made(moment: int, known: Known) -> Record:
        first, last = days_in(days) if days else (to_local(moment, known.zone).date(),) * 2
        return kind(at=moment, person=person_meant(person, known.people), first=first, last=last)

    write_one(plan, now, "", made)
    _say_ways_on(plan, now)


def vehicle(plan: Path, name: str, payload: str, since: str, until: str, now: str) -> None:
    """Write that a vehicle is another than the plan says."""
    if not (payload or since or until):
        raise refused(
            "nothing is said about the vehicle", "say --payload '900 kg', --from TIME or --until TIME"
        )
    try:
        carries = Measure("kg", 1, 60_000, "900 kg").read(payload) if payload else None
    except QuantityError as error:
        raise refused(error.message, error.remedy) from None
    write_one(
        plan,
        now,
        "",
        lambda moment, known: records.Vehicle(
            at=moment,
            vehicle=name,
            payload_kg=carries,
            since=moment_in(since, known.zone) if since else None,
            until=moment_in(until, known.zone) if until else None,
        ),
    )


def fails(plan: Path, what: str, until: str, at: str, now: str) -> None:
    """Write that something failed, and say which ways there are."""

    def made(moment: int, known: Known) -> Record:
        kind, name = thing_meant(what, known)
        back = moment_in(until, known.zone) if until else None
        if back is not None and back < moment:
            raise refused("it works again before it failed", "give the moment with --until, later than --at")
        return Failed(at=moment, what=kind, name=name, until=back)

    write_one(plan, now, at, made)
    _say_ways_on(plan, now)


def _say_ways_on(plan: Path, now: str) -> None:
    """Say at once what there is to do about what failed or who fell out."""
    diary = open_diary(plan, now)
    if diary.state.accepted:
        from moveplan.cli.terminal.pocket import print_ways_on

        print_ways_on(diary)


def works(plan: Path, what: str, at: str, now: str) -> None:
    """Write that something works again, or is mended."""
    broken = open_diary(plan, now).state.troubles

    def made(moment: int, known: Known) -> Record:
        kind, name = thing_meant(what, known, broken)
        return Works(at=moment, what=kind, name=name)

    write_one(plan, now, at, made)


def counted(plan: Path, group: str, change: int, reason: str, at: str, now: str) -> None:
    """Write that there are more or fewer animals."""
    state = open_diary(plan, now).state

    def made(moment: int, known: Known) -> Record:
        left = left_of(known.snapshot, state, group) if known.snapshot else None
        if left is not None and left + change < 0 and not reason.strip():
            raise refused(
                f"{-change} are more than the {left} that are counted here",
                f'write up to {left}, or say with --reason why, such as "they were never all counted"',
            )
        return records.Counted(at=moment, group=group, change=change, reason=reason)

    write_one(plan, now, at, made)


def shut(plan: Path, at: str, now: str, reason: str, *, group: str = "", number: str = "") -> None:
    """Write that the containers of a group, or one by its number, were closed."""
    write_one(
        plan,
        now,
        at,
        lambda moment, _: records.Shut(at=moment, group=group, container=number, reason=reason),
    )


def opened(plan: Path, at: str, now: str, *, group: str = "", number: str = "") -> None:
    """Write that the containers of a group, or one by its number, were opened."""
    write_one(plan, now, at, lambda moment, _: records.Opened(at=moment, group=group, container=number))


def lid(plan: Path, how: str, number: str, reason: str, at: str, now: str) -> None:
    """Write that the lid of a container was put on or taken off."""
    ways = ("on", "off")
    if number.casefold() in ways and how.casefold() not in ways:  # "lid B1 off" is as clear
        how, number = number, how
    if how.casefold() not in ways:
        raise refused(f'a lid is on or off, not "{how}"', f"moveplan record PLAN lid on {number}")
    if how.casefold() == "on":
        shut(plan, at, now, reason, number=number.upper())
    else:
        opened(plan, at, now, number=number.upper())


def tended(plan: Path, number: str, what: str, where: str, at: str, now: str) -> None:
    """Write what was done at a container."""
    if what not in TENDED:
        raise refused(f'"{what}" is nothing that is done at a container', f"write one of {', '.join(TENDED)}")
    if (what == MOVED) != bool(where.strip()):
        raise refused(
            "a container that was moved has a new place, and no other has", 'write "moved --to PLACE"'
        )
    write_one(
        plan,
        now,
        at,
        lambda moment, known: records.Tended(
            at=moment, container=number.upper(), what=what, where=where_meant(where, known)
        ),
    )


def spent(plan: Path, amount: str, item: str, at: str, now: str) -> None:
    """Write that money was spent."""
    try:
        value = Decimal(amount)
        if not value.is_finite():
            raise InvalidOperation
    except InvalidOperation:
        raise refused(f'"{amount}" is no amount', 'write a number such as "12.50"') from None
    write_one(plan, now, at, lambda moment, _: records.Spent(at=moment, amount=f"{value:f}", item=item))


def note(plan: Path, text: str, at: str, now: str) -> None:
    """Write something down."""
    write_one(plan, now, at, lambda moment, _: records.Note(at=moment, text=text))


def undo(plan: Path, line: int | None, now_said: str) -> None:
    """Write that a record shall not count."""
    write(plan, now_said, lambda _, now, journal: [(undo_of(line, journal.entries, now), "")])
