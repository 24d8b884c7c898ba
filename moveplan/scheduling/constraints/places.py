"""The constraint model of one place at a time: nobody and nothing double-booked, drives between places."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from moveplan.network.passes import arcs_out, distances_from
from moveplan.scheduling.constraints.tasks import Piece, Sheet
from moveplan.scheduling.state.model import Job

MOST_PAIRS = 40_000
"""Most pairs of journeys that the model holds; beyond, it would be too large to be worth solving. Chosen, not
measured. [-]"""


@dataclass(frozen=True, slots=True)
class Visit:
    """One stretch of a task on one person or vehicle.

    Parameters
    ----------
    position, number : int
        The task, and which time where the work recurs.
    piece : Piece
        When. [min]
    presence : literal or None
        Whether the person takes part; None: certainly.
    place, ends_at : str
        Where it begins and ends; empty: wherever they are.
    known : int or None
        Its start in the schedule known so far, where this person takes part there. [min]
    """

    position: int
    number: int
    piece: Piece
    presence: Any
    place: str
    ends_at: str
    known: int | None


def _visits(sheet: Sheet, person: int | None, vehicle: int | None) -> list[Visit]:
    visits = []
    for position, (job, timing) in enumerate(zip(sheet.model.jobs, sheet.tasks, strict=True)):
        if person is not None and person not in timing.presence:
            continue
        if vehicle is not None and vehicle not in job.vehicles:
            continue
        presence = timing.presence[person] if person is not None else None
        for number, piece in enumerate(timing.pieces):
            known = None
            if timing.spot is not None:
                known = timing.spot.segments[number][0] if len(timing.pieces) > 1 else timing.spot.start
            place, after = job.task.place, job.task.ends_at
            visits.append(Visit(position, number, piece, presence, place, after, known))
    return visits


def add_tracks(sheet: Sheet) -> bool:
    """Write every person's and vehicle's diary; false where there are too many drives to choose from."""
    people = [(_visits(sheet, at, None), p.home) for at, p in enumerate(sheet.model.problem.people)]
    vehicles = [(_visits(sheet, None, at), v.home) for at, v in enumerate(sheet.model.problem.vehicles)]
    pairs = 0
    orders = _Orders(sheet)
    for visits, home in people + vehicles:
        _one_at_a_time(sheet, visits)
        if sheet.model.drives:
            pairs += _Drives(sheet, visits, home, orders).write()
            if pairs > MOST_PAIRS:
                return False
    if sheet.model.drives and not shortest(sheet):
        sheet.draft.restricted = True
    return True


def _one_at_a_time(sheet: Sheet, visits: Sequence[Visit]) -> None:
    cp = sheet.draft.cp
    intervals = []
    for number, visit in enumerate(visits):
        piece, name = visit.piece, f"visit {number}"
        if visit.presence is None:
            intervals.append(cp.new_interval_var(piece.start, piece.size, piece.end, name))
        else:
            intervals.append(
                cp.new_optional_interval_var(piece.start, piece.size, piece.end, visit.presence, name)
            )
    if len(intervals) > 1:
        cp.add_no_overlap(intervals)


def shortest(sheet: Sheet) -> bool:
    """Whether no detour is shorter than a drive, so that it is enough to look at pairs of tasks."""
    places = sorted(
        {place for job in sheet.model.jobs for place in (job.task.place, job.task.ends_at)} - {""}
    )
    drive = sheet.model.drives
    known = all(
        drive.get((a, c), 0) <= drive.get((a, b), 0) + drive.get((b, c), 0)
        for a in places
        for b in places
        for c in places
        if len({a, b, c}) == 3
    )
    return known and all(
        job.span.least >= drive.get((job.task.place, job.task.ends_at), 0) for job in sheet.model.jobs
    )


class _Orders:
    """Which of two visits is before the other, one literal for everybody who goes to both."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.literals: dict[tuple[int, int, int, int], Any] = {}
        self._ways: dict[int, list[int | None]] = {}
        self._out = arcs_out(sheet.graph)
        self._lasts = [_lasts(job) for job in sheet.model.jobs]

    def least(self, first: Visit, second: Visit) -> int:
        """Least time from the start of one visit to that of another, by the gaps and by the dates."""
        one, other = first.position, second.position
        if one not in self._ways:
            self._ways[one] = distances_from(self.sheet.graph, one, self._out)
        way, by_dates = self._ways[one][other], self.sheet.early[other] - self.sheet.late[one]
        between = by_dates if way is None else max(way, by_dates)
        return between + self._behind(second)[0] - self._behind(first)[1]

    def _behind(self, visit: Visit) -> tuple[int, int]:
        """Least and greatest time from the first of some visits that recur to this one; 0 for the first."""
        if not visit.number:
            return 0, 0
        repeat = self.sheet.model.jobs[visit.position].task.repeats
        if repeat is None:
            return 0, 0
        nominal = visit.number * repeat.every_min
        return nominal - repeat.slack_min, nominal + repeat.slack_min

    def apart(self, first: Visit, second: Visit, longest: int) -> bool:
        """Whether one visit is surely over so long before another begins."""
        lasts = self._lasts[first.position][1]
        return lasts is not None and self.least(first, second) >= lasts + longest

    def settled(self, first: Visit, second: Visit, drive: int) -> bool:
        """Whether the second cannot be before the first, with the drive between them."""
        return self.least(first, second) > -self._lasts[second.position][0] - drive

    def literal(self, one: Visit, other: Visit) -> Any:
        """Give the literal that says whether one visit is before the other."""
        key = (one.position, one.number, other.position, other.number)
        if key not in self.literals:
            known = None
            if one.known is not None and other.known is not None:
                known = (one.known, key[:2]) < (other.known, key[2:])
            self.literals[key] = self.sheet.draft.literal(f"order {key}", known)
        return self.literals[key]


