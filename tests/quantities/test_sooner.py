"""More heat is named where a tank takes long to warm, and it does what is said of it."""

from __future__ import annotations

import re

import pytest

from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from moveplan.quantities.assemble import facts_of
from moveplan.quantities.sooner import LONG_MIN, MOST_W
from tests.examples import EXAMPLES

HEATER = "systems.display.equipment.heater={{kind: heater, power: {} W}}"


COLD = tuple(f"places.{place}.room-temperature=12 C" for place in ("mill", "harbour"))
LARGE = "systems.display.tank={length: 180 cm, width: 80 cm, height: 70 cm}"


def plan(watts: int) -> Plan:
    return read_plan(EXAMPLES / "house_move.yaml", changes=(*COLD, LARGE, HEATER.format(watts)))


def test_nothing_is_said_where_a_tank_warms_soon() -> None:
    facts = facts_of(plan(3000))
    assert facts.systems[0].times["warm"].likely <= LONG_MIN
    assert [hint for hint in facts.hints if "heaters" in hint] == []


def test_what_is_named_warms_it_in_the_time_that_is_said() -> None:
    facts = facts_of(plan(100))
    (hint,) = (hint for hint in facts.hints if "heaters" in hint)
    found = re.fullmatch(
        r"(\d+) W of heaters in place of (\d+) W, on circuits that carry them, would warm .+ in ([\d a-z]+)",
        hint,
    )
    assert found is not None, hint
    now, then = int(found[2]), int(found[1])
    assert now == round(facts.systems[0].heater_w) < then <= MOST_W
    warmer = facts_of(plan(100 + then - now)).systems[0].times["warm"].likely
    assert warmer <= LONG_MIN < facts.systems[0].times["warm"].likely
    hours, minutes = re.fullmatch(r"(?:(\d+) h)? ?(?:(\d+) min)?", found[3]).groups()  # type: ignore[union-attr]
    assert 60 * int(hours or 0) + int(minutes or 0) == pytest.approx(
        warmer, abs=2.5
    )  # told in steps of 5 min


def test_it_stands_among_what_is_worth_knowing() -> None:
    messages = [problem.message for problem in facts_of(plan(100)).findings]
    assert any(re.search(r"takes .* to warm on the day", message) for message in messages)
