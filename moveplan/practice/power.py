"""How many watts are drawn at each place at each time by tanks and heaters, and what the circuit gives."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from moveplan.errors import Problem
from moveplan.plan.places import Place
from moveplan.practice.project import Project
from moveplan.practice.whereabouts import Standing, standings_of
from moveplan.quantities.keeping.equipment import CIRCUIT_SHARE
from moveplan.scheduling.schedule import Schedule


@dataclass(frozen=True, slots=True)
class Draw:
    """Watts drawn at a place for a time in which nothing changes.

    Parameters
    ----------
    place : Place
        Where. [-]
    since, until : int
        UTC. [min]
    watts : float
        All of it. [W]
    heaters_w : float
        What of it heats containers. [W]
    """

    place: Place
    since: int
    until: int
    watts: float
    heaters_w: float

    @property
    def circuit_w(self) -> float | None:
        """What the circuit may carry for hours; None where the plan does not say. [W]."""
        return circuit_w(self.place)


def circuit_w(place: Place) -> float | None:
    """Say what the circuit of a place may carry for hours; None where the plan does not say. [W]."""
    return None if place.circuit_w is None else CIRCUIT_SHARE * place.circuit_w


_Load = tuple[str, int, int, float, float]


def draws_of(project: Project, schedule: Schedule, standings: Sequence[Standing]) -> tuple[Draw, ...]:
    """Add up what draws power at each place.

    Parameters
    ----------
    project : Project
        Its tanks and what runs on them. [-]
    schedule : Schedule
        Its schedule. [-]
    standings : sequence of Standing
        Dated uses of containers. [-]
    """
    if not schedule.placements:
        return ()
    loads = [*_of_tanks(project, schedule), *_of_containers(standings)]
    places = {place.id: place for place in project.plan.places}
    return tuple(
        draw
        for name in dict.fromkeys(load[0] for load in loads)
        for draw in _at(places[name], [load for load in loads if load[0] == name])
    )


def _of_tanks(project: Project, schedule: Schedule) -> Iterator[_Load]:
    placed = {one.task: one for one in schedule.placements}
    first = min(one.start for one in schedule.placements)
    last = max(one.finish for one in schedule.placements)
    for one in project.ledger.running:
        since = placed[one.from_task].start if one.from_task in placed else first
        until = placed[one.until_task].finish if one.until_task in placed else last
        if since < until:
            yield one.place, since, until, one.watts, 0.0


def _of_containers(standings: Iterable[Standing]) -> Iterator[_Load]:
    for one in standings:
        watts = one.use.vessel.heater_w
        for leg in one.stretches if watts else ():
            if leg.powered:
                yield leg.where.id, leg.since, leg.until, watts, watts


def _at(place: Place, loads: list[_Load]) -> Iterator[Draw]:
    """Cut the time at one place where something is plugged in or out."""
    moments = sorted({moment for load in loads for moment in load[1:3]})
    for since, until in pairwise(moments):
        now = [load for load in loads if load[1] <= since and until <= load[2]]
        if now:
            yield Draw(place, since, until, sum(load[3] for load in now), sum(load[4] for load in now))


def over_circuits(project: Project, schedule: Schedule) -> tuple[Problem, ...]:
    """Say where more is drawn than the circuit carries, and what would do: one line a place, at its worst.

    Parameters
    ----------
    project : Project
        Its tanks and what runs on them. [-]
    schedule : Schedule
        Its schedule. [-]
    """
    worst: dict[str, Draw] = {}
    for draw in draws_of(project, schedule, standings_of(project, schedule)):
        limit, before = draw.circuit_w, worst.get(draw.place.id)
        if limit is not None and draw.watts > max(limit, before.watts if before else 0.0):
            worst[draw.place.id] = draw
    return tuple(_problem(project, draw) for draw in worst.values())


def _problem(project: Project, draw: Draw) -> Problem:
    limit = draw.circuit_w or 0.0
    over = draw.watts - limit
    fewer = (
        f"; {draw.heaters_w:.0f} W of that are heaters in containers, which may take turns"
        if draw.heaters_w >= over
        else ""
    )
    return Problem(
        f"tanks and heaters draw {draw.watts:.0f} W at {draw.place.name} at one time, {CIRCUIT_SHARE:.0%} of its "
        f"circuit are {limit:.0f} W",
        project.plan.where(f"places.{draw.place.id}.circuit"),
        f"put {over:.0f} W on a second circuit, or unplug as much{fewer}; rating plates and an electrician decide",
    )
