"""The price book and the words of the bill."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from pathlib import Path

import pytest

import moveplan.cost.book as book
from moveplan.compiled import template_folder
from moveplan.cost.bill import cents, exact
from moveplan.cost.book import price_book
from moveplan.planfile.schema.words import GEAR_KINDS


def test_prices_are_never_negative() -> None:
    assert all(row.amount >= 0 for row in price_book().values())


def test_the_book_says_that_it_is_invented() -> None:
    text = (Path(book.__file__).parent / "data" / "prices.toml").read_text("utf-8")
    assert "EVERY PRICE HERE IS INVENTED DEMO DATA" in text


def test_every_kind_of_gear_has_a_price_and_a_name() -> None:
    names = tomllib.loads((template_folder() / "costs.toml").read_text("utf-8"))["lines"]
    for kind in GEAR_KINDS:
        assert price_book()[kind].unit == "item"
        assert kind in names


@pytest.mark.parametrize(
    ("amount", "rounded"), [("1.005", "1.01"), ("-1.005", "-1.01"), ("2.675", "2.68"), ("0", "0.00")]
)
def test_cents(amount: str, rounded: str) -> None:
    assert cents(Decimal(amount)) == Decimal(rounded)


def test_computed_quantities_are_rounded_as_printed() -> None:
    assert exact(2.25, 1) == Decimal("2.3")
    assert exact(310.4, 0) == Decimal(310)
