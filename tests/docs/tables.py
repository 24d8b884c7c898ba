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


ORDER = (
    ("teardown", "lay-hoses > draw-first", "hoses and pump", "first water for the corals"),
    ("teardown", "heaters-off > draw-first", "heaters off", "first water for the corals"),
    ("teardown", "heaters-off > pack-media", "heaters and filter off", "media packed"),
    ("teardown", "heaters-cool > draw-keep-water", "heaters cold", "end of the drawing"),
    ("teardown", "draw-first > corals-out", "containers of the corals filled", "corals out"),
    ("teardown", "no-way-back > corals-out", "point of no return", "corals out"),
    ("teardown", "corals-out > rock-out", "corals out", "rock out"),
    ("teardown", "draw-keep-water > rock-out", "clean water drawn", "rock out"),
    ("teardown", "rock-out > invertebrates-out", "rock out", "snails, crabs, shrimps out"),
    ("teardown", "rock-out > lower-water", "rock out", "water lowered"),
    ("teardown", "invertebrates-out > empty-trap", "snails, crabs, shrimps out", "trap emptied"),
    ("teardown", "empty-trap > lower-water", "trap emptied", "water lowered"),
    ("teardown", "lower-water > catch-fish", "water lowered", "fish caught, within a quarter of an hour"),
    ("teardown", "lower-water > strip-equipment", "water lowered", "pumps and heaters off the tank"),
    ("teardown", "catch-fish > drain-tank", "fish caught", "the rest drained"),
    ("teardown", "drain-tank > sand-out", "the rest drained", "sand out"),
    ("teardown", "sand-out > tank-off", "sand out", "tank made ready to carry"),
    ("road", "draw-keep-water > fill-cans", "clean water drawn", "cans filled, with one pump"),
    ("road", "catch-fish > load-early", "fish caught", "tubs loaded, by up to three people"),
    ("road", "load-cans > load-tank", "cans loaded", "tank and stand loaded"),
    ("road", "load-tank > load-animals", "tank and stand loaded", "animals loaded"),
    ("road", "drive > unload-animals", "drive", "animals carried in"),
    ("road", "unload-animals > unload-tank", "animals carried in", "tank and stand carried in"),
    ("road", "unload-tank > unload-rest", "tank and stand carried in", "the rest carried in"),
    ("rebuild", "place-tank > plumb-tank", "tank level", "pipes joined"),
    ("rebuild", "sand-in > rock-in", "sand in", "rock in"),
    ("rebuild", "rock-in > fill-tank", "rock in", "tank filled"),
    ("rebuild", "fill-tank > start-equipment", "tank filled", "pumps and own heaters on"),
    ("rebuild", "connect-equipment > mount-rest", "pumps and heaters mounted", "lamps and skimmer"),
    ("rebuild", "start-equipment > leak-check", "pumps on", "look for leaks, half an hour later"),
    ("rebuild", "start-equipment > measure-water", "pumps on", "water measured, ten minutes later"),
    ("rebuild", "leak-check > water-matched", "look for leaks", "water fit for the animals"),
    ("rebuild", "warm-water > water-matched", "water warm", "water fit for the animals"),
    ("release", "water-matched > place-corals", "water fit for the animals", "corals onto rack or sand"),
    ("release", "place-corals > release-fish", "corals set down", "fish in"),
    ("release", "release-invertebrates > release-fish", "clean-up crew begun", "fish in"),
    ("release", "release-fish > release-fish", "timid fish in", "territorial fish in"),
    ("release", "mount-rest > watch-evening", "lamps and skimmer", "the hour in the dark"),
)
"""Links of a moving day that the guide explains: table of words, key, and what comes before what."""


def order() -> str:
    """What waits for what on a moving day, each with the reason that the plan gives."""
    folder = ROOT / "templates" / "tasks"
    whys = {name: tomllib.loads((folder / f"{name}.toml").read_text("utf-8"))["why"] for name, *_ in ORDER}
    rows = ((first, then, whys[name][key]) for name, key, first, then in ORDER)
    return _table(("first", "then", "why"), rows)


def _table(head: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    titles = tuple(head)
    lines = [
        titles,
        tuple("---" for _ in titles),
        *(tuple(cell.replace("|", "\\|") for cell in row) for row in rows),
    ]
    return "\n" + "".join(f"| {' | '.join(line)} |\n" for line in lines) + "\n"
