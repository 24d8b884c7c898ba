"""How long it takes from one place to another, over all jobs; an unknown way goes by the base and is never free."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations

from moveplan.firm.values import Firm
from moveplan.plan.move import Assumption, Plan
from moveplan.plan.places import Drive, Place
from moveplan.quantities.policy import Policy
from moveplan.science.carrying.travel import drive_time_h

BASE = ""
"""The base, as a site. [-]"""
USUAL_KM = 20.0
"""From the base to a place whose plan does not say it; assumed, on the long side. [km]"""
GRID_MIN = 5
"""Drives are counted in whole steps of so long, upwards. [min]"""

Site = str
"""``JOB.PLACE``, or the base. [-]"""


def site_of(job: str, place: str) -> Site:
    """Name a place of a job; desk work, which has none, is at the base.

    >>> site_of("office", "old"), site_of("office", "")
    ('office.old', '')
    """
    return f"{job}.{place}" if place else BASE


@dataclass(frozen=True, slots=True)
class Roads:
    """Likely minutes and kilometres between sites.

    Parameters
    ----------
    ways : Mapping of (str, str) to (int, float)
        Minutes and kilometres by pair of sites, both ways, the base among them. [min], [km]
    assumptions : tuple of Assumption
        What was assumed for want of a distance.
    """

    ways: Mapping[tuple[Site, Site], tuple[int, float]]
    assumptions: tuple[Assumption, ...] = ()

    def minutes(self, origin: Site, destination: Site) -> int:
        """Drive between two sites. [min]."""
        return 0 if origin == destination else self.ways[origin, destination][0]

    def km(self, origin: Site, destination: Site) -> float:
        """Way between two sites. [km]."""
        return 0.0 if origin == destination else self.ways[origin, destination][1]

    def sites(self, job: str) -> tuple[Site, ...]:
        """Name the sites of a job."""
        rows = (destination for origin, destination in self.ways if origin == BASE)
        return tuple(one for one in rows if one.startswith(f"{job}."))

    def farthest(self, job: str) -> int:
        """Drive from the base to the farther place of a job. [min]."""
        return max((self.minutes(BASE, one) for one in self.sites(job)), default=0)

    def apart(self, job: str, other: Site) -> int:
        """Drive from any place of a job, or from its desk work at the base, to another site: the longest. [min]."""
        return max(self.minutes(one, other) for one in (BASE, *self.sites(job)))

    def nearest(self, job: str, other: Site) -> int:
        """Drive from the nearest place of a job, or from the base, to another site. [min]."""
        return min(self.minutes(one, other) for one in (BASE, *self.sites(job)))


def roads_of(firm: Firm, plans: Mapping[str, Plan]) -> Roads:
    """Find the way between every two places of all jobs, and to the base.

    Parameters
    ----------
    firm : Firm
        Its ways between areas and places.
    """
    places = {site_of(job, one.id): one for job, plan in plans.items() for one in plan.places}
    ways: dict[tuple[Site, Site], tuple[int, float]] = {}
    for site, place in places.items():
        _add(ways, BASE, site, _from_base(place))
    for job, plan in plans.items():
        for drive in plan.drives:
            _add(ways, site_of(job, drive.origin), site_of(job, drive.destination), drive)
    given = {frozenset((one.origin, one.destination)): one for one in firm.drives}
    unknown: set[str] = set()
    for one, two in combinations(places, 2):
        if (one, two) in ways:
            continue
        known = _given(given, one, two, places)
        if known is not None:
            _add(ways, one, two, known)
            continue
        unknown.add(" and ".join(sorted(places[site].area or site for site in (one, two))))
        there, back = ways[one, BASE], ways[BASE, two]
        ways[one, two] = ways[two, one] = there[0] + back[0], there[1] + back[1]
    return Roads(ways, (*_distances(places), *_roundabout(firm, sorted(unknown))))


def _add(ways: dict[tuple[Site, Site], tuple[int, float]], one: Site, two: Site, drive: Drive) -> None:
    ways[one, two] = ways[two, one] = drive_min(drive), drive.distance_km


def drive_min(drive: Drive) -> int:
    """Likely time of a drive door to door, in whole steps upwards. [min].

    >>> drive_min(Drive("a", "b", 0.0, None)), drive_min(Drive("a", "b", 0.5, None))
    (0, 10)
    """
    policy = Policy({})
    ends_h = policy["drive_ends"] / 60
    minutes = (
        drive.minutes.likely
        if drive.minutes
        else 60
        * float(
            drive_time_h(
                drive.distance_km,
                policy["drive_speed"],
                policy["break_after"],
                policy["break_length"],
                ends_h,
            )
        )
    )
    return GRID_MIN * -(-round(minutes) // GRID_MIN)


def _from_base(place: Place) -> Drive:
    km = USUAL_KM if place.from_base_km is None else place.from_base_km
    return Drive(BASE, place.id, km, None)


def _given(
    given: Mapping[frozenset[str], Drive], one: Site, two: Site, places: Mapping[Site, Place]
) -> Drive | None:
    """Look a way up by places first, then by a place and an area, then by areas."""
    for first in (one, places[one].area):
        for second in (two, places[two].area):
            if first and second and frozenset((first, second)) in given:
                return given[frozenset((first, second))]
    return None


def _distances(places: Mapping[Site, Place]) -> Iterable[Assumption]:
    for site, place in places.items():
        if place.from_base_km is None:
            key = f"jobs.{site.replace('.', '.places.', 1)}.from-base"
            yield Assumption(key, f"{USUAL_KM:g} km", "its plan does not say how far it is from the base")


def _roundabout(firm: Firm, pairs: list[str]) -> Iterable[Assumption]:
    if pairs:
        why = f"no way is given between {'; '.join(pairs)}"
        yield Assumption("drives", f"by way of {firm.base.name}", why)
