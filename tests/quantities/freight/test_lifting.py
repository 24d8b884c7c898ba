"""One rule for tubs, tanks and teams; figures of HSE INDG143, L23 and INDG383, recalled."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.plan.move import Plan
from moveplan.plan.places import Place
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.freight.freight import LoadItem
from moveplan.quantities.freight.lifting import (
    TUB_KG,
    By,
    Lift,
    aid_limit_kg,
    aids_of,
    bearers,
    carried_as,
    hand_limit_kg,
    lift_of,
    stairs_between,
    tub_limit_kg,
)
from tests.quantities.plans import PLACE, edited, plan_of

STAIRS, LEVEL = PLACE, replace(PLACE, steps=0)


def crew(count: int, capacity: str = "25 kg") -> Plan:
    """The plan with so many people who lift."""
    people = "".join(f"  helper{n}: {{lifts: yes}}\n" for n in range(count - 1))
    alone = edited(
        ("  leo: {name: Leo, lifts: yes, cares: yes}\n", people),
        ("water-making:", f"policy: {{lift-capacity: {capacity}}}\nwater-making:"),
    )
    assert alone.lifters == count
    return alone


@pytest.mark.parametrize(("people", "kg"), [(1, 15.0), (2, TUB_KG), (3, TUB_KG)])
def test_a_tub_weighs_what_one_or_two_take_from_the_floor(people: int, kg: float) -> None:
    for places in ((), (STAIRS,), (LEVEL,)):
        assert tub_limit_kg(crew(people), places) == pytest.approx(kg)


def test_a_tub_is_for_two_where_nobody_lifts_yet_and_lighter_for_the_weaker() -> None:
    nobody = edited(
        ("cares: yes, lifts: yes}", "cares: yes, lifts: no}"), ("Leo, lifts: yes", "Leo, lifts: no")
    )
    assert tub_limit_kg(nobody) == pytest.approx(TUB_KG)
    assert tub_limit_kg(crew(2, "16 kg")) == pytest.approx(TUB_KG * 16 / 25)


def test_a_can_and_a_light_box_take_one_person() -> None:
    assert bearers(LoadItem("can", 19.0, by_handle=True)) == bearers(LoadItem("box", 15.0)) == 1
    assert bearers(LoadItem("tub", 15.1)) == 2


@pytest.mark.parametrize(
    ("item", "told"),
    [
        (LoadItem("carton", 6.0, 0.6, 0.4, 0.4), "can"),
        (LoadItem("stand", 12.0, 0.5, 0.4, 0.8), "tub"),
        (LoadItem("small tank", 13.0, 0.5, 0.4, 0.38, fragile=True), "glass"),
        (LoadItem("large tank", 60.0, 1.1, 0.5, 0.5, fragile=True), "tank"),
        (LoadItem("can", 21.0, 0.3, 0.2, 0.4, by_handle=True), "can"),
    ],
)
def test_glass_and_what_is_long_is_for_two_however_light(item: LoadItem, told: str) -> None:
    assert carried_as(item) == told


@pytest.mark.parametrize(
    ("people", "kg", "place", "told"),
    [
        (1, 20.0, LEVEL, (1, By.HAND)),
        (1, 21.0, LEVEL, (1, By.AID)),
        (1, 16.5, STAIRS, (1, By.AID)),
        (1, 26.0, LEVEL, (1, By.MACHINE)),
        (2, 26.0, LEVEL, (2, By.HAND)),
        (2, 26.0, STAIRS, (2, By.AID)),
        (3, 39.0, LEVEL, (2, By.AID)),
        (3, 29.0, LEVEL, (3, By.HAND)),
        (4, 39.0, LEVEL, (4, By.HAND)),
        (4, 60.0, STAIRS, (4, By.AID)),
        (4, 60.0, LEVEL, (3, By.AID)),
        (4, 90.0, STAIRS, (4, By.AID)),
        (3, 90.0, STAIRS, (3, By.AID)),
        (2, 90.0, STAIRS, (2, By.MACHINE)),
        (6, 171.0, LEVEL, (4, By.MACHINE)),
    ],
)
def test_a_tank_takes_as_many_as_the_rule_asks_for(
    people: int, kg: float, place: Place, told: tuple[int, By]
) -> None:
    found = lift_of(crew(people), kg, (place,))
    assert (found.people, found.by) == told
    assert found.hand_kg <= found.aid_kg


def test_more_people_never_carry_less_and_weaker_ones_never_more() -> None:
    strong, weak = crew(4), crew(4, "16 kg")
    for stairs in (False, True):
        hands = [hand_limit_kg(strong, team, ("knuckle",), stairs=stairs) for team in (1, 2, 3, 4)]
        assert hands == sorted(hands)
    aids = [aid_limit_kg(strong, team) for team in (1, 2, 3, 4)]
    assert aids == [25.0, 85.0, 125.0, 170.0]
    assert [aid_limit_kg(weak, team) for team in (1, 2, 3, 4)] == pytest.approx([0.64 * kg for kg in aids])


@pytest.mark.parametrize(("kg", "heavy"), [(75.0, False), (76.0, True), (126.0, False)])
def test_a_load_in_the_red_band_is_called_heavy(kg: float, heavy: bool) -> None:
    """INDG383, three people: red from 75 to 125 kg, recalled; beyond it no team of three carries it at all."""
    assert lift_of(crew(3), kg, (STAIRS,)).heavy is heavy


@pytest.mark.parametrize(
    ("people", "kg", "place", "short"),
    [(3, 60.0, STAIRS, True), (3, 60.0, LEVEL, False), (3, 39.0, STAIRS, False), (2, 26.0, STAIRS, False)],
)
def test_over_stairs_one_more_is_missed_at_the_lower_end(
    people: int, kg: float, place: Place, short: bool
) -> None:
    """Where it is no light load for the team, and nobody who lifts is left."""
    assert lift_of(crew(people), kg, (place,)).short is short


@pytest.mark.parametrize(("people", "kg", "firm"), [(4, 100.0, False), (4, 101.0, True), (3, 90.0, False)])
def test_a_firm_carries_what_is_heavy_for_the_largest_team(people: int, kg: float, firm: bool) -> None:
    """Fewer are told to ask a fourth, with whom 90 kg is no heavy load; of 101 kg there is no larger team."""
    assert lift_of(crew(people), kg, (LEVEL,)).firm is firm


def test_the_team_that_would_do_is_named() -> None:
    assert [lift_of(crew(1), kg, (LEVEL,)).enough for kg in (25.0, 26.0, 86.0, 126.0, 171.0)] == [
        1,
        2,
        3,
        4,
        0,
    ]


def test_a_lift_that_carries_the_tank_leaves_no_stairs() -> None:
    assert stairs_between((LEVEL, STAIRS))
    assert not stairs_between((LEVEL, replace(STAIRS, lift=True)))
    assert lift_of(crew(2), 26.0, (replace(STAIRS, lift=True),)).by is By.HAND


def test_aids_are_counted_for_the_largest_team_that_needs_them() -> None:
    def lift(people: int, by: By) -> Lift:
        return Lift(people, by, 20.0, 85.0, 2)

    assert aids_of([lift(4, By.HAND)]) == (("lifters", 0), ("straps", 0), ("dolly", 0))
    assert aids_of([lift(2, By.AID), lift(3, By.AID)]) == (("lifters", 3), ("straps", 2), ("dolly", 1))


def test_aids_are_gear_that_the_plan_may_have() -> None:
    rows = {kind: (needed, there) for kind, needed, there in facts_of(plan_of()).gear_needed}
    assert (rows["lifters"], rows["straps"], rows["dolly"]) == ((2, 0), (1, 0), (1, 0))
    gear = "gear:\n  - {id: suckers, kind: lifters, count: 2}\n  - {id: roller, kind: dolly, count: 1}\n"
    owned = facts_of(edited(("water-making:", gear + "water-making:"))).gear_needed
    assert {("lifters", 2, 2), ("dolly", 1, 1), ("straps", 1, 0)} <= set(owned)


LARGE = (
    "length: 90 cm, width: 45 cm, height: 45 cm, wall: 10 mm",
    "length: 150 cm, width: 60 cm, height: 60 cm, wall: 12 mm",
)
HUGE = (
    "length: 90 cm, width: 45 cm, height: 45 cm, wall: 10 mm",
    "length: 220 cm, width: 70 cm, height: 70 cm, wall: 19 mm",
)


@pytest.mark.parametrize(
    ("tank", "remedy"),
    [
        (LARGE, 'get 3 people who lift ("lifts: yes" under people), or have it carried by a firm'),
        (HUGE, "have it carried"),
    ],
    ids=["a third would do", "nobody carries it"],
)
def test_a_tank_that_those_there_cannot_carry_is_told_with_what_would_do(
    tank: tuple[str, str], remedy: str
) -> None:
    (found,) = (one for one in facts_of(edited(tank)).findings if "people carry" in one.message)
    assert "2 people carry 85 kg at most, even with suction lifters and straps" in found.message
    assert found.where == "plan.yaml:14 systems.reef"
    assert found.remedy.startswith(remedy)


def test_the_third_who_is_asked_for_settles_it() -> None:
    third = ("  leo: {name: Leo", "  ada: {name: Ada, lifts: yes}\n  leo: {name: Leo")
    assert not [one for one in facts_of(edited(LARGE, third)).findings if "people carry" in one.message]


@pytest.mark.parametrize(
    ("stand", "told", "remedy"),
    [
        ("60 kg", "weighs 60 kg; with straps 30 kg for each of 2 people", "get 3 people who lift"),
        ("90 kg", "weighs 90 kg; 2 people carry 85 kg at most", "get 3 people who lift"),
    ],
)
def test_a_stand_is_as_heavy_as_a_tank(stand: str, told: str, remedy: str) -> None:
    facts = facts_of(edited(("stand: 40 kg", f"stand: {stand}")))
    (found,) = (one for one in facts.findings if one.message.startswith("the stand of Reef"))
    assert told in found.message
    assert found.remedy.startswith(remedy)
    assert ("straps", 1, 0) in facts.gear_needed
