"""What if: single values of a plan file put in place of others, without touching the file."""

from __future__ import annotations

from collections.abc import Sequence

from moveplan.planfile.problems import Fault, nearest
from moveplan.planfile.text import Node, UnreadableError, composed
from moveplan.units import quoted

GONE = "none"
"""Written as a value, takes an entry out. [-]"""


def apply_changes(root: Node, changes: Sequence[str]) -> list[Fault]:
    """Put changes such as ``dates.access-from=2027-03-27`` into the tree of a plan file, in place.

    Parameters
    ----------
    root : Node
        The plan file, sections by id. [-]
    changes : sequence of str
        Key path, equals sign, value as it could be written there; ``none`` takes the entry out. [-]
    """
    faults: list[Fault] = []
    for change in changes:
        faults += _apply(root, change)
    return faults


def _apply(root: Node, change: str) -> list[Fault]:
    path, sign, text = change.partition("=")
    keys = tuple(path.strip().split("."))
    if not sign or not all(keys):
        remedy = 'write for example "dates.access-from=2027-03-27" or "people.tom=none"'
        return [Fault(0, (), f"{quoted(change)} is not a change", remedy)]
    holder = root
    for depth, key in enumerate(keys[:-1], 1):
        following = holder.value.get(key) if isinstance(holder.value, dict) else None
        if following is None:
            return [_not_there(holder, keys[:depth])]
        holder = following
    return _put(holder, keys, text.strip())


def _not_there(holder: Node, path: tuple[str, ...]) -> Fault:
    known = list(holder.value) if isinstance(holder.value, dict) else []
    near = nearest(path[-1], known)
    remedy = f'did you mean "{near}"?' if near else f"keys here are {', '.join(known)}"
    return Fault(holder.line, path, "a change names it, but the plan has no such entry", remedy)


def _put(holder: Node, keys: tuple[str, ...], text: str) -> list[Fault]:
    if not isinstance(holder.value, dict):
        return [_not_there(holder, keys)]
    if text == GONE:
        if keys[-1] not in holder.value:
            return [_not_there(holder, keys)]
        del holder.value[keys[-1]]
        return []
    try:
        read, faults = composed(f"value: {text}")
    except UnreadableError as error:
        return error.faults
    node = read.value["value"] if isinstance(read.value, dict) else read
    node.line = holder.value[keys[-1]].line if keys[-1] in holder.value else holder.line
    holder.value[keys[-1]] = node
    return faults
