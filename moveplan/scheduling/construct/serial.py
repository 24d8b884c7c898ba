"""The serial scheme: one task or block after the other, each at the first spot that keeps every limit.

Tasks that bind each other by greatest gaps form a block. A block is placed as a whole: where a later
member would come too long after an earlier one, the earlier is taken back and placed later, with all
that was placed since (Franck, Neumann and Schwindt 2001, OR Spektrum 23, 297-324; recalled).
"""

from __future__ import annotations

import heapq
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field

from moveplan.scheduling.construct.finder import Finder
from moveplan.scheduling.construct.repeating import earliest_spot
from moveplan.scheduling.effort import Meter
from moveplan.scheduling.state.crews import Liking
from moveplan.scheduling.state.desk import Desk, Spot
from moveplan.scheduling.state.frame import Frame
from moveplan.scheduling.state.margins import Margins, distance
from moveplan.scheduling.state.tracks import NEVER
from moveplan.times import Interval

_TRIES_A_BLOCK = 60
"""Tries of a block of tied tasks whatever its size, before it counts as without a place. Chosen. [-]"""
_TRIES_A_TASK = 12
"""Further tries for each task of the block, as longer blocks need more turns back. Chosen. [-]"""


@dataclass(frozen=True, slots=True)
class Attempt:
    """The choices that make one attempt.

    Parameters
    ----------
    order : tuple of float
        Priority of each task; the least is placed first.
    days : tuple of Interval
        The day of each tag. [min]
    early : tuple of int
        Earliest start of each task with these days. [min]
    margins : Margins
        What is asked for behind late tasks. [min]
    liking : callable or None
        Sort key of people.
    fixed : tuple of (int, Spot)
        Tasks that stand already.
    """

    order: tuple[float, ...]
    days: tuple[Interval, ...] = ()
    early: tuple[int, ...] = ()
    margins: Margins = ()
    liking: Liking | None = None
    fixed: tuple[tuple[int, Spot], ...] = ()


@dataclass(slots=True)
class Outcome:
    """What became of an attempt.

    Parameters
    ----------
    desk : Desk
        The schedule as far as it came.
    stuck : tuple of int
        Tasks of the block that could not be placed; empty where all were.
    """

    desk: Desk
    stuck: tuple[int, ...] = field(default=())


