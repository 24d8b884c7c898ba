"""Events for people: one an evening or half day with its list, one a moving day with its run sheet.

What the whole calendar tells task by task is told here as somebody lives through it. Keys carry the person, so
that the calendars of two people can be read into one.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

from moveplan.network.task import State
from moveplan.outputs.calendar.event import Alarm, Daily, Days, Event, Status, Timed, Words
from moveplan.outputs.calendar.identity import alarm_uid, event_uid
from moveplan.outputs.calendar.sessions import Session, gathered
from moveplan.outputs.calendar.source import Segment, Source
from moveplan.outputs.calendar.words import Piece
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.wording.escape import one_line
from moveplan.times import at_local, to_local

_SESSION_ALARM_MIN = 30
"""Alarm before an evening's work. Assumed. [min]"""
_DAY_ALARM_MIN = 60
"""Alarm before the moving day. Assumed. [min]"""
_DECISION_ALARM_MIN = 60
"""Alarm before a decision is due. Assumed. [min]"""
_LEAST_MIN = 15
"""What is shorter is hardly seen in a calendar. [min]"""
_CARE_MIN = 30
"""Length of the daily care; what it takes is in its list, and most days are shorter. [min]"""
_EARLIEST_MIN = 6 * 60
"""Daily care begins no earlier: a time in the night may be skipped, or come twice, where clocks change. [min]"""


def people_of(outlook: Outlook) -> tuple[str, ...]:
    """Name those who get a calendar: who leads, then everybody else with something to do; none where nobody leads."""
    people = outlook.project.plan.people
    busy = {person for placement in outlook.schedule.placements for person in placement.people}
    keeper = next((one.id for one in people if one.lead), people[0].id if people else "")
    if keeper not in busy:
        return ()
    return (keeper, *(one.id for one in people if one.id in busy and one.id != keeper))


def person_events(source: Source) -> tuple[Event, ...]:
    """Make the events of one person.

    Parameters
    ----------
    source : Source
        The whole plan; its options name the person.
    """
    person = source.options.person
    found = gathered(source, person, leads=person == source.options.keeper)
    make = _Maker(source, person)
    return (
        *(make.day(one) for one in found.days),
        *(make.session(one) for one in found.sessions),
        *(make.decision(one) for one in found.decisions),
        *(make.wait(one) for one in found.waits),
        *(make.care(run, number) for number, run in enumerate(found.care, 1)),
    )


class _Maker:
    """Makes events of one person.

    Parameters
    ----------
    source : Source
        The whole plan.
    person : str
        Whose events.
    """

    def __init__(self, source: Source, person: str) -> None:
        self.source = source
        self.person = person
        self.words = source.wording

    def day(self, session: Session) -> Event:
        """Make the event of a moving day, with meeting time, place and run sheet."""
        plan, pieces = self.source.outlook.project.plan, self._pieces(session)
        title = self.words.moving_day_title(plan.title, done=self._done(session))
        return self._timed(session, title, self.words.moving_day_notes(pieces), _DAY_ALARM_MIN)

    def session(self, session: Session) -> Event:
        """Make the event of an evening or half day, with its list."""
        pieces = self._pieces(session)
        title = self.words.session_title(pieces, done=self._done(session))
        return self._timed(session, title, self.words.session_notes(pieces), _SESSION_ALARM_MIN)

    def decision(self, segment: Segment) -> Event:
        """Make the event of a decision."""
        session = Session(f"decision:{segment.key}", (segment,))
        pieces, done = self._pieces(session), self._done(session)
        title, notes = self.words.session_title(pieces, done=done), self.words.session_notes(pieces)
        made = self._timed(session, title, notes, _DECISION_ALARM_MIN)
        return made if done else replace(made, status=Status.TENTATIVE, busy=False)

    def wait(self, segment: Segment) -> Event:
        """Make the band of a wait."""
        first = to_local(segment.stretch.start, self.source.zone).date()
        last = to_local(segment.stretch.finish - 1, self.source.zone).date()
        key = f"{self.person}:wait:{segment.key}"
        return Event(
            key=key,
            uid=event_uid(self.source.outlook.project.plan.id, key),
            when=Days(first, last + timedelta(days=1)),
            words=self.source.words(segment),
            private=self.source.options.private,
        )

    def care(self, days: tuple[Session, ...], number: int) -> Event:
        """Make one event that comes back on every day with care, with what is due on which of them."""
        zone = self.source.zone
        dates = [to_local(one.stretch.start, zone).date() for one in days]
        clock = max(_EARLIEST_MIN, min(_clock_min(one, zone) for one in days))
        start = at_local(dates[0], clock, zone)
        key = f"{self.person}:care:{number}"
        every = [dates[0] + timedelta(days=n) for n in range((dates[-1] - dates[0]).days + 1)]
        return Event(
            key=key,
            uid=event_uid(self.source.outlook.project.plan.id, key),
            when=Timed(start, start + _CARE_MIN, zone),
            words=Words(
                title=self.words.care_title(),
                notes=self.words.care_notes([self._pieces(one) for one in days]),
                category=one_line(days[0].segments[0].task.phase),
            ),
            daily=Daily(len(every), tuple(day for day in every if day not in set(dates))),
            private=self.source.options.private,
            alarm=self._alarm(key, _SESSION_ALARM_MIN),
        )

    def _timed(self, session: Session, title: str, notes: str, alarm_min: int) -> Event:
        stretch = session.stretch
        key = f"{self.person}:{session.key}"
        first = session.segments[0]
        return Event(
            key=key,
            uid=event_uid(self.source.outlook.project.plan.id, key),
            when=Timed(stretch.start, max(stretch.finish, stretch.start + _LEAST_MIN), self.source.zone),
            words=Words(
                title=title,
                notes=notes,
                location=self.words.location(first.facts),
                category=one_line(first.task.phase),
            ),
            busy=True,
            private=self.source.options.private,
            alarm=None if self._done(session) else self._alarm(key, alarm_min),
        )

    def _pieces(self, session: Session) -> tuple[Piece, ...]:
        return tuple(
            Piece(
                facts=one.facts,
                start=to_local(one.stretch.start, self.source.zone),
                finish=to_local(one.stretch.finish, self.source.zone),
                others=tuple(name for name in one.facts.people if name != self._name()),
            )
            for one in session.segments
        )

    def _name(self) -> str:
        people = self.source.outlook.project.plan.people
        return next((one.name or one.id for one in people if one.id == self.person), self.person)

    def _done(self, session: Session) -> bool:
        return all(self.source.state(one.task.id) is State.COMPLETED for one in session.segments)

    def _alarm(self, key: str, before_min: int) -> Alarm | None:
        if not self.source.options.alarms:
            return None
        return Alarm(alarm_uid(self.source.outlook.project.plan.id, key), before_min)


def _clock_min(session: Session, zone: ZoneInfo) -> int:
    local = to_local(session.stretch.start, zone)
    return local.hour * 60 + local.minute
