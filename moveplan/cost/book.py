"""Prices: the plan's own first, then those of the price book, which are invented and say so."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path

from moveplan.cost.words import price_words, problem_words
from moveplan.errors import PlanFileError, Problem
from moveplan.estimate import Provenance
from moveplan.kept import table_of
from moveplan.near import nearest
from moveplan.plan.move import Plan
from moveplan.plan.supplies import Price

OWN = ("extra-", "deposit-", "resale-")
"""Beginnings of items that the plan adds: bought, paid and paid back, sold."""
PAY = "pay-"
WEEKEND = "-weekend"


@dataclass(frozen=True, slots=True)
class Tariff:
    """One price.

    Parameters
    ----------
    amount : Decimal
        Price of one unit.
    unit : str
        What it is the price of one of.
    provenance : Provenance
        Given in the plan, or assumed from the price book.
    basis : str
        Where it comes from, in words.
    """

    amount: Decimal
    unit: str
    provenance: Provenance
    basis: str


@dataclass(frozen=True, slots=True)
class BookEntry:
    """One row of the price book.

    Parameters
    ----------
    amount : Decimal
        Price of one unit, invented demo data.
    unit, group : str
        Its unit, and what it is summed under.
    """

    amount: Decimal
    unit: str
    group: str


@cache
def price_book() -> Mapping[str, BookEntry]:
    """Read the price book: invented demo data, by item.

    >>> price_book()["salt"].unit
    'kg'
    """
    table = table_of(Path(__file__).parent / "data" / "prices.toml")
    return {item: BookEntry(Decimal(row["amount"]), row["unit"], row["group"]) for item, row in table.items()}


def given(amount: Decimal, unit: str) -> Tariff:
    """Make a price that the plan states."""
    return Tariff(amount, unit, Provenance.GIVEN, price_words("given"))


def of_price(price: Price) -> Tariff:
    """Make a price of one of the plan's own, or of the keeper's price file."""
    basis = price_words("file", where=price.where) if price.where else price_words("given")
    return Tariff(price.amount, price.unit, Provenance.GIVEN, basis)


def tariff(plan: Plan, item: str) -> Tariff:
    """Find the price of an item of the price book.

    Parameters
    ----------
    plan : Plan
        Its prices come first.
    item : str
        Id in the price book.

    Returns
    -------
    Tariff
        The plan's, or the book's.
    """
    for price in plan.prices:
        if price.item == item:
            return of_price(price)
    row = price_book()[item]
    return Tariff(row.amount, row.unit, Provenance.ASSUMED, price_words("book"))


def check_prices(plan: Plan) -> None:
    """Refuse prices of the plan that nothing could use.

    Raises
    ------
    PlanFileError
        Where an item is unknown, or priced in another unit than it is counted in.
    """
    problems = tuple(problem for price in plan.prices for problem in _faults(plan, price))
    if problems:
        raise PlanFileError(problems, plan.file_name)


def _faults(plan: Plan, price: Price) -> tuple[Problem, ...]:
    item, unit = price.item, price.unit
    where = price.where or plan.where(f"prices.{item}")
    if item.startswith(OWN):
        return ()
    counted = (
        "hour" if item in _weekend_pay(plan) else price_book()[item].unit if item in price_book() else ""
    )
    if not counted:
        known = [*price_book(), *_weekend_pay(plan)]
        near = nearest(item, known) or "salt"
        return (Problem(problem_words("item", item=item), where, problem_words("item-remedy", near=near)),)
    if counted != unit:
        message = problem_words("unit", item=item, unit=unit, counted=counted)
        return (Problem(message, where, problem_words("unit-remedy", counted=counted)),)
    return ()


def _weekend_pay(plan: Plan) -> tuple[str, ...]:
    return tuple(f"{PAY}{person.id}{WEEKEND}" for person in plan.people)
