"""The calendar of a plan, from its outlook to bytes."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from icalendar import Component

from moveplan.errors import OutputError
from moveplan.outputs.calendar.by_person import person_events
from moveplan.outputs.calendar.events import events
from moveplan.outputs.calendar.identity import calendar_uid, event_uid, to_do_uid, to_dos_uid
from moveplan.outputs.calendar.invited import invitations
from moveplan.outputs.calendar.ledger import Counts, Update, updated
from moveplan.outputs.calendar.options import CalendarOptions, check_options
from moveplan.outputs.calendar.previous import Ledger, UnreadableError, read_ledger
from moveplan.outputs.calendar.retired import cancelled
from moveplan.outputs.calendar.source import Source
from moveplan.outputs.calendar.spelled import Spelled, spelled
from moveplan.outputs.calendar.spelling import KEY, respelled
from moveplan.outputs.calendar.todos import to_dos
from moveplan.outputs.calendar.words import Wording
from moveplan.outputs.calendar.write import Heading, calendar, event_component, single, to_do_component
from moveplan.outputs.outlook import Outlook


@dataclass(frozen=True, slots=True)
class CalendarExport:
    """A calendar, ready to be written.

    Parameters
    ----------
    data : bytes
        The calendar of events.
    counts : Counts
        What changed against the one it replaces.
    todos : bytes or None
        The second calendar, of to-dos; None where it is not wanted.
    split : Mapping of str to bytes
        One file an event by file name; empty where they are not wanted.
    invitations : Mapping of str to bytes
        One message an event by file name, to be mailed to whose calendar it is; empty where they are not wanted.
    """

    data: bytes
    counts: Counts
    todos: bytes | None = None
    split: Mapping[str, bytes] = field(default_factory=dict)
    invitations: Mapping[str, bytes] = field(default_factory=dict)


def calendar_bytes(
    outlook: Outlook,
    previous: bytes | None,
    options: CalendarOptions,
    previous_todos: bytes | None = None,
) -> CalendarExport:
    """Make the calendar of a scheduled plan, built upon the one it replaces.

    Parameters
    ----------
    outlook : Outlook
        The scheduled plan.
    previous : bytes or None
        The calendar that was exported before; None: this is the first.
    previous_todos : bytes or None
        The same for the to-dos.

    Returns
    -------
    CalendarExport
        For an unchanged plan the same bytes as before.

    Raises
    ------
    OutputError
        Where an earlier calendar cannot be read or is not this plan's, or where there is no schedule.
    PlanFileError
        Where the options name somebody or something that the plan does not have.
    """
    check_options(options, outlook.project)
    if not outlook.schedule.placements:
        msg = "there is no schedule to make a calendar from; an earlier calendar is out of date"
        raise OutputError(msg)
    source = Source(outlook, options, Wording())
    plan_id, selection = outlook.project.plan.id, options.selection
    planned = events(source) if options.every_task else person_events(source)
    made = [spelled(event_component(event)) for event in planned]
    ledger = _ledger(source, "calendar", previous, (calendar_uid(plan_id, selection), event_uid), made)
    update = _update(source, made, ledger)
    return CalendarExport(
        data=_whole(source, update, calendar_uid(plan_id, selection), _name(source)),
        counts=update.counts,
        todos=_todos(source, previous_todos) if options.todos else None,
        split={f"{item.component['UID']}.ics": single(item) for item in update.items}
        if options.split
        else {},
        invitations=_invitations(source, update) if options.invite else {},
    )


def _invitations(source: Source, update: Update) -> Mapping[str, bytes]:
    people = {one.id: one for one in source.outlook.project.plan.people}
    guest, leads = people[source.options.person], people[source.options.keeper]
    return {} if guest is leads or not guest.email else invitations(update.items, leads, guest)


def _todos(source: Source, previous: bytes | None) -> bytes:
    uid = to_dos_uid(source.outlook.project.plan.id, source.options.selection)
    made = [spelled(to_do_component(to_do)) for to_do in to_dos(source)]
    update = _update(source, made, _ledger(source, "todos", previous, (uid, to_do_uid), made))
    return _whole(source, update, uid, source.wording.to_dos_name(_name(source)))


def _ledger(
    source: Source,
    kind: str,
    previous: bytes | None,
    uids: tuple[str, Callable[[str, str], str]],
    made: Sequence[Spelled],
) -> Ledger:
    plan_id, (uid, uid_of) = source.outlook.project.plan.id, uids
    try:
        return read_ledger(previous, uid, lambda key: uid_of(plan_id, key), made)
    except UnreadableError as error:
        msg = (
            f"the earlier {kind}{source.options.suffix}.ics cannot be built upon: {error}; "
            "move it away, or write to another folder"
        )
        raise OutputError(msg) from error


def _update(source: Source, made: Sequence[Spelled], ledger: Ledger) -> Update:
    return updated(made, ledger, source.outlook.now * 60, lambda item: _retired(source, item))


def _whole(source: Source, update: Update, uid: str, name: str) -> bytes:
    heading = Heading(uid, name if source.options.name else "", update.modified)
    return calendar(heading, update.items, source.zone)


def _name(source: Source) -> str:
    options, plan = source.options, source.outlook.project.plan
    people = {person.id: person.name or person.id for person in plan.people}
    person = people[options.person] if options.person else ""
    return source.wording.calendar_name(plan.title, person, options.phase, moving_day=options.moving_day)


def _retired(source: Source, item: Component) -> Component:
    """Turn what is no longer planned into its cancelled form; a latest start that was met just falls silent."""
    if source.met_start_by(item.get(KEY)):
        return respelled(item, item.keys())
    return cancelled(item, source.wording, private=source.options.private)
