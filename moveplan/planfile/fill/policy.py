"""Limits that the plan sets otherwise than the table of limits."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from moveplan.near import nearest
from moveplan.planfile.schema.leaves import Number, Quantity
from moveplan.planfile.schema.refusals import refusal
from moveplan.units import quoted, show_number
from moveplan.units.table import TARGETS

if TYPE_CHECKING:
    from moveplan.science.limits import Limit

_PARTS = re.compile(r"([+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?)\s*(.*)")


def policy(texts: Mapping[str, str]) -> Mapping[str, float]:
    """Read every limit, in the unit of the table of limits, by the table's own names."""
    return {name.replace("-", "_"): limit_of(name, text) for name, text in texts.items()}


def limit_of(name: str, text: str) -> float:
    """Read one limit.

    Parameters
    ----------
    name : str
        Name in the table of limits, with dashes or underscores.
    text : str
        Number and unit.
    """
    from moveplan.science.limits import limits

    limit = limits().get(name.replace("-", "_"))
    if limit is None:
        near = nearest(name.replace("_", "-"), [known.replace("_", "-") for known in limits()])
        remedy = f'did you mean "{near}"?' if near else "remove it"
        raise refusal("no such limit", remedy)
    if limit.unit == "-":
        return Number(limit.low, limit.high, show_number(limit.value)).read(text)
    if limit.unit in TARGETS:
        return Quantity(limit.unit, limit.low, limit.high, f"{show_number(limit.value)} {limit.unit}").read(
            text
        )
    return _in_unit(limit, text)


def _in_unit(limit: Limit, text: str) -> float:
    parts = _PARTS.fullmatch(text.strip())
    example = f"{show_number(limit.value)} {limit.unit}"
    if parts is None or "".join(parts[2].split()) != "".join(limit.unit.split()):
        raise refusal(f"{quoted(text)} is not in {limit.unit}", f'write for example "{example}"')
    return Number(limit.low, limit.high, show_number(limit.value)).read(parts[1])
