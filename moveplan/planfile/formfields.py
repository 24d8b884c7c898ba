"""What a form of the plan file needs to know of each key, taken from the models."""

from __future__ import annotations

import inspect
from collections.abc import Iterator, Mapping
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from moveplan.planfile.editor import leaf_of, unit_of
from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.schema.entry import Entry
from moveplan.planfile.schema.leaves import Choice, Names, YesNo
from moveplan.units.table import TARGETS

Fields = Mapping[str, Any]


def form_fields() -> Mapping[str, list[Fields]]:
    """Describe every key of every model.

    Returns
    -------
    Mapping of str to list
        By model, its keys in their order: ``key``, ``what``, ``shape`` (``text``, ``choice``, ``flag``, ``texts``,
        ``entry``, ``entries`` by id, or ``rows`` without), with ``words``, ``of`` (another model), ``units`` and
        ``sample`` where there are some.

    >>> form_fields()["PlanEntry"][1]["key"]
    'title'
    """
    return {model.__name__: [*_keys(model)] for model in dict.fromkeys(_models(PlanEntry))}


def _models(model: type[Entry]) -> Iterator[type[Entry]]:
    yield model
    for field in model.model_fields.values():
        inner = _inner(field.annotation)[1]
        if inner is not None:
            yield from _models(inner)


def _keys(model: type[Entry]) -> Iterator[Fields]:
    for name, field in model.model_fields.items():
        shape, inner = _shape(field)
        row: dict[str, Any] = {"key": field.alias or name, "what": field.description or "", "shape": shape}
        if inner is not None:
            row["of"] = inner.__name__
        leaf = leaf_of(field)
        if isinstance(leaf, Choice):
            row["words"] = [*leaf.words]
        if unit := unit_of(field):
            row["units"] = [*TARGETS[unit].keepers] or [unit]
        samples = [
            *(field.examples or ()),
            *([leaf.example()] if leaf and shape in ("text", "texts") else []),
        ]
        row["sample"] = str(samples[0]) if samples and shape in ("text", "texts") else ""
        row["wanted"] = field.is_required()
        yield row


def _shape(field: FieldInfo) -> tuple[str, type[Entry] | None]:
    many, inner = _inner(field.annotation)
    leaf = leaf_of(field)
    if inner is not None:
        return many, inner
    if many == "entries":
        return "entries", None
    if isinstance(leaf, Choice):
        return "choice", None
    if isinstance(leaf, YesNo):
        return "flag", None
    return ("texts" if isinstance(leaf, Names) else "text"), None


def _inner(annotation: Any) -> tuple[str, type[Entry] | None]:
    """Find the model below a key, and whether it stands there once, once an id, or once a row."""
    if inspect.isclass(annotation) and issubclass(annotation, Entry):
        return "entry", annotation
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin is dict:
        return "entries", _inner(arguments[1])[1]
    if origin is Annotated:
        return _inner(arguments[0])
    if origin is tuple:
        inner = _inner(arguments[0])[1]
        return "rows", inner
    if origin in {Union, UnionType}:
        return _inner(next(part for part in arguments if part is not type(None)))
    return "", None
