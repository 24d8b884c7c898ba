"""Limits of nitrite against what marine animals were found to bear, as nitrogen.

Read in abstracts: Medeiros (2014), thesis, FURG (clownfish); Kir et al. (2015), J. World Aquac. Soc. (meagre); Weirich
and Riche (2006), Aquac. Res. (pompano); Zheng (2012) (grouper); Saoud et al. (rabbitfish); Lin and Chen (2003)
(white shrimp); Barbieri et al. (2016) (southern white shrimp); Basuyaux and Mathieu (1999), Aquaculture (urchin,
abalone). A tenth of the 96 h LC50 as a safe level is the usual application factor, common practice.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.quantities.keeping.gates import nitrogen_gates
from moveplan.quantities.policy import Policy
from moveplan.science.animals.livestock import kinds
from tests.examples import plan

TENTH = 0.1
FISH = {
    "clownfish": (109.0, None),
    "meagre at 18 °C": (178.0, 17.7),
    "meagre at 22 °C": (140.0, 13.9),
    "meagre at 26 °C": (49.6, 4.9),
    "pompano at salinity 25": (34.2, 3.4),
    "grouper of 4.4 cm": (267.0, 27.0),
    "grouper of 10.5 cm": (208.0, 21.0),
}
"""96 h LC50, and the safe level of the paper. [mg N/l]"""
SHRIMPS = {"white shrimp at salinity 35": (322.0, 25.7), "southern white shrimp at salinity 35": (38.9, None)}
UNHARMED = {"urchin, two weeks": (1.0, 2.0), "abalone, two weeks": (5.0, None)}
"""Growth unharmed up to; where it was harmed. [mg N/l]"""
BY_SALINITY = {15.0: 76.5, 25.0: 178.0, 35.0: 322.0}
"""96 h LC50 of white shrimps. [mg N/l]"""
POLICY = Policy({})


def safe(row: tuple[float, float | None]) -> float:
    lethal, stated = row
    return stated if stated is not None else TENTH * lethal


@pytest.mark.parametrize("animal", FISH)
def test_fish_by_themselves_enter_below_every_safe_level(animal: str) -> None:
    assert POLICY["gate_nitrite_fish"] < safe(FISH[animal])


@pytest.mark.parametrize("animal", SHRIMPS)
def test_shrimps_enter_below_every_safe_level(animal: str) -> None:
    assert POLICY["gate_nitrite"] < safe(SHRIMPS[animal])


def test_urchins_enter_at_what_left_them_unharmed() -> None:
    least = min(unharmed for unharmed, _ in UNHARMED.values())
    assert POLICY["gate_nitrite"] <= least


def test_the_alarm_is_far_from_death_and_above_every_gate() -> None:
    deadly = min(lethal for lethal, _ in (*FISH.values(), *SHRIMPS.values()))
    assert POLICY["gate_nitrite"] < POLICY["gate_nitrite_fish"] < POLICY["alarm_nitrite"] < deadly / 6


def test_salt_protects_so_that_limits_of_fresh_water_do_not_hold_in_the_sea() -> None:
    """At salinity 35 more than four times as much is borne as at 15; a gate of 0.1 mg/l would guard nobody."""
    assert sorted(BY_SALINITY.values()) == list(BY_SALINITY.values())
    assert BY_SALINITY[35.0] > 4 * BY_SALINITY[15.0]
    assert all(POLICY[gate] >= 1.0 for gate in ("gate_nitrite", "gate_nitrite_fish"))


def test_a_plan_with_invertebrates_gets_the_lower_gate_and_one_of_fish_the_higher() -> None:
    mixed = plan("house_move")
    assert nitrogen_gates(mixed, "display").nitrite == POLICY["gate_nitrite"]
    fish = tuple(one for one in mixed.livestock if kinds()[one.kind].group == "fish")
    assert 0 < len(fish) < len(mixed.livestock)
    assert nitrogen_gates(replace(mixed, livestock=fish), "display").nitrite == POLICY["gate_nitrite_fish"]
