from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.estimate import Provenance
from moveplan.quantities.policy import Policy
from moveplan.quantities.safe_time.metabolism import NOTHING, Breathing, breathing, mass_g
from moveplan.science.animals.livestock import kinds
from tests.quantities.plans import plan_of

POLICY = Policy({})
GROUPS = {group.id: group for group in plan_of().livestock}


def of(name: str, temperature_c: float = 25.0) -> Breathing:
    """One animal of a group of the plan."""
    return breathing(GROUPS[name], kinds()[GROUPS[name].kind], 1, temperature_c, POLICY)


def test_a_given_mass_is_taken_as_it_is() -> None:
    given = replace(GROUPS["clowns"], mass_g=12.5)
    found = mass_g(given, kinds()["clownfish"])
    assert (found.low, found.likely, found.high) == (12.5, 12.5, 12.5)
    assert found.provenance is Provenance.GIVEN


def test_a_mass_from_length_has_the_source_of_its_shape() -> None:
    kind = kinds()["clownfish"]
    found = mass_g(GROUPS["clowns"], kind)
    assert found.likely == pytest.approx(kind.coefficient_a * 7.0**kind.exponent_b)
    assert (found.low, found.high) == pytest.approx((0.75 * found.likely, 1.35 * found.likely))
    assert found.source == kind.source


@pytest.mark.parametrize("name", ["clowns", "goby", "snails", "corals"])
def test_warmer_animals_breathe_more_and_give_off_more(name: str) -> None:
    cool, warm = of(name, 22.0), of(name, 28.0)
    assert 0 < cool.oxygen_mg_h < warm.oxygen_mg_h
    assert 0 < cool.ammonia_mg_n_h < warm.ammonia_mg_n_h
    assert cool.biomass_g == warm.biomass_g


def test_colonies_reckoned_by_area_weigh_nothing_and_grow_with_the_square() -> None:
    small = of("corals")
    group = replace(GROUPS["corals"], size_cm=16.0)
    large = breathing(group, kinds()[group.kind], 1, 25.0, POLICY)
    assert (small.biomass_g, large.biomass_g) == (0.0, 0.0)
    assert large.oxygen_mg_h == pytest.approx(4 * small.oxygen_mg_h)


def test_groups_add_up_and_share_out() -> None:
    one, two = of("clowns"), of("goby")
    both = one.plus(two).plus(NOTHING)
    assert both.oxygen_mg_h == pytest.approx(one.oxygen_mg_h + two.oxygen_mg_h)
    assert both.over(2).ammonia_mg_n_h == pytest.approx(both.ammonia_mg_n_h / 2)
    pair = breathing(GROUPS["clowns"], kinds()["clownfish"], 2, 25.0, POLICY)
    assert pair.oxygen_mg_h == pytest.approx(2 * one.oxygen_mg_h)


def test_stress_is_a_policy() -> None:
    calm = breathing(GROUPS["goby"], kinds()["goby"], 1, 25.0, Policy({"stress_transport": 1.0}))
    assert of("goby").oxygen_mg_h == pytest.approx(POLICY["stress_transport"] * calm.oxygen_mg_h)
