"""Other means: a vehicle for longer, bags in place of tubs, another way of moving."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from moveplan.changed.change import Change
from moveplan.plan.people import Vehicle
from moveplan.practice.project import Project
from moveplan.practice.ways.fitting import SHUT_DOWN, ways_of
from moveplan.quantities.containers.vessels import Use
from moveplan.times import MINUTES_A_DAY, to_local

BAG, OPEN = "bag", ("tub", "pail")


def hired_longer(project: Project, vehicle_id: str) -> Iterator[Change]:
    """Offer to keep a vehicle a day longer."""
    vehicle = next((one for one in project.plan.vehicles if one.id == vehicle_id), None)
    if vehicle is None or vehicle.hire_until is None:
        return
    longer = replace(vehicle, hire_until=vehicle.hire_until + MINUTES_A_DAY)
    yield Change(
        ((f"vehicles.{vehicle.id}.hire", _hire(project, longer)),),
        lambda old: replace(
            old, vehicles=tuple(longer if one.id == longer.id else one for one in old.vehicles)
        ),
        "hire",
        (vehicle.id,),
    )


def _hire(project: Project, vehicle: Vehicle) -> str:
    zone = project.plan.zone
    ends = (("from", vehicle.hire_from), ("until", vehicle.hire_until))
    said = (f"{key}: {to_local(at, zone):%Y-%m-%d %H:%M}" for key, at in ends if at is not None)
    return f"{{{', '.join(said)}}}"


def in_bags(project: Project) -> Iterator[Change]:
    """Offer bags to animals, corals aside, that travel in tubs or pails because the keeper has not said in what.

    Parameters
    ----------
    project : Project
        Its animals, and the containers that were chosen for them.
    """
    free = {group.id for group in project.plan.livestock if not group.container}
    vessels = (use.vessel for use in project.ledger.containers)
    animals = (vessel for vessel in vessels if vessel.kind in OPEN and vessel.use is Use.ANIMALS)
    held = (one.id for vessel in animals for one in vessel.holds if one.count)
    groups = tuple(dict.fromkeys(group for group in held if group in free))
    if groups:
        yield Change(
            tuple((f"livestock.{group}.container", BAG) for group in groups),
            lambda old: replace(
                old,
                livestock=tuple(
                    replace(one, container=BAG) if one.id in groups else one for one in old.livestock
                ),
            ),
            "bags",
            groups,
            anew=True,
        )


def other_way(project: Project) -> Iterator[Change]:
    """Offer the other ways of moving that the facts allow, but for giving all animals away.

    Parameters
    ----------
    project : Project
        Its plan and its way.
    """
    for fit in ways_of(project.plan):
        if fit.fits and fit.way not in (project.way, SHUT_DOWN):
            yield _way(fit.way)


def _way(way: str) -> Change:
    return Change((("way", way),), lambda old: replace(old, way=way), "way", (way,), anew=True)
