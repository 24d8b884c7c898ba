"""Asks those who help for fewer days, where nothing that counts more gets worse.

Work that needs none of them is handed to who is not asked, and work that needs them moves to a day on which they come
anyway. A day is emptied as a whole or left as it is, and no day that is tied gets more to do.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import partial

from moveplan.scheduling.construct.finder import Finder
from moveplan.scheduling.construct.improve import legal
from moveplan.scheduling.construct.repeating import earliest_spot
from moveplan.scheduling.construct.search import Found
from moveplan.scheduling.construct.serial import Scheme
from moveplan.scheduling.improve.even import keep, scheme_of
from moveplan.scheduling.improve.thrift import roomy
from moveplan.scheduling.objective.aims import DATES, asked_for, values
from moveplan.scheduling.state.desk import Spot
from moveplan.scheduling.state.frame import Frame

Date = tuple[int, int]
"""A person and a local day, by their positions. [-]"""
_ROUNDS = 3
"""Most rounds over all days. Chosen. [-]"""
_FAR_DAYS = 21
"""A task moves no farther from where it stood. Chosen. [day]"""
_A_NEW_DAY = 3
"""A day on which nobody works who need not be asked is worth so many days of distance less. Chosen. [day]"""

_MOST_TRIED = 600
"""Most tasks that are put elsewhere in all, each time of recurring care counted. [-]

