"""The plan file as JSON Schema 2020-12, generated from the models, so that editors complete and check it."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator, Sequence
from types import UnionType
from typing import TYPE_CHECKING, Annotated, Any, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.schema.entry import Entry
from moveplan.planfile.schema.leaves import Leaf, Reference
from moveplan.planfile.schema.words import PURPOSES
from moveplan.planfile.text import composed
from moveplan.planfile.walk import plain
from moveplan.units import quantity_pattern, show_number, unit_words
from moveplan.units.table import TARGETS

if TYPE_CHECKING:
    from moveplan.science.limits import Limit

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_ALWAYS_SIGNED = frozenset({"temperature"})
_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_MOVES = [purpose for purpose in PURPOSES if purpose != "own-tasks"]

Schema = dict[str, Any]


def plan_schema() -> Schema:
    """Describe the plan file.

    It says what each value looks like and which keys there are. Rules between keys, such as an animal's system
    being there, are left to ``moveplan check``.

    Returns
    -------
    dict
        JSON Schema, dialect 2020-12.

    >>> plan_schema()["properties"]["title"]["title"]
    'Title'
    """
    entries: dict[str, Schema] = {}
    whole = _entry(PlanEntry, entries)
    whole["properties"]["policy"] |= _policy()
    entries["dates"]["oneOf"] = [{"required": ["move-day"]}, {"required": ["move-window"]}]
    return {
        "$schema": DIALECT,
        **whole,
        "required": ["title"],
        "title": "Plan of a move of a living reef aquarium",
        "description": "Read by moveplan; times are in the zone of the plan, and every quantity has its unit.",
        "$defs": {**_quantities(), **dict(sorted(entries.items()))},
        "if": {"properties": {"purpose": {"enum": _MOVES}}, "required": ["purpose"]},
        "then": {"required": ["timezone", "dates", "places", "systems"]},
        "else": {"required": ["tasks"], "if": {"required": ["systems"]}, "then": {"required": ["dates"]}},
    }


def schema_of(model: type[Entry], title: str, description: str) -> Schema:
    """Describe a file of another model, such as the one of a firm.

    Parameters
    ----------
    model : type
        The whole file.
    title, description : str
        What it is, in words.

    Returns
    -------
    dict
        JSON Schema, dialect 2020-12.
    """
    entries: dict[str, Schema] = {}
    whole = _entry(model, entries)
    return {
        "$schema": DIALECT,
        **whole,
        "title": title,
        "description": description,
        "$defs": {**_quantities(), **dict(sorted(entries.items()))},
    }


def _entry(model: type[Entry], entries: dict[str, Schema]) -> Schema:
    fields = [(field.alias or name, field) for name, field in model.model_fields.items()]
    wanted = [key for key, field in fields if field.is_required()]
    return {
        "type": "object" if wanted else ["object", "null"],
        "title": _title(model),
        "description": inspect.cleandoc(model.__doc__ or ""),
        "properties": {key: _property(key, field, entries) for key, field in fields},
        "required": wanted,
        "additionalProperties": False,
    }


def _title(model: type[Entry]) -> str:
    words = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", model.__name__.removesuffix("Entry"))
    return words.capitalize()


def _property(key: str, field: FieldInfo, entries: dict[str, Schema]) -> Schema:
    shape = _shape(field.annotation, field.metadata, entries)
    samples = [*(field.examples or ()), *shape.pop("examples", ())]
    unit = unit_of(field)
    kept = f" With its unit, such as {' or '.join(TARGETS[unit].keepers)}." if unit else ""
    return {
        "title": key.replace("-", " ").capitalize(),
        "description": f"{field.description}{kept}",
        **shape,
        "examples": [_instance(sample) for sample in dict.fromkeys(map(str, samples))],
    }


def _shape(annotation: Any, metadata: Sequence[Any], entries: dict[str, Schema]) -> Schema:
    leaf = next((part for part in metadata if isinstance(part, Leaf)), None)
    if leaf is not None:
        return leaf.json()
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        return _shape(arguments[0], arguments[1:], entries)
    if origin in {Union, UnionType}:
        return _shape(next(part for part in arguments if part is not type(None)), (), entries)
    if origin is dict:
        return _section(arguments[1], entries)
    if origin is tuple:
        return _list(arguments[0], entries)
    return _reference(annotation, entries)


def _reference(model: type[Entry], entries: dict[str, Schema]) -> Schema:
    name = _title(model).lower().replace(" ", "-")
    if name not in entries:
        entries[name] = {}  # keeps its place while its own entries are described
        entries[name] = _entry(model, entries)
    return {"$ref": f"#/$defs/{name}"}


def _list(model: type[Entry], entries: dict[str, Schema]) -> Schema:
    """Describe a list of entries; where a text alone stands for a key, also that text, or one entry alone."""
    one = _reference(model, entries)
    if not model.bare_key:
        return {"type": "array", "items": one}
    either = {"anyOf": [_id_schema(), one]}
    return {"anyOf": [*either["anyOf"], {"type": "array", "items": either}]}


def _section(inner: Any, entries: dict[str, Schema]) -> Schema:
    """Describe entries with ids: a mapping by id, or a list of entries with ``id``."""
    shape = _shape(inner, (), entries)
    shape.pop("examples", None)
    name = shape.get("$ref", "").rpartition("/")[2]
    if name not in entries:
        return {"type": ["object", "null"], "additionalProperties": shape}
    entries[name]["properties"]["id"] = {
        "title": "Id",
        "description": "Names the entry; only where entries are listed, not where the id is the key.",
        **_id_schema(),
        "examples": [f"{name}-1"],
    }
    with_id = {"allOf": [shape, {"type": "object", "required": ["id"]}]}
    named = {"anyOf": [_word(inner.bare_word), shape]} if inner.bare_word else shape
    by_id = {"type": ["object", "null"], "propertyNames": _id_schema(), "additionalProperties": named}
    rows = {"type": "array", "items": {"anyOf": [_id_schema(), with_id]}}
    return {"anyOf": [by_id, rows]}


def _word(word: str) -> Schema:
    letters = "".join(f"[{letter}{letter.upper()}]" for letter in word)
    return {"type": "string", "pattern": rf"^\s*{letters}\s*$"}


def _id_schema() -> Schema:
    return {key: value for key, value in Reference().json().items() if key != "examples"}


def _instance(sample: str) -> Any:
    """Turn a sample as it stands in a plan file into what a YAML parser makes of it."""
    root, _faults = composed(f"x: {sample}")
    return _typed(plain(root)["x"])


def _typed(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _typed(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_typed(inner) for inner in value]
    if not _NUMBER.fullmatch(value):
        return value
    return float(value) if "." in value else int(value)


def _policy() -> Schema:
    """Describe each limit of the table of limits that a plan may set otherwise."""
    from moveplan.science.limits import limits

    keys = {name.replace("_", "-"): _limit(limit) for name, limit in limits().items()}
    by_dash_or_underscore = "|".join(name.replace("_", "[_-]") for name in limits())
    return {
        "type": ["object", "null"],
        "properties": keys,
        "patternProperties": {f"^({by_dash_or_underscore})$": {"type": ["number", "string"]}},
        "additionalProperties": False,
    }


def _limit(limit: Limit) -> Schema:
    unit = "" if limit.unit == "-" else f" {limit.unit}"
    number, low, high = map(show_number, (limit.value, limit.low, limit.high))
    meaning = f"{limit.meaning[:1].upper()}{limit.meaning[1:]}, {low} to {high}{unit}"
    return {
        "type": "string" if unit else ["number", "string"],
        "title": limit.name.replace("_", " ").capitalize(),
        "description": f"{meaning}; {limit.known_as}: {limit.source}.",
        "examples": [_typed(f"{number}{unit}")],
    }


def _quantities() -> Schema:
    return {
        name: schema
        for kind in sorted({target.kind for target in TARGETS.values()})
        for name, schema in _of(kind)
    }


def _of(kind: str) -> Iterator[tuple[str, Schema]]:
    for signed in (False, True):
        name = f"signed-{kind}" if signed else kind
        yield (
            name,
            {
                "type": "string",
                "title": f"{kind} with its unit".capitalize(),
                "description": f"A number and its unit: {unit_words(kind)}.",
                "pattern": quantity_pattern(kind, signed=signed or kind in _ALWAYS_SIGNED),
            },
        )


def leaf_of(field: FieldInfo) -> Leaf[Any] | None:
    """Find the leaf that reads a key's value; None where keys or entries belong.

    Parameters
    ----------
    field : FieldInfo
        A key of a model.
    """
    todo: list[Any] = [*field.metadata, field.annotation]
    while todo:
        part = todo.pop(0)
        if isinstance(part, Leaf):
            return part
        if get_origin(part) in {Annotated, Union, UnionType}:
            todo += [*get_args(part), *getattr(part, "__metadata__", ())]
    return None


def unit_of(field: FieldInfo) -> str:
    """Name the unit a key's value is kept in; empty where it has none."""
    leaf = leaf_of(field)
    quantity = getattr(leaf, "quantity", leaf)
    unit = getattr(quantity, "unit", "")
    return unit if isinstance(unit, str) and unit in TARGETS else ""
