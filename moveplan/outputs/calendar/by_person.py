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
    keeper = outlook.project.plan.leads
    if keeper is None or keeper.id not in busy:
        return ()
    return (keeper.id, *(one.id for one in people if one.id in busy and one is not keeper))


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
        *(make.small(name, times) for name, times in found.small.items()),
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
        zone = self.source.zone
        end = self.source.outlook.end(to_local(session.stretch.start, zone).date(), self.person)
        # Who stays on is free when that is done, of which the runs of the moving day tell nothing.
        stays = any(one.stretch.start >= session.tied_until for one in session.segments)
        ends = (
            [to_local(-(-one // 5) * 5, zone) for one in (end.likely, end.promised)]
            if end and not stays
            else []
        )
        notes = self.words.moving_day_notes(pieces, ends, plan.confidence)
        return self._timed(session, title, notes, _DAY_ALARM_MIN)

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

    def wait(self, session: Session) -> Event:
        """Make the band of a wait, or of several that share a day."""
        stretch, pieces = session.stretch, self._pieces(session)
        words = self.source.words(session.segments[0])
        if len(pieces) > 1:
            words = Words(
                title=self.words.waits_title(words.title, len(pieces) - 1),
                notes=self.words.waits_notes(pieces),
                category=words.category,
            )
        return self._event(
            session.key,
            Days(
                to_local(stretch.start, self.source.zone).date(),
                to_local(stretch.finish - 1, self.source.zone).date() + timedelta(days=1),
            ),
            words,
        )

    def small(self, name: str, times: tuple[Session, ...]) -> Event:
        """Make one event of short jobs that comes back at the times at which one is due."""
        pieces = [self._pieces(one) for one in times]
        return self._coming_back(
            f"small:{name}", times, self.words.small_title(), self.words.small_notes(pieces)
        )

    def care(self, days: tuple[Session, ...], number: int) -> Event:
        """Make one event that comes back on every day with care, with what is due on which of them."""
        notes = self.words.care_notes([self._pieces(one) for one in days])
        return self._coming_back(f"care:{number}", days, self.words.care_title(), notes)

    def _coming_back(self, name: str, days: tuple[Session, ...], title: str, notes: str) -> Event:
        zone = self.source.zone
        dates = [to_local(one.stretch.start, zone).date() for one in days]
        clock = max(_EARLIEST_MIN, min(_clock_min(one, zone) for one in days))
        start = at_local(dates[0], clock, zone)
        every = [dates[0] + timedelta(days=n) for n in range((dates[-1] - dates[0]).days + 1)]
        return replace(
            self._event(
                name,
                Timed(start, start + _CARE_MIN, zone),
                Words(title=title, notes=notes, category=one_line(days[0].segments[0].task.phase)),
                _SESSION_ALARM_MIN,
            ),
            daily=Daily(len(every), tuple(day for day in every if day not in set(dates))),
        )

    def _timed(self, session: Session, title: str, notes: str, alarm_min: int) -> Event:
        stretch, first = session.stretch, session.segments[0]
        made = self._event(
            session.key,
            Timed(stretch.start, max(stretch.finish, stretch.start + _LEAST_MIN), self.source.zone),
            Words(
                title=title,
                notes=notes,
                location=self.words.location(first.facts),
                category=one_line(first.task.phase),
            ),
            None if self._done(session) else alarm_min,
        )
        return replace(made, busy=True)

    def _event(self, name: str, when: Timed | Days, words: Words, alarm_min: int | None = None) -> Event:
        key = f"{self.person}:{name}"
        plan_id, rings = self.source.outlook.project.plan.id, self.source.options.alarms
        return Event(
            key=key,
            uid=event_uid(plan_id, key),
            when=when,
            words=words,
            private=self.source.options.private,
            alarm=Alarm(alarm_uid(plan_id, key), alarm_min) if rings and alarm_min is not None else None,
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


def _clock_min(session: Session, zone: ZoneInfo) -> int:
    local = to_local(session.stretch.start, zone)
    return local.hour * 60 + local.minute
