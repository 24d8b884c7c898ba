"""From the tree of texts to typed entries: every fault worded, and whatever is sound kept for the crosschecks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError

from moveplan.planfile.problems import Fault, listed, nearest
from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.sections import SECTIONS
from moveplan.planfile.text import Node
from moveplan.units import quoted

_BY_KEY = (*SECTIONS, "prices", "policy")
_Location = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Draft:
    """A plan file whose sound entries are typed.

    Parameters
    ----------
    entry : PlanEntry
        Sound entries only. [-]
    root : Node
        The whole file. [-]
    now : datetime or None
        Time asked for on the command line. [-]
    """

    entry: PlanEntry
    root: Node
    now: datetime | None

    def ids(self, section: str) -> list[str]:
        """Ids of a section as written, sound or not."""
        node = _child(self.root, section)
        return list(node.value) + sorted(node.broken) if node and isinstance(node.value, dict) else []

    def node(self, *path: str) -> Node | None:
        """Tree below a key path; None where nothing stands there."""
        node: Node | None = self.root
        for name in path:
            node = _child(node, name) if node is not None else None
        return node

    def has(self, *path: str) -> bool:
        """Tell whether the file holds a key, sound or not."""
        holder = self.node(*path[:-1])
        return holder is not None and (path[-1] in holder.broken or _child(holder, path[-1]) is not None)

    def line(self, *path: str) -> int:
        """Line of a key path, or of the nearest block above it."""
        return spot(self.root, path)[0].line

    def line_in(self, section: str, position: int) -> int:
        """Line of a row of a plain list."""
        return spot(self.root, (section, position))[0].line


def plain(node: Node) -> Any:
    """Turn a tree into texts, dicts and lists."""
    if isinstance(node.value, dict):
        return {key: plain(child) for key, child in node.value.items()}
    if isinstance(node.value, list):
        return [plain(child) for child in node.value]
    return node.value


def key_lines(root: Node) -> dict[str, int]:
    """Map every key path with the keeper's ids to its line; positions in plain lists are left out."""
    lines: dict[str, int] = {}
    todo: list[tuple[str, Node]] = [("", root)]
    while todo:
        path, node = todo.pop()
        if isinstance(node.value, dict):
            for key, child in node.value.items():
                longer = f"{path}.{key}" if path else key
                lines.setdefault(longer, child.line)
                todo.append((longer, child))
        elif isinstance(node.value, list):
            todo.extend((path, child) for child in reversed(node.value))
    return lines


def spot(root: Node, location: Iterable[str | int]) -> tuple[Node, tuple[str, ...]]:
    """Walk down a location as far as it goes; the node reached and the key path without positions."""
    node, path = root, []
    for step in location:
        if isinstance(step, str):
            path.append(step)
        child = _child(node, step)
        node = node if child is None else child
    return node, tuple(path)


def _child(node: Node, step: str | int) -> Node | None:
    if isinstance(node.value, dict) and isinstance(step, str):
        return node.value.get(step)
    if isinstance(node.value, list) and isinstance(step, int) and step < len(node.value):
        return node.value[step]
    return None


def drafted(root: Node, now: datetime | None) -> tuple[Draft, list[Fault]]:
    """Type every entry.

    Parameters
    ----------
    root : Node
        The plan file, lists with ids already turned into mappings. [-]
    now : datetime or None
        Time asked for on the command line. [-]

    Returns
    -------
    tuple of (Draft, list of Fault)
        Sound entries, and what is wrong with the others. [-]
    """
    texts = plain(root)
    faults: list[Fault] = []
    try:
        entry = PlanEntry.model_validate(texts)
    except ValidationError as error:
        details = error.errors(include_url=False, include_input=False)
        faults = list(_worded(root, details))
        for detail in details:
            _prune(texts, detail["loc"])
        entry = PlanEntry.model_validate(texts)
    return Draft(entry, root, now), faults


