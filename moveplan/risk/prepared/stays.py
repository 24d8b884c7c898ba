"""Stays of animals in unfiltered containers."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from moveplan.practice.project import Moment, Project, Route
from moveplan.quantities.safe_time.safe_time import SafeTime


@dataclass(frozen=True, slots=True)
class Stay:
    """One stay of a group in an unfiltered container.

    Parameters
    ----------
    livestock : str
        Id of the group.
    since, until : Moment
        From when, until when.
    safe : SafeTime
        How long is safe.
    container : str
        In words.
    """

    livestock: str
    since: Moment
    until: Moment
    safe: SafeTime
    container: str


def stays_of(project: Project) -> tuple[Stay, ...]:
    """List the stays of all groups; stretches in the same container are one stay."""
    return tuple(stay for route in project.routes for stay in _stays(route))


def _stays(route: Route) -> list[Stay]:
    found = []
    for (container, safe), several in groupby(route.stops, key=lambda stop: (stop.container, stop.safe)):
        stops = list(several)
        since, until = stops[0].since, stops[-1].until
        if safe is not None and since is not None and until is not None:
            found.append(Stay(route.livestock, since, until, safe, container))
    return found
