"""Sections that hold entries with ids: a mapping by id, or a list with ``id:``; both become a mapping."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.planfile.problems import Fault
from moveplan.planfile.schema.leaves import is_id
from moveplan.planfile.text import Node
from moveplan.units import quoted

SECTIONS = (
    "places",
    "systems",
    "livestock",
    "people",
    "vehicles",
    "gear",
    "tasks",
    "contacts",
    "boarding",
    "risks",
)
_NESTED = {"systems": (("equipment",), ("new-tank", "equipment")), "risks": (("possible-measures",),)}
_MOST = {"tasks": 20_000, "places": 60}
_MOST_OTHERS = 1000
"""Most entries of a section that has no limit of its own. Chosen. [-]"""
_ID_RULE = "use letters, digits, dots, dashes and underscores, beginning with a letter or digit"


def by_id(root: Node) -> list[Fault]:
    """Turn every list of entries with ids into a mapping, in place, and find ids that cannot be."""
    faults: list[Fault] = []
    for section in SECTIONS:
        holder = _child(root, section)
        if holder is None:
            continue
        faults += _settle(holder, (section,))
        faults += _too_many(holder, section)
        for names in _NESTED.get(section, ()):
            for path, inner in _below(holder, (section,), names):
                faults += _settle(inner, path)
    return faults


def _too_many(holder: Node, section: str) -> Iterator[Fault]:
    most = _MOST.get(section, _MOST_OTHERS)
    if isinstance(holder.value, dict) and len(holder.value) > most:
        yield Fault(holder.line, (section,), f"has more than {most} entries", "split it into several plans")
        holder.value = dict(list(holder.value.items())[:most])


def _child(node: Node, name: str) -> Node | None:
    return node.value.get(name) if isinstance(node.value, dict) else None


def _below(
    holder: Node, path: tuple[str, ...], names: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], Node]]:
    if not isinstance(holder.value, dict):
        return
    for entry_id, entry in holder.value.items():
        inner: Node | None = entry
        for name in names:
            inner = _child(inner, name) if inner is not None else None
        if inner is not None:
            yield (*path, entry_id, *names), inner


def _settle(holder: Node, path: tuple[str, ...]) -> list[Fault]:
    if isinstance(holder.value, list):
        return _from_list(holder, holder.value, path)
    if isinstance(holder.value, dict):
        return [
            fault for key, entry in list(holder.value.items()) for fault in _keyed(holder, path, key, entry)
        ]
    return []


def _keyed(holder: Node, path: tuple[str, ...], key: str, entry: Node) -> Iterator[Fault]:
    if not isinstance(holder.value, dict):
        return
    if not is_id(key):
        yield Fault(entry.line, path, f"{quoted(key)} cannot be an id", _ID_RULE)
        del holder.value[key]
        holder.broken.add(key)
    named = _child(entry, "id")
    if named is not None and isinstance(entry.value, dict):
        del entry.value["id"]
        if named.value != key:
            yield Fault(
                named.line,
                (*path, key, "id"),
                f'the key "{quoted(key)[1:-1]}" is the id already',
                "remove id",
            )


def _from_list(holder: Node, rows: list[Node], path: tuple[str, ...]) -> list[Fault]:
    faults: list[Fault] = []
    entries: dict[str, Node] = {}
    for row in rows:
        name = _own_id(row, path, faults)
        if name in entries:
            first = entries[name].line
            faults.append(
                Fault(row.line, (*path, name), f"written twice (first at line {first})", "keep one")
            )
        elif name:
            entries[name] = row
        else:
            holder.broken.add("id")
    holder.value = entries
    return faults


def _own_id(row: Node, path: tuple[str, ...], faults: list[Fault]) -> str:
    if isinstance(row.value, str) and is_id(row.value):
        name, row.value = row.value, {}
        return name
    if not isinstance(row.value, dict):
        faults.append(
            Fault(row.line, path, "an entry of this list has no keys", "give it keys, beginning with id")
        )
        return ""
    named = row.value.pop("id", None)
    if named is None:
        if "id" not in row.broken:
            faults.append(Fault(row.line, path, "id is missing in an entry", 'add for example "id: one"'))
        return ""
    if not isinstance(named.value, str) or not is_id(named.value):
        shown = quoted(named.value) if isinstance(named.value, str) else "a list or mapping"
        faults.append(Fault(named.line, path, f"{shown} cannot be an id", _ID_RULE))
        return ""
    return named.value
