"""Tables of the guide that are made from the program's own data."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from pathlib import Path

from moveplan.planfile.reference import reference_table
from moveplan.science.limits import KnownAs
from moveplan.science.limits import limits as limits_by_name
from moveplan.units import show_number

ROOT = Path(__file__).parents[2]
_KNOWN = {
    KnownAs.FOUND: "",
    KnownAs.RECALLED: "recalled",
    KnownAs.COMMON_PRACTICE: "common practice",
    KnownAs.POLICY: "chosen for this program",
}
"""What is added to a source that does not say so itself."""


def reference() -> str:
    """Every key of the plan file, as ``moveplan schema --table`` prints it."""
    return f"\n{reference_table().strip()}\n\n"


def limits() -> str:
    """Every limit and default with its source."""
    rows = (
        (
            f"`{name.replace('_', '-')}`",
            one.meaning,
            f"{show_number(one.value)} {one.unit}".removesuffix(" -"),
            f"{show_number(one.low)} to {show_number(one.high)}",
            one.source if _KNOWN[one.known_as] in one.source else f"{one.source}; {_KNOWN[one.known_as]}",
        )
        for name, one in limits_by_name().items()
    )
    return _table(("key", "what", "usual", "may be", "where it comes from"), rows)


def prices() -> str:
    """Every price of the price book with its unit."""
    book = tomllib.loads((ROOT / "moveplan" / "cost" / "data" / "prices.toml").read_text("utf-8"))
    rows = ((f"`{name}`", row["amount"], row["unit"]) for name, row in book.items())
    return _table(("item", "price", "for one"), rows)


def _table(head: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    titles = tuple(head)
    lines = [
        titles,
        tuple("---" for _ in titles),
        *(tuple(cell.replace("|", "\\|") for cell in row) for row in rows),
    ]
    return "\n" + "".join(f"| {' | '.join(line)} |\n" for line in lines) + "\n"
