"""What age and size of a tank and the seats of the vehicles have to say."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from moveplan.quantities.assemble import facts_of
from tests.cli.command import ROOT
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


@pytest.mark.parametrize(("side", "asked"), [("60 cm", True), ("75 cm", False), ("100 cm", False)])
def test_a_new_tank_that_is_smaller_is_asked_about_at_its_line(
    tmp_path: Path, side: str, asked: bool
) -> None:
    """75 x 45 x 45 cm are 152 l and 60 x 45 x 45 cm are 122 l, by hand."""
    text = (ROOT / "examples" / "larger_tank_same_spot.yaml").read_text("utf-8")
    _, mark, rest = text.partition("length: 100 cm")
    sizes = mark + rest.partition("}")[0]
    file = tmp_path / "plan.yaml"
    file.write_text(text.replace(sizes, f"length: {side}, width: 45 cm, height: 45 cm"), "utf-8")
    found = [one for one in facts_of(read_plan(file)).findings if "smaller than the old one" in one.message]
    assert bool(found) is asked
    if asked:
        (one,) = found
        line = text[: text.index("    new-tank:")].count("\n") + 1
        assert one.where.endswith(f"plan.yaml:{line} systems.display.new-tank")
        assert one.message.endswith("122 l after 152 l, outside; is that meant?")


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
