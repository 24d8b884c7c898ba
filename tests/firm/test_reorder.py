"""What is used up over all jobs: counted again from the bills of the jobs, and the days by which to order."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from moveplan.firm.file.reader import read_firm
from moveplan.firm.papers.stock import stock_md
from moveplan.firm.reorder import Stocked, stocked
from moveplan.firm.values import FirmStock
from moveplan.times import to_local
from tests.firm.firms import EXAMPLES, built, six_jobs

SALT = ("salt", "salt-afresh", "salt-reserve", "salt-topping")


def own(job: str) -> dict[str, Any]:
    folder, _ = built()
    data: dict[str, Any] = json.loads((folder / "jobs" / job / "result.json").read_text("utf-8"))
    return data


def with_stock(item: str, there: str, days: int) -> Stocked:
    """Follow one thing of the example firm with so much of it there."""
    outlook = six_jobs()
    firm = replace(outlook.firm, stock=(FirmStock(item, Decimal(there), days),))
    return next(one for one in stocked(replace(outlook, firm=firm)) if one.item == item)


def test_salt_of_all_jobs_is_that_of_their_bills_and_is_needed_when_the_first_is_mixed() -> None:
    for use in with_stock("salt", "100", 5).uses:
        data = own(use.job)
        lines = [line for line in data["cost"]["lines"] if line["item"] in SALT]
        assert float(use.amount) == round(sum(line["quantity"] for line in lines), 3)
        mixed = min(task["start"] for task in data["tasks"] if task["id"].startswith("mix-"))
        assert str(use.day) == mixed[:10]


def test_bags_are_those_that_leave_with_the_gear_and_a_test_set_is_one_a_job() -> None:
    folder, _ = built()
    gear = {one["id"]: one for one in json.loads((folder / "result.json").read_text("utf-8"))["gear"]}
    taken = sum(row["count"] for row in gear["bags"]["taken"])
    assert sum(use.amount for use in with_stock("bag", "0", 1).uses) == taken
    assert [use.amount for use in with_stock("test-kits", "0", 1).uses] == [Decimal(1)] * 6


def test_an_order_is_placed_so_that_it_is_there_on_the_day_on_which_something_is_first_short() -> None:
    enough = sum((use.amount for use in with_stock("salt", "0", 5).uses), Decimal(0))
    assert with_stock("salt", str(enough), 5).order is None
    one = with_stock("salt", str(enough - 1), 5)
    assert one.order is not None
    last = one.uses[-1]
    assert (one.order.needed, one.order.by) == (last.day, last.day - timedelta(days=5))
    assert (one.order.amount, one.order.late) == (Decimal(5), False)  # sold in packs of 5 kg
    empty = with_stock("salt", "0", 5)
    assert empty.order is not None
    assert empty.order.needed == empty.uses[0].day
    assert empty.order.amount >= enough > empty.order.amount - 5


def test_an_order_that_cannot_come_in_time_is_said_to_be_late() -> None:
    outlook = six_jobs()
    late = with_stock("test-kits", "0", 60)
    assert late.order is not None
    assert late.order.late
    assert late.order.by < to_local(outlook.firm.now, outlook.firm.zone).date()
    firm = replace(outlook.firm, stock=(FirmStock("test-kits", Decimal(0), 60),))
    assert "it may come too late" in stock_md(replace(outlook, firm=firm))


def test_what_was_used_before_now_is_gone_already() -> None:
    outlook = six_jobs()
    uses = with_stock("salt", "50", 5).uses
    later = max(use.day for use in uses[:2]) + timedelta(days=1)
    minutes = (later - to_local(outlook.firm.now, outlook.firm.zone).date()).days * 1440
    firm = replace(outlook.firm, now=outlook.firm.now + minutes)
    rest = next(one for one in stocked(replace(outlook, firm=firm)) if one.item == "salt")
    assert [use.job for use in rest.uses] == [use.job for use in uses if use.day >= later]


def test_the_page_and_the_data_say_the_same() -> None:
    folder, _ = built()
    text = (folder / "stock.md").read_text("utf-8").replace("\\", "")
    data = json.loads((folder / "result.json").read_text("utf-8"))["stock"]
    assert [row["item"] for row in data] == ["salt", "bag", "test-kits"]
    assert text.count("\n- ") == sum(len(row["uses"]) for row in data)
    for row in data:
        if "order" in row:
            amount, by = f"{row['order']['amount']:g}", date.fromisoformat(row["order"]["by"])
            unit = " kg" if row["item"] == "salt" else ""
            assert f"Order {amount}{unit} by {by:%A} {by.day} {by:%B} {by.year}." in text


def test_the_page_of_the_month_lists_what_has_to_be_ordered_the_soonest_first() -> None:
    folder, _ = built()
    text = (folder / "index.html").read_text("utf-8")
    orders = sorted(
        (one.order.by, f"{one.order.amount:g}") for one in stocked(six_jobs()) if one.order is not None
    )
    assert orders
    listed = text.partition("<h2>To order</h2>")[2].partition("</section>")[0]
    assert all(f": {amount}" in listed for _, amount in orders)
    days = [listed.index(f"by {by:%A} {by.day} {by:%B} {by.year}") for by, _ in orders]
    assert days == sorted(days)


def test_a_firm_that_does_not_say_what_is_there_gets_no_order() -> None:
    outlook = replace(six_jobs(), firm=replace(six_jobs().firm, stock=()))
    assert all(one.order is None and one.stock is None for one in stocked(outlook))
    assert "does not say how much is there" in stock_md(outlook)


def test_the_keys_of_the_stock_are_read() -> None:
    stock = {one.item: one for one in read_firm(EXAMPLES / "firm.yaml").stock}
    assert stock["salt"] == FirmStock("salt", Decimal("10.0"), 5)
    assert (stock["bag"].there, stock["bag"].delivery_days) == (Decimal(1), 4)
    assert (stock["test-kits"].there, stock["test-kits"].delivery_days) == (Decimal(4), 7)
