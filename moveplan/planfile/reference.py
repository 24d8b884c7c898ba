"""Every key of the plan file as tables in Markdown, generated from the models and from what is filled in."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from moveplan.plan.move import Assumption
from moveplan.planfile.draft import drafted
from moveplan.planfile.editor import leaf_of, unit_of
from moveplan.planfile.fill import filled
from moveplan.planfile.problems import listed
from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.schema.entry import Entry, ThreePointLeaf
from moveplan.planfile.schema.leaves import Choice, Quantity
from moveplan.planfile.text import composed
from moveplan.units.table import TARGETS

_ID = "ID"
_TANK = "tank: {length: 120 cm, width: 60 cm, height: 55 cm}"
_BARE = f"""
title: A move
as-of: 2027-01-04 09:00
timezone: Europe/Dublin
dates: {{move-day: 2027-03-13}}
places: {{{{homes}}}}
systems: {{ID: {{{_TANK}, equipment: {{ID: {{}}}}, new-tank: {{{_TANK}, equipment: {{ID: {{}}}}}}}}}}
livestock: {{ID: {{kind: clownfish}}}}
people: {{ID: {{}}}}
vehicles: {{ID: {{cost: 1 per km}}}}
gear: {{ID: {{kind: tub}}}}
boarding: {{ID: {{place: ID, volume: 200 l}}}}
"""
_SPARSE = f"""
title: A move
as-of: 2027-01-04 09:00
timezone: Europe/Dublin
dates: {{move-day: 2027-03-13}}
places: {{old: {{}}, ID: {{distance: 20 km}}}}
systems: {{ID: {{{_TANK}}}}}
"""
_OWN = "title: Tasks\npurpose: own-tasks\nas-of: 2027-01-04 09:00\ntasks: {ID: {duration: 1 h}}\n"
"""Plans in which as much as possible is left out, so that it is filled in; their one entry is called ID."""
_NEEDED = frozenset({("title",), ("timezone",), ("dates",), ("places",), ("systems",)})
_VARIES = frozenset(
    [
        "id",
        "country",
        "locale",
        "units",
        "currency",
        "start",
        "fall-back-day",
        "place",
        "system",
        "people",
        "vehicles",
        "steps",
        "wall",
        "base",
        "water-height",
        "sump",
        "stand",
        "rock",
        "sand",
        "feed",
        "equipment",
        "kind",
        "size",
        "temperament",
        "power",
        "mass",
        "low",
        "high",
        "room-temperature-high",
        "air-temperature",
        "air-temperature-high",
    ]
)
"""Keys whose usual value is another one in another plan, so that only the reason is printed."""
_BY_CASE = frozenset({"purpose", "moves-to"})
"""Keys whose usual value follows from the plan in a few cases, which are all printed."""
_CELL = re.compile(r"([|\\<>*_`\[\]])")


def reference_table() -> str:
    """Write the reference: a table for the plan as a whole and one for each section."""
    usual = _usual()
    first: dict[type[Entry], tuple[str, ...]] = {}
    parts = []
    for path, model in _models((), PlanEntry):
        known = first.setdefault(model, path)
        parts.append(_table(path, model, usual) if known == path else _again(path, known))
    return "\n".join(parts)


def _models(path: tuple[str, ...], model: type[Entry]) -> Iterator[tuple[tuple[str, ...], type[Entry]]]:
    yield path, model
    for name, field in model.model_fields.items():
        inner, listed = _inner(field.annotation)
        if inner is not None:
            yield from _models((*path, field.alias or name, *([_ID] if listed else [])), inner)


def _inner(annotation: Any) -> tuple[type[Entry] | None, bool]:
    """Find the model below a key, and whether it stands there once for each id."""
    if isinstance(annotation, type) and issubclass(annotation, Entry):
        return annotation, False
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin is dict:
        return _inner(arguments[1])[0], True
    if origin in {Annotated, tuple}:
        return _inner(arguments[0])
    if origin in {Union, UnionType}:
        return _inner(next(part for part in arguments if part is not type(None)))
    return None, False


def _again(path: tuple[str, ...], known: tuple[str, ...]) -> str:
    return f"**`{'.'.join(path)}`**: the keys of `{'.'.join(known)}`.\n"


def _table(path: tuple[str, ...], model: type[Entry], usual: Mapping[str, list[Assumption]]) -> str:
    title = f"`{'.'.join(path)}`" if path else "The plan"
    rows = [_row((*path, field.alias or name), field, usual) for name, field in model.model_fields.items()]
    head = ["| key | what | unit | without it | example |", "| --- | --- | --- | --- | --- |"]
    return "\n".join([f"**{title}**: {_cell((model.__doc__ or '').splitlines()[0])}", "", *head, *rows, ""])


def _row(path: tuple[str, ...], field: FieldInfo, usual: Mapping[str, list[Assumption]]) -> str:
    cells = (
        f"`{path[-1]}`",
        _cell(f"{field.description}{_words(field)}"),
        _cell(_units(field)),
        _cell(_left_out(path, field, usual)),
        f"`{_example(field)}`".replace("|", "\\|"),
    )
    return f"| {' | '.join(cells)} |"


def _units(field: FieldInfo) -> str:
    unit, leaf = unit_of(field), leaf_of(field)
    if not unit:
        return ""
    several = isinstance(leaf, ThreePointLeaf)
    quantity = leaf.quantity if isinstance(leaf, ThreePointLeaf) else leaf
    offered = quantity.measure.offered if isinstance(quantity, Quantity) else TARGETS[unit].keepers
    also = () if {f"{unit}s", unit.removeprefix("°")} & {*offered} else (unit,)
    return ", ".join((*offered, *also)) + ("; or low, likely, high" if several else "")


def _words(field: FieldInfo) -> str:
    leaf = leaf_of(field)
    return f" One of {listed(leaf.words, 20)}." if isinstance(leaf, Choice) else ""


def _left_out(path: tuple[str, ...], field: FieldInfo, usual: Mapping[str, list[Assumption]]) -> str:
    if field.is_required() or path in _NEEDED:
        return "needed"
    found = usual.get(".".join(path))
    if found is None:
        return _default(field)
    if path == ("id",):
        return found[0].why.partition(";")[0]
    if path[-1] in _BY_CASE:
        return "; or ".join(
            dict.fromkeys(f"{one.value}: {one.why}".removeprefix(f"{_ID}: ") for one in found[::-1])
        )
    return found[0].why if path[-1] in _VARIES else f"{found[0].value}: {found[0].why}"


def _default(field: FieldInfo) -> str:
    if isinstance(field.default, bool):
        return "yes" if field.default else "no"
    return str(field.default) if isinstance(field.default, int | str) else ""


def _example(field: FieldInfo) -> str:
    leaf = leaf_of(field)
    samples = [*(field.examples or ()), *([leaf.example()] if leaf else [])]
    return str(samples[0])


def _usual() -> Mapping[str, list[Assumption]]:
    """Fill in plans that say next to nothing; what is assumed in them, by key."""
    texts = (
        _BARE.replace("{{homes}}", "{ID: {}}"),
        _BARE.replace("{{homes}}", "{old: {}, ID: {distance: 20 km}}"),
        _SPARSE,
        _OWN,
    )
    found: dict[str, list[Assumption]] = {}
    for text in texts:
        draft, _faults = drafted(composed(text)[0], None)
        for assumption in filled(draft, "plan.yaml").assumptions:
            found.setdefault(assumption.key, []).append(assumption)
    return found


def _cell(text: str) -> str:
    return _CELL.sub(r"\\\1", text)