Measured: the examples take up to 414; six jobs of a firm, with 1500, drive 3 % less before their rounds and the same in
rounds, for a quarter more time.
"""


def fewer_dates(frame: Frame, found: Found) -> None:
    """Take days of those who help out of a schedule, one after the other.

    Parameters
    ----------
    found : Found
        Its schedule, and the values of its aims; both are replaced where fewer days are left.
    """
    if found.desk is None or not dict(found.values).get(DATES):
        return
    gathering = _Gathering(scheme_of(frame, found, found.desk))
    for _ in range(_ROUNDS):
        if not gathering.round():
            break
    keep(found, gathering.scheme.desk)


class _Gathering:
    """Tries to empty one day of one person after the other."""

    def __init__(self, scheme: Scheme) -> None:
        self.scheme = scheme
        self.model = scheme.model
        self.desk = scheme.desk
        self.tied = {
            self.model.day_of(spot.start)
            for job, spot in zip(self.model.jobs, self.desk.spots, strict=True)
            if spot is not None and job.tag >= 0
        }
        self.left = _MOST_TRIED
        self.leads = {at for at, person in enumerate(scheme.model.problem.people) if not person.helps}
        leads_up_to = (at for at, job in enumerate(self.model.jobs) if job.tag >= 0)
        self.leading = self.model.reach(leads_up_to, forwards=False, by_waits=True)

    def round(self) -> bool:
        """Try every day once, those with least work first; whether any is empty now."""
        by_date: Counter[Date] = Counter()
        for at, spot in self._placed():
            for date in asked_for(self.model, at, spot):
                by_date[date] += spot.segments[0][1] - spot.segments[0][0]
        dates = sorted((work, date) for date, work in by_date.items() if date[1] not in self.tied)
        emptied = [self._emptied(date) for _, date in dates]
        return any(emptied)

    def _emptied(self, date: Date) -> bool:
        """Put all that somebody does on a day elsewhere, or leave it; where it finds no place, other work gives way."""
        placed = self._placed()
        work = [at for at, spot in placed if date in asked_for(self.model, at, spot)]
        if self.left <= 0 or not work or not self._free(work):
            return False
        that_day = [at for at, spot in placed if self.model.day_of(spot.start) == date[1]]
        others = [at for at in that_day if at not in work and self._free([at])]
        orders = (work, [*work, *others], [at for at, _ in placed if at in work or at in others])
        return any(self._moved(order) for order in orders)

    def _moved(self, work: Sequence[int]) -> bool:
        """Put tasks to other places, in this order, so that fewer days are asked for; else leave them."""
        before = self._worth()
        old = {at: self.desk.take(at) for at in work}
        come = {one for at, spot in self._placed() for one in asked_for(self.model, at, spot)}
        if all(self._put(at, old[at], come, before if at == work[-1] else None) for at in work):
            return True
        for at in work:
            if self.desk.spots[at] is not None:
                self.desk.take(at)
        for at in work:
            self.desk.put(at, old[at])
        return False

    def _put(self, position: int, old: Spot, come: set[Date], better_than: list[int] | None) -> bool:
        """Put a task to the first place for which nobody has to be asked; the last one where all is better for it."""
        repeats = self.model.jobs[position].task.repeats
        self.left -= repeats.times if repeats else 1
        if self.left < 0:
            return False
        for spot in self._places(position, old, come):
            self.desk.put(position, spot)
            if better_than is None or self._worth() < better_than:
                return True
            self.desk.take(position)
        return False

    def _places(self, position: int, old: Spot, come: set[Date]) -> Iterator[Spot]:
        """Give places of a task for which nobody has to be asked, at the hour at which it stood before others."""
        latest, last = self.scheme.ends(position)
        start, finish, until = self.scheme.bounds(position)
        until = min(until, last)
        starts, job = self.model.day_starts, self.model.jobs[position]
        hour = old.start - starts[self.model.day_of(old.start)]
        dear = self._dearer(old)
        in_a_day = job.task.crew is not None and job.task.repeats is None
        for day in self._days(old, start, min(until, latest), far=0 if job.task.repeats else _FAR_DAYS):
            there = {person for person, when in come if when == day and in_a_day}
            finder = Finder(
                self.desk,
                partial(self._liking, position),
                spared=dear | (self.model.jobs[position].asked - there),
            )
            over = starts[day + 1] if in_a_day and day + 1 < len(starts) else until
            for begin in (starts[day] + hour, starts[day]):
                spot = earliest_spot(finder, position, max(start, begin), finish, min(until, over))
                if spot is not None and spot.start <= latest and self._may(position, old, spot):
                    yield spot

    def _dearer(self, old: Spot) -> set[int]:
        """Name those who cost more than all who do a task."""
        wages = [person.cents_per_hour for person in self.model.problem.people]
        most = max((wages[at] for at in old.people()), default=0)
        return {at for at, wage in enumerate(wages) if wage > most}

    def _days(self, old: Spot, start: int, until: int, far: int) -> Sequence[int]:
        """Give the days worth a try, the nearest first, and those on which whoever leads works anyway before others."""
        own = self.model.day_of(old.start)
        busy = {
            self.model.day_of(spot.start)
            for _, spot in self._placed()
            if self.leads.intersection(spot.people())
        }
        first = max(own - far, self.model.day_of(max(start, self.model.problem.start)))
        last = min(own + far, self.model.day_of(until), len(self.model.day_starts) - 1)
        return sorted(
            (day for day in range(first, last + 1) if day not in self.tied),
            key=lambda day: (abs(day - own) + _A_NEW_DAY * (day not in busy), day),
        )

    def _may(self, position: int, old: Spot, new: Spot) -> bool:
        """Whether it costs no more, holds gear no longer, and leaves room for twice its time before a tied day."""
        roomier = new == old or position not in self.leading or roomy(self.model, new)
        return roomier and legal(self.scheme, position, old, new)

    def _liking(self, position: int, person: int) -> tuple[bool, int, int]:
        """Give the sort key of people: who need not be asked first, then the cheap."""
        who = self.model.problem.people[person]
        return person in self.model.jobs[position].asked, who.cents_per_hour, person

    def _placed(self) -> list[tuple[int, Spot]]:
        """List the tasks that stand, in the order of their starts."""
        spots = [(at, spot) for at, spot in enumerate(self.desk.spots) if spot is not None]
        return sorted(spots, key=lambda one: (one[1].start, one[0]))

    def _free(self, work: Sequence[int]) -> bool:
        """Whether none of some tasks stands on a tied day."""
        return all(self.model.jobs[at].tag < 0 for at in work)

    def _worth(self) -> list[int]:
        """Value the aims up to that of days; the less the better."""
        rows = values(self.desk)
        return [value for _, value in rows[: 1 + [name for name, _ in rows].index(DATES)]]
