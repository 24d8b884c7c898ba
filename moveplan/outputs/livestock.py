"""Where every group of animals is, minute by minute: routes hung on the schedule, without a hole."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from moveplan.network.link import Hold
from moveplan.outputs.outlook import Outlook
from moveplan.practice.ledger.entries import InUse
from moveplan.practice.project import Moment, Route, Stop
from moveplan.quantities.safe_time.safe_time import SafeTime
from moveplan.scheduling.schedule import Placement
from moveplan.times import Interval


@dataclass(frozen=True, slots=True)
class DatedStop:
    """One stop of a route with its hours.

    Parameters
    ----------
    where, container : str
        Place or vehicle, and system or container, in words.
    span : Interval
        From arriving to leaving, UTC. [min]
    safe : SafeTime or None
        Safe time, only in unfiltered containers. [min]
    numbers : tuple of str
        On the labels of the containers.
    """

    where: str
    container: str
    span: Interval
    safe: SafeTime | None
    numbers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stay:
    """One unbroken time in one unfiltered container, wherever the container is carried.

    Parameters
    ----------
    where : tuple of str
        Places and vehicles it passes, in order.
    container : str
        The container in words.
    span : Interval
        From closing to opening, UTC. [min]
    safe : SafeTime
        How long it may last and what ends it. [min]
    numbers : tuple of str
        On the labels of the containers.
    room_min : int
        How long it stands where it was closed, before it is carried on. [min]
    """

    where: tuple[str, ...]
    container: str
    span: Interval
    safe: SafeTime
    numbers: tuple[str, ...] = ()
    room_min: int = 0

    @property
    def in_vehicle_min(self) -> float | None:
        """Low end from closing on where it stays in the vehicle once it is there; None: no ride, or no limit.

        What stands in the room for longer than was reckoned is that much later in the cold or heat of the vehicle.
        """
        safe = self.safe
        if len(self.where) == 1 or safe.in_vehicle_min <= 0 or not math.isfinite(safe.estimate.low):
            return None
        later_min = max(self.room_min - safe.before_min, 0.0)
        return min(safe.in_vehicle_min + later_min, safe.estimate.low)

    @property
    def aboard_min(self) -> float | None:
        """What cold or heat of the vehicle leaves of that, from being loaded on; None: something else ends it."""
        there, safe = self.in_vehicle_min, self.safe
        if there is None or (safe.limited_by != "temperature" and there >= safe.estimate.low):
            return None
        return max(there - max(self.room_min, safe.before_min), 0.0)

    @property
    def margin_min(self) -> float:
        """Low end of the safe time less what is planned; infinite where there is no limit."""
        return self.safe.estimate.low - self.span.minutes


@dataclass(frozen=True, slots=True)
class DatedRoute:
    """The way of one group of animals with its hours.

    Parameters
    ----------
    route : Route
        What practice says.
    stops : tuple of DatedStop
        In order, each beginning where the one before ends.
    stays : tuple of Stay
        Its times in unfiltered containers, in order.
    """

    route: Route
    stops: tuple[DatedStop, ...]
    stays: tuple[Stay, ...]

    @property
    def tightest(self) -> Stay | None:
        """The stay with the least margin; None where the group is never in a container."""
        return min(self.stays, key=lambda stay: (stay.margin_min, -stay.span.minutes), default=None)


def dated_routes(outlook: Outlook) -> tuple[DatedRoute, ...]:
    """Hang the routes of a project on its schedule.

    Returns
    -------
    tuple of DatedRoute
        One a group, in the order of the project; none where there is no schedule.
    """
    placements = {placement.task: placement for placement in outlook.schedule.placements}
    if not placements:
        return ()
    whole = Interval(
        min(outlook.project.scheduling.start, *(placement.start for placement in placements.values())),
        max(placement.finish for placement in placements.values()),
    )
    return tuple(_dated(route, placements, whole) for route in outlook.project.routes)


def _dated(route: Route, placements: Mapping[str, Placement], whole: Interval) -> DatedRoute:
    first, last = route.stops[0].since, route.stops[-1].until
    edges = [
        whole.start if first is None else _at(first, placements, whole.start),
        *(_change(one, other, placements, whole) for one, other in pairwise(route.stops)),
        whole.finish if last is None else _at(last, placements, whole.finish),
    ]
    stops = tuple(
        DatedStop(stop.where, stop.container, Interval(since, until), stop.safe, stop.numbers)
        for stop, (since, until) in zip(route.stops, pairwise(edges), strict=True)
        if since < until
    )
    return DatedRoute(route, stops, _stays(stops))


def _change(one: Stop, other: Stop, placements: Mapping[str, Placement], whole: Interval) -> int:
    """Minute at which one stop gives way to the next; in doubt the container gets the time."""
    ends = [
        _at(moment, placements, whole.finish) for moment in (one.until, other.since) if moment is not None
    ]
    if not ends:
        return whole.finish
    if one.safe is not None:
        return max(ends)
    return min(ends) if other.safe is not None else ends[-1]


def in_use(use: InUse | Hold, placed: Mapping[str, Placement]) -> Interval | None:
    """Date the use of a container or of gear, UTC; None where one of its tasks has no time.

    Parameters
    ----------
    use : InUse or Hold
        Its first and last task.
    placed : Mapping of str to Placement
        Where tasks stand.
    """
    first = placed.get(use.from_task)
    ends = use.ends if isinstance(use, InUse) else (use.until_task,)
    lasts = [placed[one].finish for one in ends if one in placed]
    return Interval(first.start, max(lasts)) if first and lasts else None


def _at(moment: Moment, placements: Mapping[str, Placement], otherwise: int) -> int:
    placement = placements.get(moment.task)
    if placement is None:
        return otherwise
    return placement.start if moment.edge == "start" else placement.finish


def _stays(stops: Iterable[DatedStop]) -> tuple[Stay, ...]:
    stays: list[Stay] = []
    for stop in stops:
        if stop.safe is None:
            continue
        last = stays[-1] if stays else None
        if last is not None and _goes_on(last, stop):
            where = last.where if last.where[-1] == stop.where else (*last.where, stop.where)
            span = Interval(last.span.start, stop.span.finish)
            stays[-1] = replace(last, where=where, span=span)
        else:
            room_min = stop.span.minutes
            stays.append(Stay((stop.where,), stop.container, stop.span, stop.safe, stop.numbers, room_min))
    return tuple(stays)


def _goes_on(stay: Stay, stop: DatedStop) -> bool:
    same = (stay.container, stay.safe) == (stop.container, stop.safe)
    return same and stay.span.finish == stop.span.start
