"""The earliest spot of one task among the bookings so far."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import islice

from moveplan.scheduling.state.crews import Liking, crews
from moveplan.scheduling.state.desk import Desk, Spot, Stretch
from moveplan.scheduling.state.model import Job
from moveplan.scheduling.state.tracks import NEVER, Track

CREWS_TRIED = 24
"""Crews tried for a task at one start; the better liked come first. Chosen, not measured. [-]"""


class Finder:
    """Looks for spots.

    Parameters
    ----------
    desk : Desk
        The schedule so far; only read.
    liking : callable or None
        Sort key of a person, the least liked last; None: the cheap, the versatile last, the idle first.
    spared : collection of int
        People whom it does not ask.
    around : bool
        Whether it looks around tasks that stand already: gear that they hold later may be taken until then.
    """

    def __init__(
        self,
        desk: Desk,
        liking: Liking | None = None,
        spared: Collection[int] = (),
        around: bool = False,
    ) -> None:
        self.desk = desk
        self.spared = spared
        self.around = around
        self.model = desk.model
        self.given = liking
        self.steps = 0

    def liking(self, job: Job) -> Liking:
        """Whom to ask first: whoever the attempt likes; else the cheapest, but on a tied day whoever is missed least.

        There everybody waits for the hands with most skills, and price decides among equals only.
        """
        return self.given or (self._missed_least if job.tag >= 0 else self._cheapest)

    def _cheapest(self, person: int) -> tuple[int, int, int, int]:
        wage = self.model.problem.people[person].cents_per_hour
        return wage, len(self.model.skills[person]), self.desk.people[person].booked, person

    def _missed_least(self, person: int) -> tuple[int, int, int, int]:
        wage = self.model.problem.people[person].cents_per_hour
        return len(self.model.skills[person]), wage, self.desk.people[person].booked, person

    def pool(self, job: Job) -> Sequence[int]:
        """Those who may be asked to a task."""
        return [at for at in job.pool if at not in self.spared] if self.spared else job.pool

    def earliest(self, position: int, start: int, finish: int, until: int) -> Spot | None:
        """Earliest spot of a task that happens once.

        Parameters
        ----------
        start, finish : int
            It starts and finishes no earlier. [min]
        until : int
            It finishes no later. [min]

        Returns
        -------
        Spot or None
            None: there is none.
        """
        self.steps += 1
        job = self.model.jobs[position]
        best: Spot | None = None
        for option in job.options:
            lasts = option.minutes
            if job.task.may_pause and (job.pool or job.vehicles):
                spot = self._pausing(position, job, option.count, lasts, start, finish, until)
            else:
                spot = self.at_once(position, job, option.count, lasts, max(start, finish - lasts), until)
            if spot and (best is None or spot.finish < best.finish):
                best = spot
            if best is not None and job.late:
                break
        return best

    def at_once(self, position: int, job: Job, count: int, lasts: int, start: int, until: int) -> Spot | None:
        """Earliest spot without a pause, not before ``start``."""
        moment = start
        while True:
            moment = self._all_free(position, job, lasts, self.model.on_grid(moment))
            if moment + lasts > until:
                return None
            if not job.task.crew:
                return Spot(moment, moment + lasts, ((moment, moment + lasts),))
            crew, moment = self._crew_at(job, count, lasts, moment)
            if crew:
                return Spot(moment, moment + lasts, ((moment, moment + lasts),), (crew,))

    def _all_free(self, position: int, job: Job, lasts: int, moment: int) -> int:
        """Earliest moment of the grid at which vehicles and gear are free."""
        place, after = job.task.place, job.task.ends_at
        while moment < NEVER:
            begin = moment
            for vehicle in job.vehicles:
                moment = self.desk.vehicles[vehicle].earliest(moment, lasts, place, after)
            moment = self.gear_free(position, job, moment, lasts)
            if moment == begin:
                return moment
            moment = self.model.on_grid(moment) if moment < NEVER else NEVER
            self.steps += 1
        return NEVER

    def gear_free(self, position: int, job: Job, moment: int, lasts: int) -> int:
        """Earliest moment at which the gear of a task, held beyond it or not, is free."""
        if moment >= NEVER or not (job.gear or job.opens or job.closes):
            return moment
        stocks = self.desk.stocks
        held: dict[int, int] = {}
        for gear, _, since in job.closes if self.around else ():
            first = self.desk.spots[since]
            if first is not None and moment + lasts > stocks[gear].short_from(first.start):
                return NEVER
        for gear, count, until in job.opens:
            last = self.desk.spots[until]
            end = moment + lasts if until == position else NEVER if last is None else last.finish
            if last is None and self.around:
                end = moment + lasts
            moment = stocks[gear].clear_from(moment, end, count)
            held[gear] = held.get(gear, 0) + count
        for gear, count in job.gear:
            if moment < NEVER:
                moment = stocks[gear].earliest(moment, lasts, count + held.get(gear, 0))
        return moment

    def _crew_at(self, job: Job, count: int, lasts: int, moment: int) -> tuple[tuple[int, ...], int]:
        """Find a crew that is free at a moment; or nobody, and the next moment worth a look."""
        place, after = job.task.place, job.task.ends_at
        free, later = [], NEVER
        for person in self.pool(job):
            ready = self.desk.people[person].earliest(moment, lasts, place, after)
            if ready == moment:
                free.append(person)
            elif ready < later:
                later = ready
        self.steps += 1
        if len(free) >= max(count, len(job.named)):
            for crew in crews(self.model, job, count, free, self.liking(job)):
                return crew, moment
        return (), later

    def _pausing(
        self, position: int, job: Job, count: int, lasts: int, start: int, finish: int, until: int
    ) -> Spot | None:
        """Earliest finish of work that stops where the hours of its crew end."""
        best: Spot | None = None
        wanted: Sequence[tuple[int, ...]] = [()]
        if job.task.crew:
            wanted = list(
                islice(crews(self.model, job, count, self.pool(job), self.liking(job)), CREWS_TRIED)
            )
        for crew in wanted:
            spot = self._worked(position, job, crew, lasts, start, finish, best.finish if best else until)
            if spot and (best is None or spot.finish < best.finish):
                best = spot
        return best

    def _worked(
        self, position: int, job: Job, crew: tuple[int, ...], lasts: int, start: int, finish: int, until: int
    ) -> Spot | None:
        hours = self.desk.common(crew, job.vehicles)
        tracks = [self.desk.people[at] for at in crew] + [self.desk.vehicles[at] for at in job.vehicles]
        moment = start
        while True:
            self.steps += 1
            moment = max([moment, *(track.idle(moment) for track in tracks)]) if lasts else moment
            if moment >= NEVER:
                return None
            work = hours.walk(self.model.on_grid(hours.fit(moment, min(lasts, 1))), lasts)
            if not work or work[-1][1] > until:
                return None
            later = max(self._hindered(job, tracks, work), work[0][0] + finish - work[-1][1])
            if later <= work[0][0]:
                elapsed = work[-1][1] - work[0][0]
                later = self.gear_free(position, job, work[0][0], elapsed)
            if later <= work[0][0]:
                return Spot(work[0][0], work[-1][1], tuple(work), (crew,))
            if later >= NEVER:
                return None
            moment = later

    def _hindered(self, job: Job, tracks: Sequence[Track], work: Sequence[Stretch]) -> int:
        """From when on to try again where any stretch collides; else the start of the work."""
        place, after = job.task.place, job.task.ends_at
        whole = len(work) > 1 and len(tracks) > len(job.vehicles) + 1
        for begin, end in [(work[0][0], work[-1][1])] if whole else work:
            for track in tracks:
                later = track.conflict(begin, end, place, after)
                if later > begin:
                    return later
        return work[0][0]
