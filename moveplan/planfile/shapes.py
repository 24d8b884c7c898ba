"""What the models say about a place in the plan file: its keys, whether it is wanted, an example of it."""

from __future__ import annotations

from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.schema.leaves import Reference
from moveplan.planfile.walk import Location


def keys_at(location: Location, root: type[BaseModel] = PlanEntry) -> list[str]:
    """Keys that are known at a place; none where no keys belong."""
    model = _model_at(location, root)
    return [field.alias or name for name, field in model.model_fields.items()] if model else []


def is_wanted(location: Location) -> bool:
    """Tell whether the key at a place cannot be left out."""
    field = field_at(location)
    return field is not None and field.is_required()


def example_at(location: Location, root: type[BaseModel] = PlanEntry) -> str:
    """Give something that could be written at a place whose key cannot be left out."""
    field = field_at(location, root)
    return str(field.examples[0]) if field is not None and field.examples else ""


def is_reference(location: Location, root: type[BaseModel] = PlanEntry) -> bool:
    """Tell whether the key at a place names another entry, so that no example of it would do."""
    field = field_at(location, root)
    return field is not None and any(isinstance(leaf, Reference) for leaf in field.metadata)


def field_at(location: Location, root: type[BaseModel] = PlanEntry) -> FieldInfo | None:
    """Find what the models say about the key at a place; None where there is no such key."""
    model = _model_at(location[:-1], root)
    fields = model.model_fields.values() if model else ()
    return next((field for field in fields if field.alias == location[-1]), None)


def _model_at(location: Location, root: type[BaseModel]) -> type[BaseModel] | None:
    shape: Any = root
    for step in location:
        shape = _inside(_bare(shape), step)
    bare = _bare(shape)
    return bare if isinstance(bare, type) and issubclass(bare, BaseModel) else None


def _bare(shape: Any) -> Any:
    while get_origin(shape) in {Annotated, Union, UnionType}:
        shape = next(part for part in get_args(shape) if part is not type(None))
    return shape


def _inside(shape: Any, step: str | int) -> Any:
    if isinstance(shape, type) and issubclass(shape, BaseModel):
        return next((field.annotation for field in shape.model_fields.values() if field.alias == step), None)
    arguments = get_args(shape)
    if get_origin(shape) is dict and isinstance(step, str):
        return arguments[1]
    return arguments[0] if arguments and isinstance(step, int) else None