def _prune(texts: dict[str, Any], location: _Location) -> None:
    section = location[0]
    held = texts.get(str(section))
    if section in _BY_KEY and len(location) > 1 and isinstance(held, dict):
        held.pop(location[1], None)
    else:
        texts.pop(str(section), None)


def _worded(root: Node, details: Iterable[Any]) -> Iterator[Fault]:
    meant: set[tuple[tuple[str, ...], str]] = set()
    missing: list[tuple[_Location, Node, tuple[str, ...]]] = []
    for detail in details:
        location: _Location = detail["loc"]
        node, path = spot(root, location)
        if detail["type"] == "missing":
            holder, above = spot(root, location[:-1])
            missing.append((location, holder, above))
        elif detail["type"] == "extra_forbidden":
            near = nearest(str(location[-1]), _keys(location[:-1]))
            meant.add((path[:-1], near))
            yield _no_such_key(node, path, near, location)
        elif detail["type"] == "refused":
            yield _refused(root, location, detail["ctx"])
        else:
            yield _misshapen(node, path, location)
    for location, holder, above in missing:
        name = str(location[-1])
        if (above, name) not in meant and name not in holder.broken:
            yield missing_key(holder, above, name, _example(location))


def missing_key(holder: Node, path: tuple[str, ...], name: str, example: str) -> Fault:
    """Word a key that is not there; points at the block that lacks it."""
    line = f'"{name}: {example}"'
    where = "add" if holder.flow or not holder.line else f"add it below line {holder.line}, for example"
    return Fault(holder.line, path, f"{name} is missing", f"{where} {line}")


def _no_such_key(node: Node, path: tuple[str, ...], near: str, location: _Location) -> Fault:
    shown = (*path[:-1], quoted(path[-1])[1:-1])
    known = _keys(location[:-1])
    remedy = f'did you mean "{near}"?' if near else f"the keys here are {listed(known, 40)}"
    return Fault(node.line, shown, "no such key", remedy)


def _refused(root: Node, location: _Location, context: dict[str, Any]) -> Fault:
    node, path = spot(root, (*location, *context["path"]))
    return Fault(node.line, path, context["message"], context["remedy"])


def _misshapen(node: Node, path: tuple[str, ...], location: _Location) -> Fault:
    shown = (
        quoted(node.value)
        if isinstance(node.value, str)
        else "a list"
        if isinstance(node.value, list)
        else "keys"
    )
    keys = _keys(location)
    if keys:
        return Fault(
            node.line,
            path,
            f"{shown} stands where keys with values belong",
            f"the keys here are {listed(keys, 40)}",
        )
    if location == ("drives",):
        return Fault(
            node.line,
            path,
            f"{shown} stands where a list belongs",
            'write for example "[{from: one, to: two, distance: 5 km}]"',
        )
    return Fault(
        node.line, path, f"{shown} stands where entries with ids belong", 'write for example "{one: {}}"'
    )


def _keys(location: _Location) -> list[str]:
    model = _model_at(location)
    return [field.alias or name for name, field in model.model_fields.items()] if model else []


def _example(location: _Location) -> str:
    model = _model_at(location[:-1])
    fields = model.model_fields.values() if model else ()
    examples = next((field.examples for field in fields if field.alias == location[-1]), None)
    return str(examples[0]) if examples else "..."


def _model_at(location: _Location) -> type[BaseModel] | None:
    shape: Any = PlanEntry
    for step in location:
        shape = _below(_bare(shape), step)
    bare = _bare(shape)
    return bare if isinstance(bare, type) and issubclass(bare, BaseModel) else None


def _bare(shape: Any) -> Any:
    while get_origin(shape) in {Annotated, Union, UnionType}:
        shape = next(part for part in get_args(shape) if part is not type(None))
    return shape


def _below(shape: Any, step: str | int) -> Any:
    if isinstance(shape, type) and issubclass(shape, BaseModel):
        return next((field.annotation for field in shape.model_fields.values() if field.alias == step), None)
    arguments = get_args(shape)
    if get_origin(shape) is dict and isinstance(step, str):
        return arguments[1]
    return arguments[0] if arguments and isinstance(step, int) else None
