"""What the models refuse, in the keeper's words and with the keeper's lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from pydantic import BaseModel

from moveplan.near import nearest
from moveplan.planfile.problems import MOST_SHOWN, Fault, listed
from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.shapes import example_at, is_reference, keys_at
from moveplan.planfile.text import Node
from moveplan.planfile.walk import Location, spot
from moveplan.units import quoted

_LISTS = {"drives": "ways", "jobs": "jobs"}
"""Sections that are plain lists, and what they list. [-]"""


def worded(root: Node, details: Sequence[Any], model: type[BaseModel] = PlanEntry) -> Iterator[Fault]:
    """Word what the models refuse.

    Parameters
    ----------
    details : sequence
        Errors of pydantic. Beyond as many as are shown, they are counted only.
    model : type
        What the whole file was read as.
    """
    ordered = sorted(details, key=lambda detail: spot(root, detail["loc"])[0].line)
    misspelt: set[tuple[tuple[str, ...], str]] = set()
    for detail in ordered[:MOST_SHOWN]:
        if detail["type"] == "extra_forbidden":
            path = spot(root, detail["loc"])[1]
            misspelt.add((path[:-1], nearest(path[-1], keys_at(detail["loc"][:-1], model))))
    for detail in ordered[:MOST_SHOWN]:
        yield from _one(root, detail, misspelt, model)
    for position, _detail in enumerate(ordered[MOST_SHOWN:]):
        yield Fault(spot(root, ordered[-1]["loc"])[0].line, (str(position),), "not shown")


def _one(
    root: Node, detail: Any, misspelt: Iterable[tuple[tuple[str, ...], str]], model: type[BaseModel]
) -> Iterator[Fault]:
    location: Location = detail["loc"]
    node, path = spot(root, location)
    if detail["type"] == "missing":
        name, above = str(location[-1]), path[:-1]
        if (above, name) not in misspelt and name not in node.broken:
            reference = is_reference(location, model)
            example = "(an id of the plan)" if reference else example_at(location, model)
            yield missing_key(node, above, name, example)
    elif detail["type"] == "extra_forbidden":
        yield _no_such_key(node, path, keys_at(location[:-1], model))
    elif detail["type"] == "refused":
        for one in detail["ctx"]["refusals"]:
            deeper, longer = spot(root, (*location, *one.path))
            yield Fault(deeper.line, tuple(quoted(name)[1:-1] for name in longer), one.message, one.remedy)
    else:
        yield _misshapen(node, path, location, model)


def missing_key(holder: Node, path: tuple[str, ...], name: str, example: str) -> Fault:
    """Word a key that is not there; points at the block that lacks it."""
    if holder.file:
        return Fault(
            holder.line, path, f"{name} is missing", f'fill in the column "{name}", for example "{example}"'
        )
    line = f'"{name}: {example}"'
    if not path:
        return Fault(0, path, f"{name} is missing", f"add a line such as {line}")
    add = (
        "add" if holder.flow or holder.value in ("", {}) else f"add it below line {holder.line}, for example"
    )
    return Fault(holder.line, path, f"{name} is missing", f"{add} {line}")


def _no_such_key(node: Node, path: tuple[str, ...], known: list[str]) -> Fault:
    near = nearest(path[-1], known)
    remedy = f'did you mean "{near}"?' if near else f"the keys here are {listed(known, 40)}"
    return Fault(node.line, (*path[:-1], quoted(path[-1])[1:-1]), "no such key", remedy)


def _misshapen(node: Node, path: tuple[str, ...], location: Location, model: type[BaseModel]) -> Fault:
    shown = quoted(node.value) if isinstance(node.value, str) else "a list"
    shown = "a list of keys" if isinstance(node.value, dict) else shown
    keys = keys_at(location, model)
    if keys:
        remedy = f"the keys here are {listed(keys, 40)}"
        return Fault(node.line, path, f"{shown} stands where keys with values belong", remedy)
    if location[-1] in _LISTS:
        remedy = f"list the {_LISTS[str(location[-1])]}, each with the keys {listed(keys_at((*location, 0), model))}"
        return Fault(node.line, path, f"{shown} stands where a list belongs", remedy)
    remedy = 'write for example "{one: {}}"'
    return Fault(node.line, path, f"{shown} stands where entries with ids belong", remedy)
