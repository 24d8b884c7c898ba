"""Ways through the tree of a plan file."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from moveplan.planfile.text import Node

Location = tuple[str | int, ...]


def child(node: Node, step: str | int) -> Node | None:
    """Step down to a key or to a position of a list; None where nothing stands there."""
    if isinstance(node.value, dict) and isinstance(step, str):
        return node.value.get(step)
    if isinstance(node.value, list) and isinstance(step, int) and step < len(node.value):
        return node.value[step]
    return None


def spot(root: Node, location: Iterable[str | int]) -> tuple[Node, tuple[str, ...]]:
    """Walk down a location as far as it goes; the node reached, and the key path without positions."""
    node, path = root, []
    for step in location:
        if isinstance(step, str):
            path.append(step)
        node = child(node, step) or node
    return node, tuple(path)


def plain(node: Node) -> Any:
    """Turn a tree into texts, dicts and lists."""
    if isinstance(node.value, dict):
        return {key: plain(inner) for key, inner in node.value.items()}
    if isinstance(node.value, list):
        return [plain(inner) for inner in node.value]
    return node.value


def key_lines(root: Node) -> dict[str, int]:
    """Map every key path with the keeper's ids to its line in the plan; positions in plain lists are left out."""
    lines: dict[str, int] = {}
    todo: list[tuple[str, Node]] = [("", root)]
    while todo:
        path, node = todo.pop()
        if isinstance(node.value, dict):
            for key, inner in node.value.items():
                if inner.file:
                    continue
                longer = f"{path}.{key}" if path else key
                lines.setdefault(longer, inner.line)
                todo.append((longer, inner))
        elif isinstance(node.value, list):
            todo.extend((path, inner) for inner in reversed(node.value))
    return lines
