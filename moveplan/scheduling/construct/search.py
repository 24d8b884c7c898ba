"""Attempt after attempt with the serial scheme; the best by all aims is kept."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from moveplan.network.passes import PositiveCycleError
from moveplan.scheduling.construct.ease import eased
from moveplan.scheduling.construct.improve import lead_tasks_late, less_exposed, pack_drives
from moveplan.scheduling.construct.mirror import mirrored, pushed
from moveplan.scheduling.construct.serial import Attempt, Scheme
from moveplan.scheduling.construct.swift import swift
from moveplan.scheduling.effort import Effort, Meter
from moveplan.scheduling.objective.aims import FINISH, better, values
from moveplan.scheduling.state.crews import Liking
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.frame import Frame, early_with_days
from moveplan.scheduling.state.margins import Margins, wished
from moveplan.times import Interval

_NOISE = (0.0, 0.02, 0.08, 0.25)
"""Noise on the urgencies of an attempt, as shares of their spread; one of them is drawn. Chosen. [-]"""
_MOST_DAYS_TRIED = 400
"""Most days that the move is tried on: more than a year of them. [-]"""
_MOST_TIMES_EASED = 24
"""Most times that margins are given up task by task, and then chain by chain. Chosen, not measured. [-]"""
Fixed = tuple[tuple[int, Spot], ...]


@dataclass(slots=True)
class Found:
    """What the serial search found.

    Parameters
    ----------
    desk : Desk or None
        The best complete schedule.
    stuck : tuple of int
        Where there is none: tasks of the block at which most attempts ended.
    attempts : int
        How many were made.
    days : tuple of Interval
        The day of each tag. [min]
    margins : Margins
        What it keeps behind late tasks. [min]
    before : dict of str to int
        Starts in the schedule before; empty: there is none. [min]
    """

    desk: Desk | None = None
    values: tuple[tuple[str, int], ...] = ()
    stuck: tuple[int, ...] = ()
    attempts: int = 0
    days: tuple[Interval, ...] = ()
    margins: Margins = ()
    before: dict[str, int] = field(default_factory=dict)


class Search:
    """The serial engine.

    Parameters
    ----------
    frame : Frame
        What all attempts share.
    """

    def __init__(
        self,
        frame: Frame,
        effort: Effort,
        meter: Meter,
        found: Found | None = None,
        fixed: Fixed = (),
        first_only: bool = False,
    ) -> None:
        self.frame = frame
        self.model = frame.model
        self.effort = effort
        self.meter = meter
        previous = effort.previous
        self.before = {p.task: p.start for p in previous.placements} if previous else {}
        self.found = found or Found()
        self.found.before = self.before
        self.fixed = fixed
        self.first_only = first_only
        self.mirror = None if first_only else mirrored(frame)
        self.margins = self.found.margins if self.found.desk else wished(frame.model)
        self.ended: Counter[tuple[int, ...]] = Counter()
        self.last: tuple[Scheme, tuple[int, ...]] | None = None
        self.days: tuple[Interval, ...] = self.found.days
        self.early: tuple[tuple[Interval, ...] | None, tuple[int, ...]] = None, ()

    def run(self) -> Found:
        """Look until the effort is spent or there is nothing left to choose."""
        if (not self.fixed or self.found.desk is None) and not self._first():
            self._others_first()
        self._swiftly()
        for number, order in enumerate(self._orders(), start=1):
            if self.meter.over() or self._done() or (number > 1 and self.found.desk is None and number > 400):
                break
            self._again(order, number)
        return self.found

    def _swiftly(self) -> None:
        """Look with the quick scheme where it knows all that the problem asks for."""
        if self.mirror is None or self._done():
            return
        desk = swift(self.frame, self.meter, self.effort.seed)
        if desk is None:
            return
        found = values(desk, self.before)
        if self.found.desk is None or better(found, self.found.values):
            self.found.desk, self.found.values = desk, found

    def _done(self) -> bool:
        """Whether the finish is as early as the critical path allows and nothing else is asked for."""
        if self.first_only and self.found.desk is not None:
            return True
        return self.found.values == ((FINISH, self.frame.longest),)

    def _first(self) -> bool:
        """Find the earliest tied days at which the plain order works, with as much margin as goes."""
        return self._with_margins(tuple(map(float, self.frame.urgency)))

    def _with_margins(self, order: tuple[float, ...]) -> bool:
        """Find the earliest tied days at which an order works, with as much margin as goes.

        An order that finds no place without any margin is not asked with less and less of it: the margins are not to
        blame, and the next order is asked for all of them again.
        """
        self.margins = wished(self.model)
        if self._on_some_days(order):
            return True
        if not any(self.margins):
            return False
        stuck = self.last
        self.margins = (0,) * len(self.model.jobs)
        if not self._on_some_days(order):
            return False
        if self.first_only:
            return True
        self.last = stuck
        for times in range(2 * _MOST_TIMES_EASED):
            if self.last is None or self.meter.over():
                break
            self.margins = eased(*self.last, whole_chain=times >= _MOST_TIMES_EASED)
            if not any(self.margins) or self._on_some_days(order):
                break
        self.days, self.margins = self.found.days, self.found.margins
        return True

    def _on_some_days(self, order: tuple[float, ...]) -> bool:
        if self.fixed:
            return not self._around(order, None)
        chosen = [0] * len(self.model.tags)
        for _ in range(_MOST_DAYS_TRIED):
            early = self._settled(chosen)
            if early is None:
                return False
            days = tuple(self.model.tags[tag][at] for tag, at in enumerate(chosen))
            stuck = self._attempt(Attempt(order, days, tuple(early), self.margins, None))
            if not stuck:
                self.days = days
                return True
            if self.meter.over() or not self._move_on(chosen, stuck):
                return False
        return False

    def _settled(self, chosen: list[int]) -> list[int] | None:
        """Move tied days on until none is before the earliest start of one of its tasks."""
        start = self.model.problem.start
        if not all(self.model.tags):
            return None
        while True:
            days = [self.model.tags[tag][at] for tag, at in enumerate(chosen)]
            try:
                early = early_with_days(self.frame, days)
            except PositiveCycleError:
                return None
            late = {
                job.tag
                for job, begin in zip(self.model.jobs, early, strict=True)
                if job.tag >= 0 and start + begin + job.span.least > days[job.tag].finish
            }
            if not late:
                return early
            for tag in sorted(late):
                chosen[tag] += 1
                if chosen[tag] == len(self.model.tags[tag]):
                    return None

    def _move_on(self, chosen: list[int], stuck: tuple[int, ...]) -> bool:
        """Try the next day of the tag that hinders; false where there is none."""
        tags = {self.model.jobs[at].tag for at in stuck} - {-1}
        tags = tags or {tag for tag in range(len(chosen)) if chosen[tag] + 1 < len(self.model.tags[tag])}
        for tag in sorted(tags, key=lambda tag: (self.model.tags[tag][chosen[tag]], tag)):
            if chosen[tag] + 1 < len(self.model.tags[tag]):
                chosen[tag] += 1
                return True
        return False

    def _attempt(self, attempt: Attempt) -> tuple[int, ...]:
        """Carry out an attempt and keep it where it is the best; the tasks it was stuck at."""
        scheme = Scheme(self.frame, attempt, self.meter)
        outcome = scheme.run()
        self.found.attempts += 1
        if outcome.stuck:
            self.ended[outcome.stuck] += 1
            self.found.stuck = self.ended.most_common(1)[0][0]
            self.last = scheme, outcome.stuck
            return outcome.stuck
        if not self.model.only_finish:
            self._polish(scheme)
        self._keep(scheme)
        for shorter in pushed(self.frame, self.mirror, scheme.desk, self.meter) if self.mirror else ():
            self._keep(shorter)
        return ()

    def _polish(self, scheme: Scheme) -> None:
        before = scheme.finder.steps
        less_exposed(scheme)
        pack_drives(scheme)
        lead_tasks_late(scheme)
        self.meter.left -= scheme.finder.steps - before

    def _keep(self, scheme: Scheme) -> None:
        desk = scheme.desk
        found = values(desk, self.before)
        more_margin_min = sum(scheme.attempt.margins) - sum(self.found.margins)
        as_much = more_margin_min == 0
        if self.found.desk is None or more_margin_min > 0 or (as_much and better(found, self.found.values)):
            if self.found.desk is not None:
                self.effort.says(f"better schedule: {found[0][0]} {found[0][1]}")
            self.found.desk = desk.copied()
            self.found.values = found
            self.found.days, self.found.margins = scheme.attempt.days, scheme.attempt.margins

    def _orders(self) -> Iterator[tuple[float, ...]]:
        """Orders drawn near the plain one, and those of the best schedule so far."""
        draw = random.Random(self.effort.seed)  # noqa: S311 - repeatable, nothing secret
        plain = self.frame.urgency
        spread = max(plain, default=0) - min(plain, default=0) + 1
        if self.before:
            ids = [job.task.id for job in self.model.jobs]
            yield tuple(float(self.before.get(name, plain[at])) for at, name in enumerate(ids))
        while True:
            noise = _NOISE[draw.randrange(len(_NOISE))] * spread
            base: list[float] = [float(value) for value in plain]
            if draw.random() < 0.5 and self.found.desk is not None:
                base = [float(spot.start) for spot in self.found.desk.spots if spot is not None]
                noise /= 4
            yield tuple(value + draw.uniform(-noise, noise) for value in base)

    def _again(self, order: tuple[float, ...], number: int) -> None:
        if self.found.desk is None:
            self._with_margins(order)
            return
        self._around(order, self._liking(number))

    def _around(self, order: tuple[float, ...], liking: Liking | None) -> tuple[int, ...]:
        """Make an attempt on settled days, around what stands already; the tasks it was stuck at."""
        if self.early[0] != self.days:
            self.early = self.days, tuple(early_with_days(self.frame, self.days))
        return self._attempt(Attempt(order, self.days, self.early[1], self.margins, liking, self.fixed))

    def _liking(self, number: int) -> Liking | None:
        """Sort people at random now and then, the cheap still first."""
        if number % 2:
            return None
        draw = random.Random(self.effort.seed * 1_000_003 + number)  # noqa: S311 - repeatable, nothing secret
        ranks = {person: draw.random() for person in range(len(self.model.people))}
        people = self.model.problem.people
        return lambda person: (people[person].cents_per_hour, ranks[person])

    def _others_first(self) -> None:
        """Try once with the most urgent first by hard dates alone, for plans with a close horizon."""
        size = len(self.model.jobs)
        order = tuple(float(self.frame.early[at]) for at in range(size))
        self._with_margins(order)


def search(
    frame: Frame,
    effort: Effort,
    meter: Meter,
    found: Found | None = None,
    fixed: Fixed = (),
    first_only: bool = False,
) -> Found:
    """Run the serial engine; the same frame, effort and seed give the same schedule.

    Parameters
    ----------
    frame, effort, meter : Frame, Effort, Meter
        What to schedule, and how hard to look.
    found : Found, optional
        The best so far.
    fixed : tuple of (int, Spot)
        Tasks that stand already.
    first_only : bool
        Whether any schedule is good enough.
    """
    return Search(frame, effort, meter, found, fixed, first_only).run()
