"""The models themselves: every key is described, and every sample offered in a remedy is accepted."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

import pytest
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.schema.leaves import Leaf
from moveplan.planfile.shapes import example_at, is_wanted, keys_at
from moveplan.planfile.text import composed
from moveplan.planfile.walk import plain


def models(model: type[BaseModel] = PlanEntry) -> Iterator[type[BaseModel]]:
    yield model
    for field in model.model_fields.values():
        for part in parts_of(field.annotation):
            if isinstance(part, type) and issubclass(part, BaseModel):
                yield from models(part)


def parts_of(annotation: Any) -> Iterator[Any]:
    yield annotation
    for part in get_args(annotation):
        yield from parts_of(part)


def leaves_of(field: FieldInfo) -> list[Leaf[Any]]:
    found = [*field.metadata, *parts_of(field.annotation)]
    return [part for part in found if isinstance(part, Leaf)]


FIELDS = sorted(
    {
        f"{model.__name__}.{field.alias}": field
        for model in models()
        for field in model.model_fields.values()
    }.items()
)


@pytest.mark.parametrize(("name", "field"), FIELDS, ids=[name for name, _field in FIELDS])
def test_field(name: str, field: FieldInfo) -> None:
    assert field.description
    assert field.description.endswith(".")
    if field.is_required():
        assert field.examples
    for leaf in leaves_of(field):
        for sample in (leaf.example(), *leaf.json()["examples"]):
            leaf.take(sample if isinstance(sample, list) else plain(composed(f"x: {sample}")[0])["x"])


def test_shapes() -> None:
    assert keys_at(("systems", "any", "new-tank", "tank"))[:3] == ["length", "width", "height"]
    assert keys_at(("tasks", "any", "after", 0)) == ["task", "relation", "gap", "at-most"]
    assert keys_at(("prices", "salt")) == []
    assert keys_at(("nowhere", "at", "all")) == []
    assert is_wanted(("systems", "any", "tank"))
    assert not is_wanted(("systems", "any", "sump"))
    assert example_at(("livestock", "any", "kind")) == "clownfish"
