"""A price file of the keeper: TOML with the same keys as the price book that is shipped.

Every item is a table with ``amount`` and ``unit``; ``group`` may stand there, since a copy of the price book has it,
and is not read. What the plan itself says under ``prices:`` comes before what stands here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from moveplan.near import nearest
from moveplan.plan.supplies import Price
from moveplan.planfile.beside.tomltable import toml_table
from moveplan.planfile.problems import Fault, plan_file_error, where
from moveplan.planfile.schema.money import Money, PriceLeaf
from moveplan.planfile.schema.refusals import RefusedError
from moveplan.planfile.text import UnreadableError
from moveplan.units import quoted

_KEYS = ("amount", "unit", "group")
_SAMPLE = 'write for example three lines: [salt], amount = 3.20, unit = "kg"'


def prices_in(content: bytes, path: Path, currency: str) -> tuple[Price, ...]:
    """Read the content of a price file.

    Parameters
    ----------
    content : bytes
        What stands in it.
    path : Path
        The file, for messages.
    currency : str
        Of the plan, ISO 4217.

    Raises
    ------
    PlanFileError
        With every problem of the file.
    """
    try:
        table = toml_table(content, _SAMPLE)
    except UnreadableError as error:
        raise plan_file_error(error.faults, str(path)) from None
    lines = table.lines
    faults: list[Fault] = []
    found: list[Price] = []
    for item, row in table.rows.items():
        wrong = list(_shape_faults(item, row, lines))
        money = None if wrong else _money(item, row, lines, currency, wrong)
        faults += wrong
        if money is not None:
            place = where(path.name, lines.get((item,), 0), item)
            found.append(Price(item, money.amount, money.unit, place))
    if faults:
        raise plan_file_error(faults, str(path))
    return tuple(found)


def _shape_faults(item: str, row: Any, lines: Mapping[tuple[str, ...], int]) -> Iterator[Fault]:
    line = lines.get((item,), 0)
    name = quoted(item)[1:-1]
    if not isinstance(row, dict):
        yield Fault(line, (name,), "a value stands where an item with its keys belongs", _SAMPLE)
        return
    for key in row:
        if key not in _KEYS:
            near = nearest(key, _KEYS)
            remedy = f'did you mean "{near}"?' if near else 'the keys here are "amount" and "unit"'
            yield Fault(lines.get((item, key), line), (name, quoted(key)[1:-1]), "no such key", remedy)
    for key, sample in (("amount", "3.20"), ("unit", '"kg"')):
        if key not in row and not any(nearest(other, _KEYS) == key for other in row):
            yield Fault(
                line, (name,), f"{key} is missing", f"add below line {line} for example: {key} = {sample}"
            )


def _money(
    item: str, row: Mapping[str, Any], lines: Mapping[tuple[str, ...], int], currency: str, wrong: list[Fault]
) -> Money | None:
    """Read a price as it would be read in the plan; what is wrong is added to the faults."""
    line, path = lines.get((item, "amount"), lines.get((item,), 0)), (quoted(item)[1:-1],)
    try:
        money = PriceLeaf().read(f"{row['amount']} per {row['unit']}")
    except RefusedError as error:
        wrong += [Fault(line, path, one.message, one.remedy) for one in error.refusals]
        return None
    if money.currency and money.currency != currency:
        message = f"{money.currency} is not the plan's currency {currency}"
        remedy = f"convert the amount to {currency} and leave the currency out"
        wrong.append(Fault(line, path, message, remedy))
    return money
