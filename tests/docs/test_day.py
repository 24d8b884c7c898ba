"""The page on the moving day says what the plan does."""

from __future__ import annotations

import pytest

from tests.docs.tables import ORDER
from tests.examples import project

SHOWN = ("house_move", "small_tank_move", "short_plan", "service_firm_office_tank")
"""Examples that have each of these links between them."""


@pytest.mark.parametrize("row", ORDER, ids=lambda row: row[1])
def test_each_order_of_the_page_is_a_link_of_an_example(row: tuple[str, str, str, str]) -> None:
    before, after = row[1].split(" > ")
    pairs = {(link.before, link.after) for name in SHOWN for link in project(name).network.links}
    assert any(first.startswith(before) and then.startswith(after) for first, then in pairs)


def test_each_order_stands_on_the_page_once() -> None:
    assert len({row[1] for row in ORDER}) == len(ORDER)
