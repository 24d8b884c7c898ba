"""How many watts are drawn at each place at each time, by what, and what the circuit there carries."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from moveplan.errors import Problem
from moveplan.plan.places import Place
from moveplan.practice.comfort.outlets import MAINS, Aired
from moveplan.practice.comfort.whereabouts import Standing, standings_of
from moveplan.practice.project import Project
from moveplan.quantities.circuits import CIRCUIT_SHARE, carries_w, usual_w
from moveplan.scheduling.schedule import Schedule

IN_CONTAINERS, AIR = "tub-heaters", "air"
"""What heaters in containers, and air pumps on the wall are called."""


@dataclass(frozen=True, slots=True)
class PlugIn:
    """One thing, or what is switched together, that draws power at a place.

    Parameters
    ----------
    since, until : int
        UTC. [min]
    watts : float
        [W]
    what : str
        ``heaters``, ``pumps``, ``lights``, ``spare-heaters``, ``mixing``, ``tub-heaters`` or ``air``.
    """

    place: Place
    since: int
    until: int
    watts: float
    what: str


@dataclass(frozen=True, slots=True)
class Draw:
    """Watts drawn at a place for a time in which nothing changes.

    Parameters
    ----------
    since, until : int
        UTC. [min]
    parts : tuple of (str, float)
        By what, the most first. [W]
    """

    place: Place
    since: int
    until: int
    parts: tuple[tuple[str, float], ...]

    @property
    def watts(self) -> float:
        """All of it. [W]."""
        return sum(watts for _, watts in self.parts)


def plugged_in(
    project: Project, schedule: Schedule, standings: Sequence[Standing], aired: Iterable[Aired] = ()
) -> tuple[PlugIn, ...]:
    """List what draws power, in order of time.

    Parameters
    ----------
    project : Project
        Its tanks and what runs on them.
    aired : iterable of Aired
        Air stones on their outlets.
    """
    if not schedule.placements:
        return ()
    rows = [*_of_tanks(project, schedule), *_of_containers(standings), *_of_air(project, aired)]
    return tuple(sorted(rows, key=lambda row: (row.since, row.place.id, row.what)))


def _of_tanks(project: Project, schedule: Schedule) -> Iterator[PlugIn]:
    placed = {one.task: one for one in schedule.placements}
    places = {place.id: place for place in project.plan.places}
    first = min(one.start for one in schedule.placements)
    last = max(one.finish for one in schedule.placements)
    for one in project.ledger.running:
        since = placed[one.from_task].start if one.from_task in placed else first
        until = placed[one.until_task].finish if one.until_task in placed else last
        if since < until:
            yield PlugIn(places[one.place], since, until, one.watts, one.what)


def _of_containers(standings: Iterable[Standing]) -> Iterator[PlugIn]:
    for one in standings:
        watts = one.use.vessel.heater_w
        for leg in one.stretches if watts else ():
            if leg.powered and isinstance(leg.where, Place):
                yield PlugIn(leg.where, leg.since, leg.until, watts, IN_CONTAINERS)


def _of_air(project: Project, aired: Iterable[Aired]) -> Iterator[PlugIn]:
    """Give pumps on the wall, as far as the plan says what they draw: a share of one for each outlet."""
    watts = {item.id: item.power_w / item.outlets for item in project.plan.gear}
    for row in aired:
        if row.outlet_of == MAINS and watts.get(row.gear):
            rooms = (leg.where for leg in row.standing.stretches if leg.since <= row.since < leg.until)
            for place in rooms:
                if isinstance(place, Place):
                    yield PlugIn(place, row.since, row.until, watts[row.gear], AIR)


def draws_of(rows: Sequence[PlugIn]) -> Iterator[Draw]:
    """Add up what is plugged in at each place, cut where something is plugged in or out."""
    for name in dict.fromkeys(row.place.id for row in rows):
        here = [row for row in rows if row.place.id == name]
        moments = sorted({moment for row in here for moment in (row.since, row.until)})
        for since, until in pairwise(moments):
            now = [row for row in here if row.since <= since and until <= row.until]
            if now:
                yield Draw(here[0].place, since, until, _parts(now))


def _parts(rows: Iterable[PlugIn]) -> tuple[tuple[str, float], ...]:
    sums: dict[str, float] = {}
    for row in rows:
        sums[row.what] = sums.get(row.what, 0.0) + row.watts
    return tuple(sorted(sums.items(), key=lambda part: (-part[1], part[0])))


def worst_draws(project: Project, schedule: Schedule) -> tuple[Draw, ...]:
    """Find the moment at which most is drawn, for each place.

    Parameters
    ----------
    project : Project
        Its tanks and what runs on them.
    """
    worst: dict[str, Draw] = {}
    for draw in draws_of(plugged_in(project, schedule, standings_of(project, schedule))):
        before = worst.get(draw.place.id)
        if before is None or draw.watts > before.watts:
            worst[draw.place.id] = draw
    return tuple(worst.values())


def over_circuits(project: Project, schedule: Schedule) -> tuple[Problem, ...]:
    """Say where more is drawn than the circuit carries: one line a place, at its worst.

    Parameters
    ----------
    project : Project
        Its tanks and what runs on them.
    """
    return tuple(
        Problem(
            f"{_drawn(draw)}; for hours its circuit carries {limit:.0f} W, {CIRCUIT_SHARE:.0%} of what is written: "
            f"{draw.watts - limit:.0f} W too much, and what trips stops every pump",
            project.plan.where(_key(draw)),
            "plug something into another circuit, or draw less; rating plates and an electrician decide",
        )
        for draw in worst_draws(project, schedule)
        if (limit := carries_w(draw.place)) is not None and draw.watts > limit
    )


def unknown_circuits(project: Project, schedule: Schedule) -> tuple[Problem, ...]:
    """Say where more is drawn than the weakest usual circuit carries, and the plan does not say what that one does.

    Parameters
    ----------
    project : Project
        Its tanks and what runs on them.
    """
    return tuple(
        Problem(
            f"{_drawn(draw)}; nothing is said of the circuit there, and the weakest usual one carries "
            f"{usual_w(draw.place):.0f} W for hours",
            project.plan.where(_key(draw)),
            f'read the fuse or the breaker and write "{_key(draw)}: … W" (volts times amperes); two circuits count '
            "as one that carries both",
        )
        for draw in worst_draws(project, schedule)
        if carries_w(draw.place) is None and draw.watts > usual_w(draw.place)
    )


def _key(draw: Draw) -> str:
    return f"places.{draw.place.id}.circuit"


_NAMED = {
    "heaters": "heaters of tanks",
    "pumps": "pumps and what runs beside them",
    "lights": "lamps",
    "spare-heaters": "spare heaters",
    "mixing": "heaters in new water",
    IN_CONTAINERS: "heaters in containers",
    AIR: "air pumps",
}


def _drawn(draw: Draw) -> str:
    parts = ", ".join(f"{watts:.0f} W {_NAMED[what]}" for what, watts in draw.parts)
    return f"{draw.watts:.0f} W are drawn at {draw.place.name} at one time ({parts})"
