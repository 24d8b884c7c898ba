"""Writes records: reads what the keeper said, refuses what cannot be true, and says what was written."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from moveplan.cli.diary import Diary, open_diary
from moveplan.cli.paper import show_text
from moveplan.cli.pocket import fill, say_faults
from moveplan.errors import MoveplanError, PlanFileError
from moveplan.journal import records
from moveplan.journal.coding import KINDS
from moveplan.journal.failure import Failed, Works
from moveplan.journal.known import (
    Known,
    UnknownNameError,
    day_in,
    days_in,
    known_of,
    minutes_in,
    moment_in,
    refused,
    shift_in,
)
from moveplan.journal.meant import Said as Said
from moveplan.journal.meant import meant, person_meant, thing_meant, where_meant
from moveplan.journal.readings import ReadingError, as_taken, read_value
from moveplan.journal.records import Entry, Record
from moveplan.journal.state import JournalState, effective, state_of
from moveplan.journal.store import Journal, append
from moveplan.journal.up_to import up_to
from moveplan.journal.vetting import undo_of, vetted
from moveplan.units import Measure, QuantityError

if TYPE_CHECKING:
    from moveplan.journal.taken import Told
    from moveplan.reading import Settings

_LISTED = 15
"""Latest entries that are listed. Chosen. [-]"""
_BEYOND = 1_000_000
"""Lines of records that are not written yet stand behind all that are. [-]"""
TENDED = ("topped-up", "air-on", "air-off", "moved")
"""What is done at a container whose lid stays as it is."""
_NAMES = {kind: name for name, kind in KINDS.items()}
Maker = Callable[[Known, int, Journal], Sequence[tuple[Record, str]]]


def _write(plan: Path, now_said: str, make: Maker) -> None:
    """Write records under the lock, with the plan read in full only where the accepted schedule does not do."""
    diary = open_diary(plan, now_said)
    if not diary.state.accepted:
        _append(diary, plan_knows(diary), make)
        return
    known = known_of(diary.snapshot())
    try:
        _append(diary, known, make)
    except UnknownNameError:
        wider = _wider(diary, known)
        if wider is None:
            raise
        _append(diary, wider, make)


def _wider(diary: Diary, known: Known) -> Known | None:
    """Know also what was written into the plan since; None where the plan cannot be read now."""
    try:
        return known.joined(plan_knows(diary))
    except MoveplanError:
        return None


def _append(diary: Diary, known: Known, make: Maker) -> None:
    now = diary.now(known.zone)
    say_faults(diary, known.zone)
    journal, entries = append(diary.plan, diary.journal.plan_id, lambda journal: make(known, now, journal))
    _say(journal, entries, known, now)


def plan_knows(diary: Diary) -> Known:
    """Read the plan in full, to know what a record may name."""
    from moveplan import reading
    from moveplan.outputs.accepted import known_of_project

    plan = reading.read(diary.plan, reading.Settings())
    return known_of_project(reading.compose(plan))


def _one(plan: Path, now_said: str, at_said: str, make: Callable[[int, Known], Record]) -> None:
    """Write one record that happened at a moment."""

    def made(known: Known, now: int, journal: Journal) -> Sequence[tuple[Record, str]]:
        at = moment_in(at_said, known.zone) if at_said else now
        return [(vetted(make(at, known), state_of(journal.entries), known, now), "")]

    _write(plan, now_said, made)


def _say(journal: Journal, entries: Sequence[Entry], known: Known, now: int) -> None:
    rows = [_row(entry, counts=True) for entry in entries]
    lines = {entry.line: _row(entry, counts=True) for entry in journal.entries}
    values = {"rows": rows, "known": known, "journal": journal.path, "lines": lines}
    typer.echo(fill("log", known.zone, now, values), nl=False)


def _row(entry: Entry, *, counts: bool) -> dict[str, Any]:
    return {"line": entry.line, "kind": _NAMES[type(entry.record)], "record": entry.record, "counts": counts}


def list_last(plan: Path, now_said: str) -> None:
    """List the last records with their lines."""
    diary = open_diary(plan, now_said)
    known = known_of(diary.snapshot()) if diary.state.accepted else plan_knows(diary)
    counting = {entry.line for entry in effective(diary.journal.entries)}
    say_faults(diary, known.zone)
    rows = [
        _row(entry, counts=entry.line in counting or isinstance(entry.record, records.Undo))
        for entry in diary.journal.entries[-_LISTED:]
    ]
    lines = {entry.line: _row(entry, counts=True) for entry in diary.journal.entries}
    values = {"rows": rows, "known": known, "journal": diary.journal.path, "lines": lines}
    show_text(fill("log", known.zone, diary.now(known.zone), values))


def begun(plan: Path, said: Said, reason: str, at: str, now: str) -> None:
    """Write that a task was begun."""
    _one_task(
        plan,
        now,
        at,
        said,
        lambda moment, name: records.Begun(at=moment, task=name, reason=reason),
    )


def done(plan: Path, said: Said, took: str, time: int, reason: str, at: str, now: str) -> None:
    """Write that a task, or one time of it, is done."""
    minutes = minutes_in(took) if took else None
    _one_task(
        plan,
        now,
        at,
        said,
        lambda moment, name: records.Done(
            at=moment, task=name, took_min=minutes, time=time or None, reason=reason
        ),
    )


def _one_task(
    plan: Path, now_said: str, at_said: str, said: Said, make: Callable[[int, str], Record]
) -> None:
    """Write one record of a task that was named by its id, its number, or as the one that is on."""

    def made(known: Known, now: int, journal: Journal) -> Sequence[tuple[Record, str]]:
        at = moment_in(at_said, known.zone) if at_said else now
        state = state_of(journal.entries)
        name = meant(said, state, known, at)
        rows = list(_before(name, said, state, known, at)) if said.and_before else []
        added = [*journal.entries]
        for record in (*rows, make(at, name)):
            record = vetted(record, state_of(added), known, now)
            added.append(Entry(len(added) + _BEYOND, record))
        return [(entry.record, "") for entry in added[len(journal.entries) :]]

    _write(plan, now_said, made)


def _before(name: str, said: Said, state: JournalState, known: Known, at: int) -> Sequence[Record]:
    known.task(name)
    if known.snapshot is None or known.snapshot.task(name) is None:
        raise refused("no schedule was accepted yet, so nothing stands before it", "name each task")
    person = person_meant(said.by, known.snapshot.people)
    return up_to(name, person, known.snapshot, state, at)


def dropped(plan: Path, task: str, reason: str, at: str, now: str) -> None:
    """Write that a task will not be done."""
    if not reason.strip():
        raise refused("a task is dropped for a reason", "say why with --reason TEXT")
    _one(plan, now, at, lambda moment, _: records.Dropped(at=moment, task=task, reason=reason))


def met(plan: Path, task: str, by: str, reason: str, at: str, now: str) -> None:
    """Write that a hold point was met and signed."""
    _one_task(
        plan,
        now,
        at,
        Said(task, "", runs=False),
        lambda moment, name: records.Met(at=moment, task=name, by=by, reason=reason),
    )


def reading(plan: Path, what: str, said: str, system: str, at: str, now: str) -> None:
    """Write what was measured, and say what follows from it."""
    what = what.casefold()
    try:
        value, unit = read_value(what, said)
    except ReadingError as error:
        raise PlanFileError((error.problem,)) from None
    text = as_taken(what, said)
    _one(
        plan,
        now,
        at,
        lambda moment, _: records.Reading(
            at=moment, what=what, value=value, unit=unit, said=text, system=system
        ),
    )

    _say_what_follows(plan, now)


def _say_what_follows(plan: Path, now_said: str) -> None:
    """Say what the last reading asks for, and when a cycle that runs is expected to be done."""
    diary = open_diary(plan, now_said)
    if not diary.state.accepted:
        return
    from moveplan.journal.advice import advice_for
    from moveplan.journal.doubt import far_from
    from moveplan.journal.ripening import ripening, runs, water_of

    snapshot = diary.snapshot()
    known = known_of(snapshot)
    last = next(
        entry.record for entry in reversed(diary.journal.entries) if isinstance(entry.record, records.Reading)
    )
    growing = any(
        runs(diary.state, one)
        for one, cycle in snapshot.cycles.items()
        if last.system in ("", water_of(one, cycle))
    )
    same = [one for one in diary.state.readings if (one.what, one.system) == (last.what, last.system)]
    values = {
        "reading": last,
        "far": far_from(last, same),
        "advice": None if growing else advice_for(last, diary.state.readings, snapshot.policy),
        "cycles": list(ripening(diary.state, snapshot.cycles)) if growing else [],
        "known": known,
    }
    show_text(fill("follows", known.zone, diary.now(known.zone), values))


def moved(plan: Path, what: str, to: str, now: str) -> None:
    """Write that a date which others set has moved."""
    if what == "dates":
        days = shift_in(to)
        _one(plan, now, "", lambda moment, _: records.MovedDates(at=moment, days=days))
        _say_who_is_asked_again(plan, now)
    elif what in ("move-day", "fall-back-day"):
        day = day_in(to)
        _one(plan, now, "", lambda moment, _: records.MovedDay(at=moment, what=what, day=day))
    elif what in ("access-from", "keys-back", "earliest-start"):
        _one(
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


def _say_who_is_asked_again(plan: Path, now_said: str) -> None:
    """Say whom the dates were promised to: nobody has agreed to the new ones yet."""
    diary = open_diary(plan, now_said)
    if diary.state.accepted:
        snapshot = diary.snapshot()
        zone = known_of(snapshot).zone
        values = {"plan": snapshot, "file": str(plan)}
        show_text(fill("asked_again", zone, diary.now(zone), values))


def out(plan: Path, person: str, days: str, now: str) -> None:
    """Write that somebody is not there on some days."""
    first, last = days_in(days)
    _one(plan, now, "", lambda moment, _: records.Out(at=moment, person=person, first=first, last=last))
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
    _one(
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

    _one(plan, now, at, made)
    _say_ways_on(plan, now)


def _say_ways_on(plan: Path, now: str) -> None:
    """Say at once what there is to do about what failed or who fell out."""
    diary = open_diary(plan, now)
    if diary.state.accepted:
        from moveplan.cli.pocket import print_ways_on

        print_ways_on(diary)


def works(plan: Path, what: str, at: str, now: str) -> None:
    """Write that something works again."""

    def made(moment: int, known: Known) -> Record:
        kind, name = thing_meant(what, known)
        return Works(at=moment, what=kind, name=name)

    _one(plan, now, at, made)


def counted(plan: Path, group: str, change: int, reason: str, at: str, now: str) -> None:
    """Write that there are more or fewer animals."""
    _one(
        plan,
        now,
        at,
        lambda moment, _: records.Counted(at=moment, group=group, change=change, reason=reason),
    )


def container(plan: Path, group: str, at: str, now: str, *, shut: bool) -> None:
    """Write that the containers of a group were closed, or opened for good."""
    kind = records.Shut if shut else records.Opened
    _one(plan, now, at, lambda moment, _: kind(at=moment, group=group))


def lid(plan: Path, how: str, number: str, at: str, now: str) -> None:
    """Write that the lid of a container was put on or taken off."""
    kind = {"on": records.Shut, "off": records.Opened}.get(how.casefold())
    if kind is None:
        raise refused(f'a lid is on or off, not "{how}"', f"moveplan record PLAN lid on {number}")
    _one(plan, now, at, lambda moment, _: kind(at=moment, container=number.upper()))


def tended(plan: Path, number: str, what: str, where: str, at: str, now: str) -> None:
    """Write what was done at a container."""
    if what not in TENDED:
        raise refused(f'"{what}" is nothing that is done at a container', f"write one of {', '.join(TENDED)}")
    if (what == "moved") != bool(where.strip()):
        raise refused(
            "a container that was moved has a new place, and no other has", 'write "moved --to PLACE"'
        )
    _one(
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
    _one(plan, now, at, lambda moment, _: records.Spent(at=moment, amount=f"{value:f}", item=item))


def note(plan: Path, text: str, at: str, now: str) -> None:
    """Write something down."""
    _one(plan, now, at, lambda moment, _: records.Note(at=moment, text=text))


def undo(plan: Path, line: int | None, now_said: str) -> None:
    """Write that a record shall not count."""
    _write(plan, now_said, lambda _, now, journal: [(undo_of(line, journal.entries, now), "")])


def merge(plan: Path, source: Path, by: str, now_said: str) -> None:
    """Merge a progress file, without losing or doubling what it says."""
    from moveplan.journal.progress import read_progress, told_by_ticks

    diary = open_diary(plan, now_said)
    progress = read_progress(source, diary.journal.plan_id)
    known = known_of(diary.snapshot()) if diary.state.accepted else plan_knows(diary)
    if any(tick.task and tick.task not in known.tasks for tick in progress):
        known = _wider(diary, known) or known
    _take(diary, known, lambda known: told_by_ticks(progress, known, by))


def paste(plan: Path, text: str, now_said: str) -> None:
    """Take a text that a phone copied, without losing or doubling what it says."""
    from moveplan.journal.marks import told_by_marks
    from moveplan.journal.slip import index_of, read_slip

    diary = open_diary(plan, now_said)
    known = known_of(diary.snapshot())
    plan_id = diary.journal.plan_id
    marks = read_slip(text, [index_of(diary.snapshot(one), plan_id) for one in diary.state.accepted])
    _take(diary, known, lambda known: told_by_marks(marks, known))


def _take(diary: Diary, known: Known, told: Callable[[Known], Sequence[Told]]) -> None:
    """Write what came from elsewhere, and say what was left out."""
    from moveplan.journal.taken import taken

    left: list[str] = []

    def made(known: Known, now: int, journal: Journal) -> Sequence[tuple[Record, str]]:
        rows, left[:] = taken(told(known), journal.entries, known, now)
        return rows

    _append(diary, known, made)
    for message in left:
        typer.echo(message, err=True)


def accept(plan: Path, settings: Settings, reason: str, clear_progress: Callable[[], None]) -> None:
    """Solve, and keep the schedule as the one that is in force."""
    from moveplan import pipeline
    from moveplan.errors import CannotBeDoneError
    from moveplan.journal.kept import snapshot_data
    from moveplan.outputs.accepted import known_of_project, snapshot_of_outlook

    outlook = pipeline.outlook_of(plan, settings)
    clear_progress()
    asked = outlook.problems and not outlook.late and not reason.strip()
    if not outlook.schedule.placements or asked:
        raise CannotBeDoneError(outlook.problems)
    record = records.Accepted(
        at=outlook.now,
        schedule=snapshot_data(snapshot_of_outlook(outlook)),
        reason=(reason or "the point of no return is passed") if outlook.problems else "",
    )
    journal, entries = append(plan, outlook.project.plan.id, lambda _: [(record, "")])
    _say(journal, entries, known_of_project(outlook.project), outlook.now)
