from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.plan.supplies import GearItem
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.durations import PAIR_GAIN, Handled, rebuild, teardown
from moveplan.quantities.handling import Handling
from moveplan.quantities.policy import Policy
from moveplan.quantities.warming import ice_bottles, surface_m2, warming
from moveplan.quantities.water.arriving import Arrival
from moveplan.quantities.water.pouring import moving_water, water_flow
from tests.quantities.plans import PLACE, edited, plan_of, system

PUMP = GearItem("pump", "Pump", "pump", 1, flow_l_h=2400.0)
POLICY = Policy({})
FLOW = water_flow((PUMP,), 300.0, POLICY)


@pytest.fixture(scope="module")
def handled() -> Handled:
    (one,) = facts_of(plan_of()).systems
    return one.handled


def test_a_pump_loses_flow_with_head_and_fouling() -> None:
    # A straight curve: 2,400 l/h at no head, nothing at 3 m, so two thirds at 1 m: 26.7 l/min clean.
    assert FLOW.high == pytest.approx(2400 / 60 * 2 / 3)
    assert FLOW.likely == pytest.approx(FLOW.high / POLICY["siphon_practice_factor"])
    assert FLOW.low < FLOW.likely
    assert "a pump of 2400 l/h against 1 m" in FLOW.basis


def test_without_a_pump_a_siphon_does_it() -> None:
    found = water_flow((), 300.0, POLICY)
    assert "siphon hose of 16 mm" in found.basis
    assert 5 < found.likely < 30


def test_much_water_runs_through_a_wider_hose_and_a_pump_stays_what_it_is() -> None:
    thin, wide = water_flow((), 599.0, POLICY), water_flow((), 600.0, POLICY)
    assert "siphon hose of 25 mm" in wide.basis
    # Blasius: the flow through a smooth hose grows with the bore to the power of 19/7, less for inlet and outlet.
    assert 2.0 < wide.likely / thin.likely < (25 / 16) ** (19 / 7)
    assert water_flow((PUMP,), 5000.0, POLICY) == FLOW


def test_two_who_fill_take_a_pump_each_where_there_are_two() -> None:
    pair = replace(PUMP, count=2)
    assert water_flow((pair,), 300.0, POLICY, 2).likely == pytest.approx(2 * FLOW.likely)
    assert water_flow((PUMP,), 300.0, POLICY, 2) == FLOW
    assert water_flow((), 300.0, POLICY, 2) == water_flow((), 300.0, POLICY)
    assert "2400 l/h and one of 2400 l/h" in water_flow((pair,), 300.0, POLICY, 2).basis


def test_moving_water_is_litres_over_flow() -> None:
    found = moving_water(120.0, FLOW)
    assert found.likely == pytest.approx(120.0 / FLOW.likely)
    assert found.low == pytest.approx(120.0 / FLOW.high)
    assert found.basis == "120 l at 18 l/min"


def test_work_at_the_old_place_follows_counts(handled: Handled) -> None:
    handling = Handling({})
    found = teardown(handled, handling, FLOW, 1, 1)
    rock = handling.rate("rock-out").likely * 20 + handling.rate("job-setup").likely
    assert found["rock-out"].likely == pytest.approx(rock)
    assert found["corals-out"].likely == pytest.approx(3 * 4 + 2)
    assert found["invertebrates-out"].likely == pytest.approx(0.8 * 10 + 2)
    two = teardown(handled, handling, FLOW, 2, 2)
    assert two["rock-out"].likely == pytest.approx(2 + 0.45 * 20 / 2)
    assert two["corals-out"].likely == pytest.approx(2 + 3 * 4 / 2)


def test_lowering_the_water_takes_what_was_not_kept(handled: Handled) -> None:
    found = teardown(handled, Handling({}), FLOW, 1, 1)
    pool_l = 1000 * 0.88 * 0.43 * 0.12
    left = handled.old.there_l - handled.old.drawn_l - pool_l
    assert handled.old.lowered_l == pytest.approx(max(left, 0.0))
    assert found["lower"].likely == pytest.approx(2 + handled.old.lowered_l / FLOW.likely)
    more = replace(handled, old=replace(handled.old, lowered_l=60.0))
    assert teardown(more, Handling({}), FLOW, 1, 1)["lower"].likely == pytest.approx(2 + 60.0 / FLOW.likely)
    pool = min(pool_l, handled.old.there_l - handled.old.drawn_l)
    assert found["drain"].likely == pytest.approx(10 + pool / FLOW.likely)


def test_work_at_the_new_place_follows_counts(handled: Handled) -> None:
    found = rebuild(handled, Handling({}), FLOW, 1, 1, PLACE, POLICY)
    assert found["rock-in"].likely == pytest.approx(2 + 20.0)
    assert found["sand-in"].likely == pytest.approx(2 + 0.3 * 18)
    water = 10 + handled.volumes.total.likely / FLOW.likely
    hoses = handled.poured - 0.5 * handled.cans  # a minute a tub, half a minute a can
    assert found["fill"].likely == pytest.approx(water + hoses)
    two = rebuild(handled, Handling({}), FLOW, 2, 1, PLACE, POLICY)
    assert two["fill"].likely == pytest.approx(water - 5 + hoses / 2)
    assert two["rock-in"].likely == pytest.approx(2 + 20.0 / 2)
    assert handled.poured == 13  # three tubs of old water and ten cans of new: no tub of rock is poured


