"""A price file of the keeper: what is read, and every message about what is wrong in it."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from pathlib import Path

import pytest

import moveplan.cost.book as book
from moveplan.errors import PlanFileError
from moveplan.plan.move import Plan
from moveplan.plan.supplies import Price
from moveplan.planfile import read_plan

NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
PLAN = """\
title: A move
timezone: Europe/Dublin
dates: {move-day: 2027-03-13}
places: {old: {}, new: {distance: 20 km}}
systems: {reef: {tank: {length: 120 cm, width: 60 cm, height: 55 cm}}}
prices-file: prices.toml
prices: {salt: 2.10 per kg}
"""


def priced(folder: Path, content: str) -> Plan:
    (folder / "prices.toml").write_text(content, encoding="utf-8")
    (folder / "plan.yaml").write_text(PLAN, encoding="utf-8")
    return read_plan(folder / "plan.yaml", NOW)


def messages(folder: Path, content: str) -> list[str]:
    with pytest.raises(PlanFileError) as caught:
        priced(folder, content)
    assert caught.value.file_name == str(folder / "prices.toml")
    return [str(problem).replace(f"{folder}/", "") for problem in caught.value.problems]


def test_the_plan_comes_before_the_file(tmp_path: Path) -> None:
    content = (
        '[salt]\namount = 9\nunit = "kg"\n\n[tub]\namount = "14.50 EUR"\nunit = "item"\ngroup = "gear"\n'
    )
    assert priced(tmp_path, content).prices == (
        Price("salt", Decimal("2.10"), "kg"),
        Price("tub", Decimal("14.50"), "item", "prices.toml:5 tub"),
    )


def test_amounts_are_decimal_to_the_last_digit(tmp_path: Path) -> None:
    plan = priced(tmp_path, '[rock]\namount = 7.1050\nunit = "kg"\n[sand]\namount = 4\nunit = "2 kg"\n')
    assert [price.amount for price in plan.prices[1:]] == [Decimal("7.105"), Decimal(2)]


def test_a_copy_of_the_price_book_is_a_price_file(tmp_path: Path) -> None:
    shipped = (Path(book.__file__).parent / "data" / "prices.toml").read_text("utf-8")
    plan = priced(tmp_path, shipped)
    book.check_prices(plan)
    assert {price.item for price in plan.prices} == set(book.price_book())
    rows = book.price_book()
    for price in plan.prices[1:]:
        assert (price.amount, price.unit) == (rows[price.item].amount, rows[price.item].unit)


def test_an_empty_file_says_nothing(tmp_path: Path) -> None:
    assert [price.item for price in priced(tmp_path, "# nothing yet\n").prices] == ["salt"]


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (
            '[rock]\namount = -3.20\nunit = "kg"\n',
            ['prices.toml:2 rock: "-3.20 per kg" is a negative price; write "3.20 per kg"'],
        ),
        (
            '[tub]\namont = 5\nunit = "item"\n',
            ['prices.toml:2 tub.amont: no such key; did you mean "amount"?'],
        ),
        (
            "[bag]\n# each\namount = 5\n[box]\nunit = 'item'\n",
            [
                'prices.toml:1 bag: unit is missing; add below line 1 for example: unit = "kg"',
                "prices.toml:4 box: amount is missing; add below line 4 for example: amount = 3.20",
            ],
        ),
        (
            '[pump]\namount = 3\nunit = "furlong"\n',
            [
                'prices.toml:2 pump: "3 per furlong" has no unit of a price; write it per kg, l, km, hour, day, kWh,'
                ' item, for example "3.20 per kg"'
            ],
        ),
        (
            '[rock]\namount = "4 USD"\nunit = "kg"\n',
            [
                "prices.toml:2 rock: USD is not the plan's currency EUR; convert the amount to EUR and leave the"
                " currency out"
            ],
        ),
        (
            "salt = 3\n",
            [
                "prices.toml:1 salt: a value stands where an item with its keys belongs; write for example three"
                ' lines: [salt], amount = 3.20, unit = "kg"'
            ],
        ),
        (
            "[salt\namount = 3\n",
            [
                "prices.toml:1: this is not TOML: expected ']' at the end of a table declaration; write for example"
                ' three lines: [salt], amount = 3.20, unit = "kg"'
            ],
        ),
        (
            '[rock]\namount = nan\nunit = "kg"\n',
            ['prices.toml:2 rock: "NaN per kg" is not a price; write for example "3.20 per kg"'],
        ),
        ("\x00", ["prices.toml:1: the line holds the control character U+0000; remove it"]),
    ],
)
def test_what_is_wrong_is_said_with_its_line(tmp_path: Path, content: str, expected: list[str]) -> None:
    assert messages(tmp_path, content) == expected


@pytest.mark.parametrize("content", ["[" * 5000, "a = " + "[" * 100_000, "\ufeff[salt]\namount = 1"])
def test_hostile_files_are_refused(tmp_path: Path, content: str) -> None:
    assert messages(tmp_path, content)
