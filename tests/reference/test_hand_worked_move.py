"""A move worked out by hand: one fish, no rock, no sand, no sump; every litre of its ledger, to a tenth of a litre.

The tank is 90 × 45 × 45 cm with glass of 10 mm and water 40 cm high: 0.88 m × 0.43 m × 0.40 m = 151.36 l, 3.784 l a
centimetre. Half of it is to be kept: 75.68 l. Salt water is mixed for the other half and a fifth for spare, in one bin;
a tenth is mixed afresh for the change of the week after. Constants are those of the program, the arithmetic is here.
"""

from __future__ import annotations

from collections import defaultdict
from functools import cache

import pytest

from moveplan.practice.compose import project_of
from moveplan.practice.ledger.entries import Pour
from moveplan.practice.project import Project
from tests.quantities.plans import TEXT, plan_of

TENTH = 0.1
WHOLE_L = 151.4
KEPT_L = NEW_L = 75.7
"""Half of the whole."""
FISH_L = 14.2
"""7 cm over the floor of a 60 l tub, 55.3 × 36.8 cm: 14.25 l, filled in whole tenths."""
DAMP_L = 1.0
"""Filter media stay damp."""
POOL_L = 37.8
"""A quarter of 40 cm for the catch: 10 × 3.784."""
LOWERED_L = 22.6
"""151.36 - 14.2 - 1.0 - 75.68 - 37.84."""
LEFT_L = RAMPED_L = 7.1
"""With its end propped up, half the covering water, 14.25 / 2; as much of the tank's runs to them in two halves."""
BAILED_L = 7.1
"""14.2 - 7.1; then as much goes out as comes in, and their tub is emptied in the end."""
SPARE_L = 37.4
"""A fifth of 151.36, 30.27, and 7.13 for what the fish gets."""
CHANGE_L = 15.1
"""The first change, a tenth of 151.36, mixed afresh for it."""
SPARE_LEFT_L = 30.3
"""37.40 - 7.13: what nobody needed is poured away a week later; it serves nothing else."""
FRESH_KG_L = 1.0233 * (1 - 0.03516504) / 0.9970
"""Litres of purified water in one of salt water, by its mass at salinity 35 and 25.5 °C; TEOS-10, recalled. [-]"""
MADE_L = FRESH_KG_L * CHANGE_L * 1.05
"""And a twentieth is lost on the way."""


@cache
def project() -> Project:
    """One fish in a tub, half of the old water kept."""
    begin, end = TEXT.index("livestock:"), TEXT.index("people:")
    fish = "livestock:\n  goby: {name: Goby, kind: goby, count: 1, size: 8 cm, container: tub}\n"
    text = TEXT[:begin] + fish + TEXT[end:]
    for old, new in (
        ("sump: 40 l", "sump: 0 l\n    water-kept: 50 %"),
        ("rock: 20 kg", "rock: 0 kg"),
        ("sand: 18 kg", "sand: 0 kg"),
    ):
        assert old in text
        text = text.replace(old, new)
    return project_of(plan_of(text))


def poured(task: str, source: str, target: str) -> float:
    """Litres of a task between accounts whose names begin so."""
    return sum(
        one.litres
        for one in project().ledger.pours
        if one.task.rstrip("-0123456789") == task
        and one.source.startswith(source)
        and one.target.startswith(target)
    )


WORKED = [
    ("fill-bin", "purified", "container:", NEW_L + SPARE_L),
    ("draw-keep-water-reef", "system:reef", "container:T", FISH_L + KEPT_L),
    ("pack-media-reef", "system:reef", "container:T", DAMP_L),
    ("lower-water-reef", "system:reef", "drain", LOWERED_L),
    ("drain-tank-reef", "system:reef", "drain", POOL_L),
    ("fill-cans-reef", "container:", "container:C", NEW_L + SPARE_L),
    ("fill-tank-reef", "container:T", "system:reef", KEPT_L),
    ("fill-tank-reef", "container:C", "system:reef", NEW_L),
    ("fill-tank-reef", "container:T", "drain", DAMP_L),
    ("fish-warm-reef", "container:T", "drain", BAILED_L + RAMPED_L),
    ("fish-warm-reef", "system:reef", "container:T", RAMPED_L),
    ("release-fish-reef-timid", "container:T", "drain", LEFT_L),
    ("watch-evening-reef", "container:C", "system:reef", RAMPED_L),
    ("first-change-reef", "container:C", "drain", SPARE_LEFT_L),
    ("first-change-reef", "system:reef", "drain", CHANGE_L),
    ("make-afresh-change-reef", "tap", "purified", MADE_L),
    ("mix-afresh-change-reef", "purified", "container:", CHANGE_L),
    ("first-change-reef", "container:", "system:reef", CHANGE_L),
]


@pytest.mark.parametrize(("task", "source", "target", "litres"), WORKED)
def test_each_pour_is_what_the_hand_gets(task: str, source: str, target: str, litres: float) -> None:
    assert poured(task, source, target) == pytest.approx(litres, abs=TENTH)


def test_the_ledger_closes_to_a_tenth_of_a_litre() -> None:
    """The tank is as full as before, and all else is empty."""
    balances: dict[str, float] = defaultdict(float)
    balances["system:reef"] = WHOLE_L
    for one in project().ledger.pours:
        balances[one.source] -= one.litres
        balances[one.target] += one.litres
    assert balances.pop("system:reef") == pytest.approx(WHOLE_L, abs=TENTH)
    tap, drain = balances.pop("tap"), balances.pop("drain")
    assert all(abs(litres) < TENTH for litres in balances.values()), balances
    assert -tap == pytest.approx(drain, abs=TENTH), "what came in went out"


def test_at_no_time_is_anything_poured_that_is_not_there() -> None:
    balances: dict[str, float] = defaultdict(float)
    balances["system:reef"] = WHOLE_L
    for one in _in_order_of_the_day(project().ledger.pours):
        balances[one.source] -= one.litres
        balances[one.target] += one.litres
        assert one.source == "tap" or balances[one.source] > -TENTH, one


def _in_order_of_the_day(pours: tuple[Pour, ...]) -> list[Pour]:
    """Order pours as the tasks depend on each other."""
    network = project().network
    before: dict[str, set[str]] = defaultdict(set)
    for link in network.links:
        before[link.after].add(link.before)

    def depth(task: str) -> int:
        if task not in known:
            known[task] = 1 + max((depth(one) for one in before[task]), default=0)
        return known[task]

    known: dict[str, int] = {}
    return sorted(pours, key=lambda one: depth(one.task))
