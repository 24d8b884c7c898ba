"""The way of every animal, without a hole, and the greatest gap that its safe time makes."""

from __future__ import annotations

import re
from itertools import groupby, pairwise

from moveplan.network.link import Relation
from moveplan.practice.compose import project_of
from tests.practice.drafting.test_wording import every_plan, project
from tests.quantities.plans import TEXT, edited, plan_of

LARGE = "length: 220 cm, width: 110 cm, height: 110 cm, wall: 19 mm, base: 19 mm, water-height: 100"


@every_plan
def test_every_way_is_without_a_hole(name: str) -> None:
    found = project(name)
    for route in found.routes:
        assert route.stops[0].since is None
        assert route.stops[-1].until is None
        for before, after in pairwise(route.stops):
            assert before.until == after.since


@every_plan
def test_every_unfiltered_stop_has_a_safe_time_and_every_tank_has_none(name: str) -> None:
    for route in project(name).routes:
        assert route.stops[0].safe is None
        assert route.stops[-1].safe is None
        for stop in route.stops:
            if stop.safe is not None:
                assert 0 < stop.safe.estimate.low <= stop.safe.estimate.high
        assert route.allowance_min >= 0


def test_the_greatest_gap_is_the_safe_time_less_the_allowance() -> None:
    found = project("tests")
    gaps = {
        (link.before, link.after): link.max_gap_min
        for link in found.network.links
        if link.relation is Relation.STARTTOFINISH
    }
    for route in found.routes:
        for safe, stops in groupby(route.stops, lambda stop: stop.safe):
            if safe is None:
                continue
            stay = list(stops)
            out, home = stay[0].since, stay[-1].until
            assert out is not None
            assert home is not None
            greatest = gaps[out.task, home.task]
            assert greatest is not None
            # Animals that go the same way share the shortest of their gaps.
            allowance = 0 if home.edge == "start" else route.allowance_min
            assert 0 < greatest <= int(safe.estimate.low) - allowance


def test_animals_that_cannot_last_make_the_plan_unsafe_and_are_named() -> None:
    plan = edited(
        ("water-making:", "policy: {longest_aerated: 3 h, longest_sealed_air: 3 h}\nwater-making:"),
    )
    messages = [str(problem) for problem in project_of(plan).unsafe]
    assert len(messages) >= 4
    assert messages[0].startswith("plan.yaml:")
    assert any("Clownfish would be " in message and "; policy ends it; " in message for message in messages)


def test_one_large_fish_is_told_what_makes_its_stay_possible_and_no_half_of_it() -> None:
    tang = ("  snails:", "  tang: {name: Tang, kind: yellow-tang, count: 1, size: 18 cm}\n  snails:")
    (message,) = [str(one) for one in project_of(edited(tang), steps=False).unsafe]
    assert "Tang would be" in message
    assert "oxygen out of a cylinder bubbling beside the air: " in message
    assert "half" not in message
    assert "thin out" not in message
    gas = ("water-making:", "gear: [{id: gas, kind: oxygen, count: 1}]\nwater-making:")
    assert project_of(edited(tang, gas), steps=False).unsafe == ()


def test_what_a_battery_ends_is_told_the_hours_of_cells_to_write_and_is_safe_with_them() -> None:
    def found(battery: str) -> list[str]:
        gear = f"gear: [{{id: pumps, kind: air-pump, count: 9, battery: {battery}, outlets: 2}}]"
        tang = "tang: {name: Tang, kind: bristletooth-tang, count: 1, size: 15 cm, container: tub}"
        plan = edited(("water-making:", f"{gear}\nwater-making:"), ("  snails:", f"  {tang}\n  snails:"))
        return [str(problem) for problem in project_of(plan, steps=False).unsafe]

    (message,) = [one for one in found("1 h") if "Tang would be" in one]
    assert "; battery ends it; get air pumps, or cells, that last for " in message
    (hours,) = re.findall(r'write "gear\.pumps\.battery: (\d+ h)"', message)
    assert found(hours) == []


def test_water_that_waits_for_its_animals_has_cooled_by_then() -> None:
    """A large tank, whose fish come hours after the clean water that they go into was drawn."""
    text = TEXT.replace(
        "length: 90 cm, width: 45 cm, height: 45 cm, wall: 10 mm, base: 10 mm, water-height: 40", LARGE
    )
    text = text.replace("sump: 40 l", "sump: 300 l").replace("rock: 20 kg", "rock: 400 kg")
    found = project_of(plan_of(text.replace("floor: 1,", "floor: 1, room-temperature: 21 C,")), steps=False)
    journeys = found.measured[0]
    assert journeys["clowns"].whole.filled_h > 2.4 > 1.0 > journeys["corals"].whole.filled_h  # as likely
    filled_h = journeys["snails"].whole.filled_h
    assert filled_h == 1.5
    (safe,) = {
        stop.safe
        for route in found.routes
        if route.livestock == "snails"
        for stop in route.stops
        if stop.safe
    }
    assert safe.limited_by == "temperature"
    assert f"filled {filled_h:.1f} h before" in safe.estimate.basis
