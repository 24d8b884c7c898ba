"""Quotes, what became of them, and what is used up, as plain data."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from moveplan.firm.price import Price
from moveplan.firm.quote import Quote, Risk
from moveplan.firm.real import Position, Real
from moveplan.firm.reorder import Stocked


def quote_data(quote: Quote, currency: str) -> dict[str, Any]:
    """Give a quote, with how sure its fixed price is.

    Parameters
    ----------
    currency : str
        ISO 4217 code.
    """
    prices = {"low": quote.low, "likely": quote.likely, "promised": quote.promised}
    return {
        "currency": currency,
        "valid_until": str(quote.valid_until),
        **{name: _price(price) for name, price in prices.items()},
        **({"risk": _risk(quote.risk)} if quote.risk else {}),
    }


def _risk(risk: Risk) -> dict[str, Any]:
    return {
        "runs": risk.runs,
        "asked": risk.asked,
        "covered": round(risk.covered, 6),
        "covered_with_margin": round(risk.covered_with_margin, 6),
        "beyond_mean": _number(risk.beyond),
    }


def _price(price: Price) -> dict[str, Any]:
    return {
        "lines": [
            {
                "item": line.item,
                "quantity": _number(line.quantity),
                "unit_price": _number(line.unit_price),
                "amount": _number(line.amount),
            }
            for line in price.lines
        ],
        **{key: _number(getattr(price, key)) for key in ("net", "margin", "tax", "total")},
    }


def stock_data(one: Stocked) -> dict[str, Any]:
    """Give what all jobs use of one thing, and what has to be ordered."""
    row: dict[str, Any] = {"item": one.item}
    if one.stock is not None:
        row |= {"there": _number(one.stock.there), "delivery_days": one.stock.delivery_days}
    if one.order is not None:
        row["order"] = {
            "amount": _number(one.order.amount),
            "by": str(one.order.by),
            "needed": str(one.order.needed),
            "late": one.order.late,
        }
    return row | {
        "uses": [
            {
                "job": use.job,
                "day": str(use.day),
                "amount": _number(use.amount),
                **({} if use.left is None else {"left": _number(use.left)}),
            }
            for use in one.uses
        ]
    }


def real_data(one: Real) -> dict[str, Any]:
    """Give what a job took against its quote; while it is under way only how much is open."""
    row: dict[str, Any] = {"job": one.job, "open_tasks": one.open}
    if one.open:
        return row
    return row | {
        "tasks": one.tasks,
        "measured_tasks": one.measured,
        "asked": _number(one.asked),
        "quoted": _number(one.quoted),
        "real": _number(one.real),
        "positions": [_position(position) for position in one.positions],
    }


def _position(one: Position) -> dict[str, Any]:
    amounts = {"quoted_quantity": one.quoted_quantity, "real_quantity": one.real_quantity}
    return {
        "item": one.item,
        **({"name": one.name} if one.name else {}),
        **{key: _number(value) for key, value in amounts.items() if value is not None},
        "quoted": _number(one.quoted),
        "real": _number(one.real),
        "difference": _number(one.more),
        **({} if one.share is None else {"share": round(one.share, 6)}),
        "recorded": one.recorded,
    }


def _number(value: Decimal) -> float:
    return float(value)