def _lasts(job: Job) -> tuple[int, int | None]:
    """Least and greatest length of a visit; None: it may pause as long as it likes."""
    if job.task.repeats is not None:
        return job.options[0].minutes, job.options[0].minutes
    return job.span.least, job.span.greatest


_Stand = tuple[str, str, list[Any]]
"""Where a visit begins and ends, and the literals under which it does."""


class _Drives:
    """The drives of one person or vehicle."""

    def __init__(self, sheet: Sheet, visits: Sequence[Visit], home: str, orders: _Orders) -> None:
        self.sheet = sheet
        self.home = home
        self.visits = visits
        self.orders = orders
        self.places = sorted({v.place for v in visits if v.place} | {v.ends_at for v in visits if v.ends_at})
        self.whereabouts = self._known_whereabouts()
        self.longest = max(sheet.model.drives.values())

    def write(self) -> int:
        """Write them; gives the number of pairs."""
        drive = self.sheet.model.drives
        options = [self._stands(number, visit) for number, visit in enumerate(self.visits)]
        for visit, stands in zip(self.visits, options, strict=True):
            for begins, _, literals in stands:
                away = drive.get((self.home, begins), 0)
                if away:
                    self._add(visit.piece.start >= away, literals)
        pairs = 0
        for (one, ones), (other, others) in combinations(enumerate(options), 2):
            drives = [(a, b) for a in ones for b in others if any(self._driven(a, b))]
            if drives and not self._apart(self.visits[one], self.visits[other]):
                for a, b in drives:
                    self._between(one, other, a, b)
                pairs += len(drives)
        return pairs

    def _add(self, constraint: Any, literals: Sequence[Any]) -> None:
        added = self.sheet.draft.cp.add(constraint)
        if literals:
            added.only_enforce_if(*literals)

    def _stands(self, number: int, visit: Visit) -> list[_Stand]:
        """Places of a visit, each with the literals under which it is there."""
        present = [] if visit.presence is None else [visit.presence]
        if visit.place:
            return [(visit.place, visit.ends_at, present)]
        if len(self.places) < 2:
            return []
        literals = []
        for place in self.places:
            here = self.whereabouts.get(number)
            known = None if visit.known is None else place == (here or self.places[0])
            literals.append(self.sheet.draft.literal(f"at {place} {number}", known))
        self.sheet.draft.cp.add_exactly_one(literals)
        return [(p, p, [*present, literal]) for p, literal in zip(self.places, literals, strict=True)]

    def _known_whereabouts(self) -> dict[int, str]:
        """Where the known schedule has them during visits without a place."""
        here = self.home
        found = {}
        order = sorted(
            (visit.known, visit.position, number)
            for number, visit in enumerate(self.visits)
            if visit.known is not None and self._present(visit)
        )
        for _, _, number in order:
            visit = self.visits[number]
            found[number] = here
            here = visit.ends_at or here
        return found

    def _present(self, visit: Visit) -> bool:
        if visit.presence is None:
            return True
        timing = self.sheet.tasks[visit.position]
        person = next(at for at, literal in timing.presence.items() if literal is visit.presence)
        return timing.spot is not None and person in timing.spot.crews[0]

    def _apart(self, one: Visit, other: Visit) -> bool:
        """Whether the gaps keep two tasks so far apart that any drive fits between."""
        return self.orders.apart(one, other, self.longest) or self.orders.apart(other, one, self.longest)

    def _driven(self, a: _Stand, b: _Stand) -> tuple[int, int]:
        """How long it is from one place to another and back. [min]."""
        drive = self.sheet.model.drives
        return drive.get((a[1], b[0]), 0), drive.get((b[1], a[0]), 0)

    def _between(self, one: int, other: int, a: _Stand, b: _Stand) -> None:
        there, back = self._driven(a, b)
        first, second = self.visits[one], self.visits[other]
        if self.orders.settled(first, second, back):
            self._add(second.piece.start >= first.piece.end + there, [*a[2], *b[2]])
        elif self.orders.settled(second, first, there):
            self._add(first.piece.start >= second.piece.end + back, [*a[2], *b[2]])
        else:
            order = self.orders.literal(first, second)
            self._add(second.piece.start >= first.piece.end + there, [*a[2], *b[2], order])
            self._add(first.piece.start >= second.piece.end + back, [*a[2], *b[2], order.negated()])