class Scheme:
    """Carries out one attempt.

    Parameters
    ----------
    frame : Frame
        What all attempts share.
    attempt : Attempt
        What is special to this one.
    """

    def __init__(self, frame: Frame, attempt: Attempt, meter: Meter) -> None:
        self.frame = frame
        self.model = frame.model
        self.attempt = attempt
        self.meter = meter
        self.desk = Desk(frame.model)
        self.stands = frozenset(position for position, _ in attempt.fixed)
        self.finder = Finder(self.desk, attempt.liking, around=bool(attempt.fixed))

    def run(self) -> Outcome:
        """Place everything, or as much as goes."""
        waiting = [len(group) for group in self.frame.before]
        ready = [self._entry(block) for block, number in enumerate(waiting) if not number]
        heapq.heapify(ready)
        aside: list[int] = []
        for position, spot in self.attempt.fixed:
            self.desk.put(position, spot)
        while ready:
            _, block = heapq.heappop(ready)
            if not self._stands(block) and not self.place(self.frame.blocks[block]):
                aside.append(block)
                continue
            for later in self.frame.after[block]:
                waiting[later] -= 1
                if not waiting[later]:
                    heapq.heappush(ready, self._entry(later))
            if not ready:
                ready, aside = [self._entry(block) for block in aside], []
        self.meter.left -= self.finder.steps + 2 * len(self.attempt.fixed) + len(self.model.jobs) // 4 + 10
        return Outcome(self.desk, self.frame.blocks[aside[0]] if aside else ())

    def _stands(self, block: int) -> bool:
        return all(self.desk.spots[at] is not None for at in self.frame.blocks[block])

    def _entry(self, block: int) -> tuple[float, int]:
        return min(self.attempt.order[at] for at in self.frame.blocks[block]), block

    def place(self, block: Sequence[int], since: int = 0) -> bool:
        """Place all tasks of a block, none of them before some moment, or none at all."""
        if len(block) > 1:
            return self._place_block(block, since)
        spot = self._spot(block[0], since)
        if spot is None:
            return False
        self.desk.put(block[0], spot)
        return True

    def bounds(self, position: int) -> tuple[int, int, int]:
        """Least start, least finish and greatest finish of a task, after all that is placed."""
        problem, task = self.model.problem, self.model.jobs[position].task
        start = problem.start + (self.attempt.early or self.frame.early)[position]
        finish = problem.start
        until = problem.horizon if task.finish_by is None else min(problem.horizon, task.finish_by)
        tag = self.model.jobs[position].tag
        if tag >= 0:
            start = max(start, self.attempt.days[tag].start)
            until = min(until, self.attempt.days[tag].finish)
        for rule in self.model.into[position]:
            spot = self.desk.spots[rule[0]]
            if spot is None:
                continue
            moment = (spot.finish if rule[2] else spot.start) + self.distance_of(rule)
            if rule[3]:
                finish = max(finish, moment)
            else:
                start = max(start, moment)
        return start, finish, until

    def distance_of(self, rule: tuple[int, int, bool, bool, int]) -> int:
        """Least distance a rule asks for in this attempt, its share of the wished margin included."""
        together = self.frame.block_of[rule[0]] == self.frame.block_of[rule[1]]
        return distance(rule, self.attempt.margins, together)

    def ends(self, position: int, heads: Collection[int] | None = None) -> tuple[int, int]:
        """Greatest start and greatest finish of a task that tasks placed after it leave: all, or those of some."""
        start = finish = NEVER
        for rule in self.model.out[position]:
            _, head, from_finish, to_finish, _ = rule
            spot = self.desk.spots[head]
            if spot is None or head == position or (heads is not None and head not in heads):
                continue
            moment = (spot.finish if to_finish else spot.start) - self.distance_of(rule)
            if from_finish:
                finish = min(finish, moment)
            else:
                start = min(start, moment)
        return start, finish

    def _spot(self, position: int, least: int) -> Spot | None:
        start, finish, until = self.bounds(position)
        if not self.attempt.fixed:
            return earliest_spot(self.finder, position, max(start, least), finish, until)
        latest, last = self.ends(position, self.stands)
        spot = earliest_spot(self.finder, position, max(start, least), finish, min(until, last))
        return spot if spot is not None and spot.start <= latest else None

    def _place_block(self, whole: Sequence[int], since: int) -> bool:
        block = [at for at in whole if self.desk.spots[at] is None]
        block.sort(key=lambda at: (self.attempt.order[at], at))
        least = dict.fromkeys(block, since)
        placed: list[int] = []
        tries = _TRIES_A_BLOCK + _TRIES_A_TASK * len(block)
        while len(placed) < len(block):
            position = self._next(block)
            spot = self._spot(position, least[position])
            if spot is None:
                tries = 0
            else:
                late = self._too_early(position, spot)
                if not late:
                    self.desk.put(position, spot)
                    placed.append(position)
                    continue
                tries = tries - 1 if all(other in least for other, _ in late) else 0
                for other, moment in late if tries > 0 else ():
                    least[other] = max(least[other], moment)
                self._take_back(placed, {other for other, _ in late})
            if tries <= 0:
                self._take_back(placed, set(placed))
                return False
        return True

    def _next(self, block: Sequence[int]) -> int:
        """Find the first task of a block, the most urgent first, that is not placed and waits for none of it."""
        spots, within = self.desk.spots, self.frame.within
        return next(
            at for at in block if spots[at] is None and not any(spots[other] is None for other in within[at])
        )

    def _too_early(self, position: int, spot: Spot) -> list[tuple[int, int]]:
        """Tasks placed already that would have to start later, and when."""
        late = []
        for _, head, from_finish, to_finish, gap in self.model.out[position]:
            other = spot if head == position else self.desk.spots[head]
            if other is None:
                continue
            moment = (spot.finish if from_finish else spot.start) + gap
            short = moment - (other.finish if to_finish else other.start)
            if short > 0:
                late.append((head, other.start + short))
        return late

    def _take_back(self, placed: list[int], moved: set[int]) -> None:
        """Take back the moved tasks and all that was placed after the first of them."""
        first = min((placed.index(at) for at in moved if at in placed), default=len(placed))
        while len(placed) > first:
            self.desk.take(placed.pop())
