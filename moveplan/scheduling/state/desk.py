"""Where each task stands so far, and the diaries and stocks that go with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from moveplan.scheduling.state.model import Model
from moveplan.scheduling.state.stock import Stock
from moveplan.scheduling.state.tracks import NEVER, Booking, Track, Windows

Stretch = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one task could stand.

    Parameters
    ----------
    start, finish : int
        First start and last finish. [min]
    segments : tuple of (int, int)
        The working stretches. [min]
    crews : tuple of tuple of int
        People, one crew a segment, or one for all.
    """

    start: int
    finish: int
    segments: tuple[Stretch, ...]
    crews: tuple[tuple[int, ...], ...] = ((),)

    def staffed(self) -> Iterable[tuple[Stretch, tuple[int, ...]]]:
        """Each segment with its crew."""
        crews = self.crews if len(self.crews) == len(self.segments) else self.crews * len(self.segments)
        return zip(self.segments, crews, strict=True)

    def people(self) -> tuple[int, ...]:
        """Everybody who takes part, in order."""
        return tuple(sorted({person for crew in self.crews for person in crew}))


class Desk:
    """The state of a schedule under construction."""

    def __init__(self, model: Model) -> None:
        problem = model.problem
        self.model = model
        self.spots: list[Spot | None] = [None] * len(model.jobs)
        self.people = [
            Track(windows, person.home, problem.start, model.drives)
            for windows, person in zip(model.people, problem.people, strict=True)
        ]
        self.vehicles = [
            Track(windows, vehicle.home, problem.start, model.drives)
            for windows, vehicle in zip(model.vehicles, problem.vehicles, strict=True)
        ]
        self.stocks = [Stock(gear.count) for gear in problem.gear]
        self._common: dict[tuple[tuple[int, ...], tuple[int, ...]], Windows] = {}

    def put(self, position: int, spot: Spot) -> None:
        """Write a task in."""
        self.spots[position] = spot
        self._book(position, spot, 1)

    def take(self, position: int) -> Spot:
        """Take a task back."""
        spot = self.spots[position]
        if spot is None:
            raise KeyError(position)
        self._book(position, spot, -1)
        self.spots[position] = None
        return spot

    def copied(self) -> Desk:
        """Copy the spots; the copy is complete, its diaries and stocks are written anew."""
        other = Desk(self.model)
        for position, spot in enumerate(self.spots):
            if spot is not None:
                other.put(position, spot)
        return other

    def _book(self, position: int, spot: Spot, sign: int) -> None:
        for track, booking in self._bookings(position, spot):
            (track.add if sign > 0 else track.remove)(booking)
        job = self.model.jobs[position]
        stretches = spot.segments if job.task.repeats else ((spot.start, spot.finish),)
        for gear, count in job.gear:
            for begin, end in stretches:
                self.stocks[gear].add(begin, end, sign * count)
        for gear, count, until in job.opens:
            self.stocks[gear].add(spot.start, self._held_until(position, until, spot), sign * count)
        for gear, count, since in job.closes:
            if since != position and self.spots[since] is not None:
                self.stocks[gear].add(spot.finish, NEVER, -sign * count)

    def _held_until(self, position: int, until: int, spot: Spot) -> int:
        if until == position:
            return spot.finish
        last = self.spots[until]
        return last.finish if last is not None else NEVER

    def _bookings(self, position: int, spot: Spot) -> list[tuple[Track, Booking]]:
        """List what to write into which diary; several people on paused work stay with it until it is done."""
        job = self.model.jobs[position]
        place, after = job.task.place, job.task.ends_at
        pairs: list[tuple[Track, Booking]] = []
        whole = len(spot.segments) > 1 and not job.task.repeats and len(spot.crews[0]) > 1
        stretches = [((spot.start, spot.finish), spot.crews[0])] if whole else spot.staffed()
        for (begin, end), crew in stretches:
            tracks = [self.people[person] for person in crew]
            tracks += [self.vehicles[vehicle] for vehicle in job.vehicles]
            pairs += [(track, (begin, end, place, after)) for track in tracks]
        return pairs

    def common(self, crew: tuple[int, ...], vehicles: tuple[int, ...]) -> Windows:
        """Give the hours that all of a crew and its vehicles have."""
        key = (crew, vehicles)
        if key not in self._common:
            all_of = [self.model.people[at] for at in crew] + [self.model.vehicles[at] for at in vehicles]
            shared = all_of[0]
            for windows in all_of[1:]:
                shared = shared.common(windows)
            self._common[key] = shared
        return self._common[key]
