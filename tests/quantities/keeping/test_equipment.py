"""The equipment check of a new tank."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.plan.places import Place
from moveplan.plan.systems import Equipment
from moveplan.quantities.keeping.equipment import Check, checks_of
from moveplan.quantities.policy import Policy
from tests.quantities.keeping.test_holding import system

PLACE = Place("home", "Home", 0, 0, 10.0, False, "slab", True, True, 18.0, None, 3000.0, "IE", "", 22.0)
POLICY = Policy({})


def piece(kind: str, count: int = 1, power_w: float = 10.0, flow_l_h: float = 0.0) -> Equipment:
    return Equipment(kind, kind, kind, count, power_w, flow_l_h, 1.0)


def checks(*pieces: Equipment, place: Place = PLACE) -> dict[str, Check]:
    after = replace(system(1.2), equipment=pieces)
    return {row.id: row for row in checks_of(system(0.6), after, 240.0, (), place, POLICY)}


def test_heating_covers_the_loss_of_the_coldest_day() -> None:
    """ISO 6946 form: U A (T - T_air), U 7.14 W/(m² K) for 10 mm glass; half as much again is common practice."""
    area = 2 * (1.2 + 0.5) * 0.4 + 2 * 1.2 * 0.5
    needed = 1.5 * 7.14 * area * (25.5 - 18.0)
    assert checks(piece("heater", power_w=100.0))["heating"].needed == pytest.approx(needed)
    assert not checks(piece("heater", power_w=needed - 1))["heating"].ok
    assert checks(piece("heater", power_w=needed + 1))["heating"].ok


def test_flow_is_asked_of_all_pumps_together() -> None:
    found = checks(piece("return-pump", flow_l_h=700.0), piece("circulation-pump", flow_l_h=600.0))["flow"]
    assert (found.there, found.needed, found.ok) == (1300.0, 1200.0, True)


def test_the_circuit_keeps_a_fifth_in_reserve() -> None:
    assert checks(piece("light", 4, 600.0))["circuit"].ok
    found = checks(piece("light", 4, 601.0))["circuit"]
    assert (found.ok, found.there, found.needed) == (False, 2400.0, 2404.0)


def test_one_heater_and_one_pump_want_spares() -> None:
    assert checks(piece("heater"), piece("return-pump"))["spares"].basis == "only one of: heater, return-pump"
    assert checks(piece("heater", 2), piece("return-pump", 2))["spares"].ok


def test_a_skimmer_that_moves_over_is_doubted_when_the_water_grows() -> None:
    same = replace(system(0.6), equipment=(piece("skimmer"),))
    grown = replace(system(1.2), equipment=same.equipment)
    rows = {row.id: row for row in checks_of(same, grown, 240.0, (), PLACE, POLICY)}
    assert not rows["skimming"].ok
    assert rows["skimming"].needed == pytest.approx(240.0 / 120.0)


def test_nothing_is_said_of_skimming_where_neither_tank_has_a_skimmer() -> None:
    assert "skimming" not in checks(piece("heater"))
    before = replace(system(0.6), equipment=(piece("skimmer"),))
    after = replace(system(1.2), equipment=(piece("heater"),))
    rows = {row.id: row for row in checks_of(before, after, 240.0, (), PLACE, POLICY)}
    assert not rows["skimming"].ok


def test_what_evaporates_is_the_share_that_the_plan_says() -> None:
    """1 % of 150 l are 1.5 l a day, which a jug does; 3 % are 4.5 l and want a top-up."""
    after = system(1.2)
    rows = [
        {row.id: row for row in checks_of(after, after, 150.0, (), PLACE, Policy(policy))}["top-up"]
        for policy in ({}, {"evaporation_daily": 0.03})
    ]
    assert [row.ok for row in rows] == [True, False]
    assert rows[1].basis == "some 4.5 l evaporate in a day (3 % of the water)"
