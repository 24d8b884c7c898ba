"""What the age of a tank and the seats of the vehicles have to say."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.plan.move import Plan
from moveplan.quantities.assemble import facts_of
from tests.quantities.plans import edited, plan_of


def said(plan: Plan) -> str:
    return "\n".join(one.message for one in facts_of(plan).findings)


@pytest.mark.parametrize(
    ("months", "words"), [(119.0, ""), (132.0, "has run for 11 years"), (5.0, "has run for 5 months only")]
)
def test_old_seams_and_young_filters_are_told(months: float, words: str) -> None:
    plan = plan_of()
    system = replace(plan.systems[0], age_months=months)
    found = said(replace(plan, systems=(system, *plan.systems[1:])))
    assert (words in found) if words else ("has run for" not in found)


def test_helpers_without_a_seat_are_told() -> None:
    plan = plan_of()
    tight = replace(plan, vehicles=tuple(replace(one, seats=1) for one in plan.vehicles[:1]))
    people = len(plan.people)
    assert (f"{people} people help, and the vehicles have 1 seats" in said(tight)) is (people > 1)
    assert "seats" not in said(replace(plan, people=plan.people[:1]))


def test_a_container_that_the_animals_cannot_have_is_told_and_one_that_they_have_is_not() -> None:
    asked = edited(
        ("kind: snail, count: 10, size: 2 cm", "kind: snail, count: 10, size: 2 cm, container: bag"),
        ("kind: goby, count: 1, size: 8 cm", "kind: goby, count: 1, size: 8 cm, container: bag"),
    )
    (told,) = (one for one in facts_of(asked).findings if "as asked for" in one.message)
    assert told.message.startswith("Snails: not in a bag, as asked for, but in ")
    assert told.remedy == 'take "container: bag" out of its line'
