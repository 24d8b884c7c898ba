from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest

from moveplan.journal.taking.slip import TROUBLES
from moveplan.outputs.documents.card import card_of
from moveplan.quantities.trade_groups import CORALS, FISH
from tests.journal.replay import outlook_of


@pytest.mark.parametrize(("locale", "sign"), [("en-IE", "."), ("de-DE", ",")])
def test_limits_of_hold_points_are_told_with_the_decimal_sign_of_the_locale(locale: str, sign: str) -> None:
    outlook = outlook_of("house_move")
    plan = replace(outlook.project.plan, locale=locale)
    card = card_of(replace(outlook, project=replace(outlook.project, plan=plan)))
    assert card is not None
    said = [row[0] for rows in json.loads(card.data)["asks"].values() for row in rows]
    signs = {found for words in said for found in re.findall(r"\d([.,])\d", words)}
    assert signs == {sign}


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
