"""Hours in containers as the tasks tell them, and when two rounds mean the same."""

from __future__ import annotations

from moveplan.practice.compose import project_of
from moveplan.practice.measured import NEAR_H, alike
from moveplan.quantities.containers.journeys import journeys_of
from tests.quantities.plans import edited


def measured(before_h: float, after_h: float = 2.0):  # type: ignore[no-untyped-def]
    """One leg with one group."""
    return ({"clowns": journeys_of(before_h, 1.0, after_h, 1.0, 1.0)},)


def test_a_quarter_of_an_hour_more_or_less_is_the_same() -> None:
    assert alike(measured(3.0), measured(3.0 + NEAR_H))
    assert not alike(measured(3.0), measured(4.0))
    assert not alike(measured(3.0), measured(3.0, 3.0))


def test_other_groups_are_never_the_same() -> None:
    assert not alike(measured(3.0), ({},))


def test_animals_in_two_vehicles_are_as_long_on_the_road_as_each_of_them_is() -> None:
    """What lies between loading one vehicle and unloading the other keeps nobody on the road."""
    corals = "kind: small-polyp-coral, count: {}, size: {} cm"
    plan = edited(
        ("  van: {", "  car: {name: Car, payload: 400 kg}\n  van: {"),
        ("payload: 1100 kg", "payload: 400 kg"),
        (corals.format(4, 8), corals.format(36, 14)),
    )
    project = project_of(plan, steps=False)
    rides = {
        load.vehicle for load in project.loads for item in load.items if item.name.endswith(" of corals")
    }
    assert rides == {"van", "car"}
    drives = [task.minutes for task in project.network.tasks if task.id.startswith("drive")]
    way = project.measured[0]["corals"].whole
    assert way.before_h > way.road_h
    assert way.road_h < 1.5 + 2 * max(drives) / 60
