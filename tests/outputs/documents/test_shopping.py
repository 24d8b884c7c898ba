"""``shopping.md``: what is bought follows from the bill, and is rounded up to what is sold."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.compiled import template_folder
from moveplan.cost.lines import cost_of
from moveplan.cost.packs import bought_together
from moveplan.cost.summary import CostLine, CostSummary
from moveplan.estimate import Provenance
from moveplan.outputs.documents.page import sheet_html
from moveplan.outputs.documents.shopping import shopping, shopping_md
from moveplan.outputs.outlook import Outlook
from tests.docs.pages import ROOT
from tests.examples import scheduled
from tests.outputs.hostile import hostile
from tests.outputs.scene import moving_day


def line(item: str, quantity: str, unit: str = "item", price: str = "10", **more: object) -> CostLine:
    amount = Decimal(quantity) * Decimal(price)
    made = CostLine(
        item, item, "gear", Decimal(quantity), unit, Decimal(price), amount, Provenance.ASSUMED, "scene"
    )
    return replace(made, **more)  # type: ignore[arg-type]


def bought(*lines: CostLine, gear: tuple[tuple[str, int, int], ...] = ()) -> Outlook:
    outlook = moving_day()
    assert outlook.cost is not None
    cost: CostSummary = replace(outlook.cost, lines=lines)
    return replace(outlook, cost=cost, project=replace(outlook.project, gear_needed=gear))


def test_salt_for_all_purposes_is_bought_at_once_and_rounded_up() -> None:
    salt = [
        line(item, kg, "kg", "3.20")
        for item, kg in (("salt", "11.8"), ("salt-reserve", "2.3"), ("salt-afresh", "1.1"))
    ]
    (row,) = shopping(bought(*salt))
    assert (row.name, row.need, row.have, row.buy) == ("Salt mix", "15.2 kg", "?", "4 × 5 kg")
    assert row.price == Decimal("64.00")
    assert row.assumed


@pytest.mark.parametrize(("missing", "packs"), [("5", "5 kg"), ("5.1", "2 × 5 kg"), ("0.1", "5 kg")])
def test_what_fits_exactly_is_not_rounded(missing: str, packs: str) -> None:
    (row,) = shopping(bought(line("salt", missing, "kg")))
    assert row.buy == packs


def test_gear_says_what_is_there() -> None:
    (row,) = shopping(bought(line("box", "8"), gear=(("box", 12, 4), ("tub", 9, 9))))
    assert (row.need, row.have, row.buy, row.price) == ("12", "4", "8", Decimal(80))


def test_sand_is_bought_for_each_system() -> None:
    sand = [line(f"sand-{one}", "12", "kg", name=f"New sand, {one.title()}") for one in ("reef", "frags")]
    assert [(row.whose, row.buy) for row in shopping(bought(*sand))] == [
        ("Frags", "3 × 5 kg"),
        ("Reef", "3 × 5 kg"),
    ]


def test_us_plans_are_told_packs_in_their_units_with_the_size_by_which_they_are_sold_beside() -> None:
    """5 kg are 11.0 lb, and 60 l are 15.9 US gal, by the factors of NIST SP 811 (recalled)."""
    found = bought(line("salt", "6.2", "kg"), line("bin-60", "2"), line("rock", "3.5", "kg"))
    plan = replace(found.project.plan, units="us")
    rows = {row.item: row for row in shopping(replace(found, project=replace(found.project, plan=plan)))}
    assert (rows["salt"].need, rows["salt"].buy) == ("13.7 lb", "2 × 11 lb (5 kg)")
    assert rows["bin-60"].name == "Lidded bins of 15.9 US gal (60 l) for new salt water"
    assert rows["rock"].buy == "8.82 lb"


def test_the_printed_sheet_says_need_have_and_buy_by_shop_and_by_when() -> None:
    outlook = bought(line("box", "8"), line("salt", "6.2", "kg"), gear=(("box", 12, 4),))
    html = sheet_html(outlook, "shopping", "A4")
    assert html is not None
    assert "<td>Insulated boxes</td><td>12</td><td>4</td><td><b>8</b></td>" in html
    assert "<td>Salt mix</td><td>6.2 kg</td><td>____</td><td><b>2 × 5 kg</b></td>" in html
    assert "<caption>Aquarium shop" in html
    assert sheet_html(bought(), "shopping", "A4") is None


def test_what_is_no_thing_and_what_brings_money_is_left_out() -> None:
    other = [
        line(item, "3") for item in ("hire-van", "pay-bea-weekend", "electricity", "tap-water", "fuel-van")
    ]
    assert shopping(bought(*other, line("tub", "-2", amount=Decimal(-20)))) == ()
    assert "Nothing has to be bought." in shopping_md(bought())


def test_every_thing_of_the_list_is_an_item_of_the_price_book() -> None:
    book = tomllib.loads((ROOT / "moveplan" / "cost" / "data" / "prices.toml").read_text("utf-8"))
    sold = tomllib.loads((template_folder() / "shopping.toml").read_text("utf-8"))
    assert set(sold) <= set(book)
    never = {
        "tap-water",
        "carrier",
        "filter-wear",
        "vehicle-day",
        "fuel",
        "electricity",
        "boarding-day",
        "disposal",
    }
    assert set(book) - set(sold) == never
    assert all(row["pack"] > 0 and row["name"] and row["shop"] for row in sold.values())


def test_names_of_a_plan_open_nothing_in_the_list() -> None:
    name = "New sand, | a <b> [x](y) \n# z"
    text = shopping_md(hostile(bought(line("sand-reef", "12", "kg", name=name))))
    (row,) = [one for one in text.splitlines() if "Sand" in one]
    assert row.replace("\\|", "").count("|") == 7
    assert "<b>" not in row.replace("\\<", "")


@pytest.mark.parametrize("name", ["house_move_into_larger_tank", "service_firm_office_tank"])
def test_the_bill_is_what_the_till_takes(name: str) -> None:
    """Salt that is used was once billed, and whole bags were bought: the till took more than the bill."""
    project, schedule = scheduled(name)
    cost = cost_of(project, schedule)
    rests = [line for line in cost.lines if line.item.startswith("rest-")]
    assert rests
    billed = [*rests, *(line for held in bought_together(cost.lines).values() for line in held)]
    rows = shopping(replace(moving_day(), project=project, schedule=schedule, cost=cost))
    till = sum((row.price for row in rows), Decimal(0))
    assert abs(till - sum((line.amount for line in billed), Decimal(0))) < Decimal("0.10")
