from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.journal.taking.slip import TROUBLES
from moveplan.outputs.documents.card import card_of
from moveplan.quantities.trade_groups import CORALS, FISH
from tests.journal.replay import outlook_of


@pytest.mark.parametrize(
    ("groups", "left"),
    [
        ((), ("container-leaks", "device-dead")),
        (CORALS, ("container-leaks", "device-dead")),
        ((*CORALS, "shrimp"), ("animal-missing", "container-leaks", "device-dead")),
        (FISH, TROUBLES),
    ],
)
def test_only_what_may_go_wrong_in_this_plan_is_offered(
    groups: tuple[str, ...], left: tuple[str, ...]
) -> None:
    outlook = outlook_of("house_move")
    plan = outlook.project.plan
    animals = tuple(one for one in plan.livestock if one.traits.group in groups)
    fewer = replace(outlook.project, plan=replace(plan, livestock=animals))
    card = card_of(replace(outlook, project=fewer))
    assert card is not None
    assert tuple(key for key, _ in card.troubles) == left
