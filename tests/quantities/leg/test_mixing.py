"""Warming new water: batches, heaters, losses, storage, and what the bill draws from it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.plan.supplies import GearItem
from moveplan.plan.systems import Equipment, NewTank
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.circuits import carries_w, left_w, tanks_w, usual_w
from moveplan.quantities.course import Leg, Shift
from moveplan.quantities.heaters import Heater, spare_heaters
from moveplan.quantities.leg.mixing import (
    LONG_H,
    MOST_BATCHES,
    mixing_of,
    rewarming_of,
)
from moveplan.quantities.policy import Policy
from moveplan.quantities.warming import bin_loss_w_k, warming_h
from tests.quantities.plans import MAKING, PLACE, plan_of

BIG = replace(MAKING, storage_l=300.0)
FAST = replace(BIG, rate_l_day=20_000.0)
"""Water that hardly stands: it is as cold as the supply."""


def with_heaters(count: int, watts: float):  # type: ignore[no-untyped-def]
    return replace(plan_of(), gear=(GearItem("h", "Heater", "heater", count, power_w=watts),))


def test_a_batch_from_the_supply_takes_as_long_as_by_hand() -> None:
    # 300 l from 12 to 25.5 °C: 300 x 1.137 Wh/(l K) x 13.5 K = 4.6 kWh, 7.7 h with 600 W and no loss; a little more
    # with what a lidded bin of that size loses to a room at 18 °C.
    room = replace(PLACE, room_temperature_c=18.0)
    found = mixing_of(with_heaters(2, 300.0), room, FAST, 300.0, 25.5)
    assert (found.batches, found.heater_w, found.lidded) == (1, 600.0, True)
    assert found.start_c[1] == pytest.approx(12.0, abs=0.2)
    assert 7.5 < found.time.likely / 60 < 8.3
    assert found.energy_kwh > 0.6 * found.time.likely / 60


def test_water_that_has_stood_for_days_is_nearly_as_warm_as_the_room() -> None:
    slow = replace(BIG, rate_l_day=100.0)
    found = mixing_of(with_heaters(2, 300.0), PLACE, slow, 300.0, 25.5)
    assert 12.0 < found.start_c[1] <= 19.0
    assert found.time.low <= found.time.likely <= found.time.high
    assert found.start_c[2] == 12.0


def test_what_the_storage_does_not_hold_is_mixed_in_batches() -> None:
    found = mixing_of(with_heaters(2, 300.0), PLACE, replace(MAKING, storage_l=100.0), 290.0, 25.5)
    assert found.batches == 3
    assert found.batch_l == pytest.approx(290 / 3)
    many = mixing_of(with_heaters(2, 300.0), PLACE, replace(MAKING, storage_l=20.0), 900.0, 25.5)
    assert many.batches == MOST_BATCHES


def test_small_heaters_of_tubs_do_not_count_and_missing_ones_are_ordered() -> None:
    assert spare_heaters(with_heaters(4, 50.0)) == (Heater("heater", 200.0),) * 2
    assert spare_heaters(with_heaters(3, 300.0)) == (Heater("h", 300.0),) * 3


def test_heaters_are_ordered_until_a_batch_warms_in_a_day() -> None:
    plan, cold = with_heaters(2, 100.0), replace(PLACE, room_temperature_c=12.0)
    found = mixing_of(plan, cold, FAST, 300.0, 26.0)
    assert len(found.heaters) > 2
    assert found.time.likely <= 60 * LONG_H


def test_no_more_hangs_on_a_circuit_than_it_carries_for_hours() -> None:
    weak, plan = replace(PLACE, id="shed", circuit_w=1000.0), with_heaters(4, 300.0)
    assert carries_w(weak) == pytest.approx(800.0)
    found = mixing_of(plan, weak, FAST, 300.0, 25.5)
    assert (found.heater_w, found.heaters) == (600.0, (Heater("h", 300.0),) * 2), "a third one is too much"
    assert usual_w(replace(PLACE, country="US")) == pytest.approx(1440.0)


def test_heaters_in_bins_leave_the_tanks_theirs() -> None:
    plan = with_heaters(4, 300.0)
    (system,) = plan.systems
    pump = Equipment("pump", "Pump", "return-pump", 1, power_w=350.0, flow_l_h=0.0, mass_kg=1.0)
    home = replace(PLACE, id=system.place, circuit_w=1000.0)
    plan = replace(plan, systems=(replace(system, equipment=(pump,)),))
    assert tanks_w(plan, home) == pytest.approx(350.0)
    assert left_w(plan, home) == pytest.approx(800.0 - 350.0)
    assert mixing_of(plan, home, FAST, 300.0, 25.5).heater_w == pytest.approx(300.0)
    full = replace(home, circuit_w=450.0)
    for found in (mixing_of(plan, full, FAST, 300.0, 25.5), rewarming_of(plan, full, (("M1", 300.0),), 25.5)):
        assert found.heaters == (Heater("h", 300.0),), "over the circuit, which is then said"
        assert found.heater_w == pytest.approx(300.0), "what hangs is what draws"


def test_before_its_tanks_are_filled_only_what_a_leg_empties_and_what_stays_run_beside_the_bins() -> None:
    plan = with_heaters(4, 300.0)
    (system,) = plan.systems
    pump = Equipment("pump", "Pump", "return-pump", 1, power_w=350.0, flow_l_h=0.0, mass_kg=1.0)
    system = replace(system, equipment=(pump,), moves_to="new")
    plan = replace(plan, systems=(system,))
    old, new = (replace(PLACE, id=name, circuit_w=1000.0) for name in (system.place, "new"))
    leg = Leg((Shift(system, system),), system.place, "new")
    assert [left_w(plan, place, leg) for place in (old, new)] == [450.0, 800.0]
    assert left_w(plan, old, replace(leg, empty=True)) == pytest.approx(800.0), "nothing runs there any more"
    assert left_w(plan, new) == pytest.approx(450.0), "afterwards the tank runs there"
    assert mixing_of(plan, new, FAST, 300.0, 25.5, leg).heater_w == pytest.approx(600.0)


def test_a_tank_and_the_one_that_takes_its_spot_never_run_together() -> None:
    """Own 300 W, new 500 W: in one spot the stronger counts, in two both."""
    plan = with_heaters(2, 300.0)
    (system,) = plan.systems
    own, new = (Equipment("h", "Heater", "heater", 1, watts, 0.0, 1.0) for watts in (300.0, 500.0))
    home = replace(PLACE, id=system.place, circuit_w=2000.0)
    for spot, together in (("same", 500.0), ("other", 800.0)):
        tank = NewTank(system.tank, 0.0, 0.0, spot, 30.0, "", 0.0, 0.0, (new,))
        renewed = replace(system, moves_to=system.place, equipment=(own,), new_tank=tank)
        assert tanks_w(replace(plan, systems=(renewed,)), home) == pytest.approx(together)


def test_what_was_mixed_days_ago_is_warmed_again_from_the_room() -> None:
    # 240 l from 18 to 26 °C: 240 x 1.137 Wh/(l K) x 8 K = 2.18 kWh, 3.6 h with 600 W and no loss; a lidded bin of that
    # size loses some 16 W/K, 128 W at the end, and takes about a tenth longer.
    room = replace(PLACE, room_temperature_c=18.0, room_high_c=18.0)
    found = rewarming_of(with_heaters(2, 300.0), room, (("M1", 240.0),), 26.0)
    assert (found.heater_w, len(found.heaters)) == (600.0, 2)
    assert 3.7 < found.time.likely / 60 < 4.3
    assert found.energy_kwh > 0.6 * found.time.likely / 60
    warm = rewarming_of(
        with_heaters(2, 300.0),
        replace(room, room_temperature_c=26.0, room_high_c=28.0),
        (("M1", 240.0),),
        26.0,
    )
    assert warm.time.high == 0.0


def test_fewer_heaters_than_bins_take_one_bin_after_the_other() -> None:
    # 150 l and 3 x 50 l from 20 to 25.5 °C with 3 x 300 W: all at once they would take 2.1 h without loss. 150 l with
    # 300 W take 3.1 h, and 50 l after 50 l 2.1 h; a bin of 150 l loses up to 70 W, which makes it some 3.5 h.
    room = replace(PLACE, room_temperature_c=20.0, room_high_c=20.0)
    bins = (("M1", 150.0), ("T1", 50.0), ("T2", 50.0), ("T3", 50.0))
    found = rewarming_of(with_heaters(3, 300.0), room, bins, 25.5)
    assert [(one.bins, one.watts) for one in found.turns] == [
        (("M1",), 300.0),
        (("T1", "T3"), 300.0),
        (("T2",), 300.0),
    ]
    alone = warming_h(150.0, 20.0, 25.5, 300.0, bin_loss_w_k(150.0, Policy({}), lidded=True), 20.0)
    assert 3.1 < alone < 3.8
    assert found.time.likely == pytest.approx(60 * alone)
    pair = warming_h(50.0, 20.0, 25.5, 300.0, bin_loss_w_k(50.0, Policy({}), lidded=True), 20.0)
    two = rewarming_of(with_heaters(1, 300.0), room, bins[2:], 25.5)
    assert two.heaters == (Heater("h", 300.0), Heater("h", 200.0)), (
        "another is ordered, and each hangs in one"
    )
    weak = replace(room, circuit_w=400.0)
    both = rewarming_of(with_heaters(1, 300.0), weak, bins[2:], 25.5)
    assert both.time.likely == pytest.approx(60 * (2 * pair) + 20), "it cools before it goes over"


@pytest.mark.parametrize("heaters", range(1, 7))
def test_every_bin_is_warmed_once_and_every_heater_hangs_in_one_place(heaters: int) -> None:
    bins = tuple((f"M{number}", 60.0 + 40 * number) for number in range(1, 5))
    found = rewarming_of(with_heaters(heaters, 200.0), PLACE, bins, 25.5)
    assert sorted(number for one in found.turns for number in one.bins) == [number for number, _ in bins]
    assert sum(len(one.heaters) for one in found.turns) == len(found.heaters)
    assert all(one.heaters for one in found.turns)
    more = rewarming_of(with_heaters(heaters + 1, 200.0), PLACE, bins, 25.5)
    assert more.time.likely <= found.time.likely + 60 * sum(len(one.bins) - 1 for one in found.turns)


def test_a_small_bin_gets_few_watts() -> None:
    small, large = (mixing_of(with_heaters(3, 300.0), PLACE, FAST, litres, 25.5) for litres in (30.0, 150.0))
    assert (small.heater_w, large.heater_w) == (300.0, 900.0)


def test_a_lid_saves_heat_and_nothing_is_warmed_that_is_warm() -> None:
    assert bin_loss_w_k(200.0, Policy({}), lidded=True) < bin_loss_w_k(200.0, Policy({}), lidded=False)
    assert warming_h(200.0, 27.0, 25.0, 300.0, 10.0, 20.0) == 0.0
    windy = Policy({"open_surface_u_value": 40.0})
    assert bin_loss_w_k(200.0, windy, lidded=False) > bin_loss_w_k(200.0, Policy({}), lidded=False)


def test_heaters_for_mixing_are_on_the_order_list() -> None:
    rows = {kind: (needed, there) for kind, needed, there in facts_of(plan_of()).gear_needed}
    assert rows["heater"] == (2, 0)