def test_catching_follows_how_hard_each_kind_is_to_catch(handled: Handled) -> None:
    table = Handling({})
    found = teardown(handled, table, FLOW, 1, 1)["catch"].likely
    fish = [(kind.catching, count) for _, kind, count in handled.groups if kind.group == "fish"]
    work = sum(table.rate(f"fish-{how}").likely * count for how, count in fish)
    assert found == pytest.approx(10 + work)
    assert teardown(handled, table, FLOW, 1, 3)["catch"].likely == pytest.approx(10 + PAIR_GAIN * work)


COOL = Arrival(20.0, 22.0, 24.0)


def test_warming_takes_longer_with_less_power_colder_rooms_more_and_cooler_water() -> None:
    base = warming(system(), 150.0, 600.0, PLACE, COOL, POLICY)
    assert base.low <= base.likely <= base.high
    assert warming(system(), 150.0, 400.0, PLACE, COOL, POLICY).likely > base.likely
    assert (
        warming(system(), 150.0, 600.0, replace(PLACE, room_temperature_c=10.0), COOL, POLICY).likely
        > base.likely
    )
    assert warming(system(), 250.0, 600.0, PLACE, COOL, POLICY).likely > base.likely
    assert warming(system(), 150.0, 600.0, PLACE, Arrival(19.0, 20.0, 22.0), POLICY).likely > base.likely
    assert (
        warming(system(), 150.0, 5.0, PLACE, COOL, POLICY).high == 60 * 48.0
    )  # never warm: told as two days


HOT = Arrival(27.5, 28.5, 30.5)
SUMMER = replace(PLACE, room_temperature_c=24.0, room_high_c=29.0)


def cooled_min(start_c: float, limit_c: float, bottles: int) -> float:
    """Follow 150 l second by second, with bottles that thaw in an hour.

    By hand: a tank of 0.90 x 0.45 m with 0.40 m of water has 1.89 m² at 7.14 W/(m² K), in all 13.5 W/K; a litre of
    sea water takes 1.137 Wh/K; a bottle takes 240 Wh.
    """
    temperature, seconds = start_c, 0
    while temperature > limit_c and seconds < 48 * 3600:
        gain_w = 13.5 * (SUMMER.room_high_c - temperature) - bottles * 240.0
        temperature += gain_w / (150.0 * 1.137 * 3600)
        seconds += 1
    return seconds / 60


@pytest.mark.parametrize("match_k", [0.5, 1.0, 2.0])
def test_what_arrives_too_warm_is_cooled_by_counted_ice_and_never_heated(match_k: float) -> None:
    one, policy = system(), Policy({"temperature_match": match_k})
    limit = one.temperature_c + match_k
    bottles = ice_bottles(one, 150.0, SUMMER, HOT, policy)
    heat_wh = 150.0 * 1.137 * (HOT.high_c - limit) + 13.5 * max(SUMMER.room_high_c - limit, 0.0)
    assert bottles == -(-heat_wh // 240.0)
    found = warming(one, 150.0, 600.0, SUMMER, HOT, policy)
    for value, start in zip(
        (found.low, found.likely, found.high), (HOT.low_c, HOT.likely_c, HOT.high_c), strict=True
    ):
        assert value == pytest.approx(cooled_min(start, limit, bottles), abs=0.3)
    assert 30 < found.high <= 60.0
    assert f"cooled by {bottles} bottles of ice, never heated" in found.basis
    assert ice_bottles(one, 300.0, SUMMER, HOT, policy) > bottles
    mild = Arrival(one.temperature_c, one.temperature_c, limit)
    assert ice_bottles(one, 150.0, SUMMER, mild, policy) == 0
    assert warming(one, 150.0, 600.0, SUMMER, mild, policy).high == 0.0


def test_ice_is_ordered_until_the_plan_has_it() -> None:
    hot = edited(
        ("payload: 1100 kg,", "payload: 1100 kg, air-temperature: 40 C, air-temperature-high: 40 C,"),
        ("floor: 0,", "floor: 0, room-temperature: 30 C,"),
    )
    found = facts_of(hot)
    (one,) = found.systems
    assert one.handled.arrival is not None
    needed = {kind: (count, there) for kind, count, there in found.gear_needed}
    bottles = ice_bottles(one.rebuilt, one.volumes.total.likely, found.new, one.handled.arrival, POLICY)
    assert needed["ice-bottle"] == (bottles, 0) > (0, 0)
    owned = facts_of(replace(hot, gear=(*hot.gear, GearItem("ice", "Ice", "ice-bottle", bottles))))
    assert ("ice-bottle", bottles, bottles) in owned.gear_needed
    assert "ice-bottle" not in {kind for kind, _, _ in facts_of(plan_of()).gear_needed}


def test_a_tank_that_no_room_lets_cool_is_asked_about() -> None:
    hot = edited(("floor: 1, steps: 14,", "floor: 1, steps: 14, room-temperature: 30 C,"))
    said = [one for one in facts_of(hot).findings if "without a chiller" in one.message]
    assert [one.remedy.partition(",")[0] for one in said] == ["write what the thermometer reads"]
    assert not [one for one in facts_of(plan_of()).findings if "without a chiller" in one.message]


def test_a_colder_van_makes_a_colder_tank() -> None:
    (mild,), (cold,) = (
        facts_of(edited(("payload: 1100 kg,", f"payload: 1100 kg, air-temperature: {air} C,"))).systems
        for air in (15, -5)
    )
    assert mild.handled.arrival is not None
    assert cold.handled.arrival is not None
    assert cold.handled.arrival.low_c < mild.handled.arrival.low_c
    assert cold.times["warm"].likely > mild.times["warm"].likely


def test_heat_leaves_through_the_sides_the_base_and_the_surface() -> None:
    assert surface_m2(system()) == pytest.approx(2 * (0.9 + 0.45) * 0.40 + 2 * 0.9 * 0.45)
