"""What was quoted when a job was accepted, and how far was really driven for it, as recorded beside the firm file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal, InvalidOperation
from typing import Any, TypeVar

from moveplan.errors import PlanFileError, Problem
from moveplan.firm.changes.record import append_row, no_record, rows_of
from moveplan.firm.price import Price, Quoted, QuoteLine
from moveplan.firm.values import Firm
from moveplan.planfile.problems import unknown
from moveplan.units import Measure, QuantityError

_Kept = TypeVar("_Kept")


def keep_quote(firm: Firm, job: str, quoted: Quoted) -> None:
    """Write down what a job was quoted at.

    Parameters
    ----------
    job : str
        Id of the job.
    """
    price = quoted.price
    lines = [
        {key: str(getattr(line, key)) for key in ("item", "quantity", "unit_price", "amount")}
        for line in price.lines
    ]
    sums = {key: str(getattr(price, key)) for key in ("net", "margin", "tax", "total")}
    append_row(firm, {"quoted": job, "lines": lines, **sums, "work": quoted.work})


def quotes_kept(firm: Firm) -> Mapping[str, Quoted]:
    """Give what each job was last quoted at when it was accepted.

    Raises
    ------
    PlanFileError
        Where a line cannot be read.
    """
    return _last(firm, "quoted", _quoted)


def _quoted(row: Mapping[str, Any]) -> Quoted:
    lines = tuple(
        QuoteLine(str(one["item"]), *(Decimal(one[key]) for key in ("quantity", "unit_price", "amount")))
        for one in row["lines"]
    )
    sums = (Decimal(row[key]) for key in ("net", "margin", "tax", "total"))
    work = {
        task: {who: float(minutes) for who, minutes in people.items()} for task, people in row["work"].items()
    }
    return Quoted(Price(lines, *sums), work)


def keep_km(firm: Firm, job: str, distance: str) -> float:
    """Write down how far was driven for a job, all vehicles together.

    Parameters
    ----------
    job : str
        Id of the job.
    distance : str
        With its unit.

    Returns
    -------
    float
        As it was read. [km]

    Raises
    ------
    PlanFileError
        Where there is no such job, or it is no distance.
    """
    known = [one.id for one in firm.jobs]
    if job not in known:
        message, remedy = unknown("job", job, known)
        problem = Problem(message.replace("the plan has", "the firm has"), str(firm.path), remedy)
        raise PlanFileError((problem,), str(firm.path))
    try:
        km = Measure("km", 0, 100_000, "212 km").read(distance)
    except QuantityError as fault:
        raise PlanFileError((Problem(fault.message, "", fault.remedy),)) from None
    append_row(firm, {"drove": job, "km": round(km, 1)})
    return km


def driven(firm: Firm) -> Mapping[str, Decimal]:
    """Give how far was driven for each job, as was recorded last. [km].

    Raises
    ------
    PlanFileError
        Where a line cannot be read.
    """
    return _last(firm, "drove", lambda row: Decimal(str(float(row["km"]))))


def _last(firm: Firm, kind: str, of: Callable[[Mapping[str, Any]], _Kept]) -> Mapping[str, _Kept]:
    """Give what was recorded last of a kind, by job."""
    found: dict[str, _Kept] = {}
    for where, row in rows_of(firm):
        if kind in row:
            try:
                found[str(row[kind])] = of(row)
            except (KeyError, TypeError, ValueError, AttributeError, InvalidOperation):
                raise no_record(where) from None
    return found
