"""What if: single values of a plan file put in place of others, without touching the file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from moveplan.near import nearest
from moveplan.planfile.problems import Fault
from moveplan.planfile.shapes import keys_at
from moveplan.planfile.shifted import Shift, moved_with_the_dates, shifted, step_of
from moveplan.planfile.text import Node, UnreadableError, composed
from moveplan.units import quoted

GONE = "none"
"""Written as a value, takes an entry out. [-]"""
_DATES = ("dates",)
_OF_A_REGISTER = "risks"
"""Its entries may be changed although the plan file does not name them. [-]"""


def apply_changes(root: Node, changes: Sequence[str], usual: Mapping[str, str] | None = None) -> list[Fault]:
    """Put changes such as ``dates.access-from=2027-03-27`` into the tree of a plan file, in place.

    Parameters
    ----------
    root : Node
        The plan file, sections by id.
    changes : sequence of str
        Key path, equals sign, value as it could be written there; ``none`` takes the entry out. ``+14 days``
        and ``+30 %`` count from what stands there, and ``dates=+14 days`` moves every date of the move.
    usual : Mapping of str to str, optional
        What is assumed where nothing stands, by key path.
    """
    faults: list[Fault] = []
    for change in changes:
        faults += _apply(root, change, usual or {})
    return faults


def _apply(root: Node, change: str, usual: Mapping[str, str]) -> list[Fault]:
    path, sign, text = change.partition("=")
    keys = tuple(path.strip().split("."))
    if not sign or not all(keys):
        remedy = 'write for example "dates.access-from=2027-03-27", "people.tom=none" or "dates=+14 days"'
        return [Fault(0, (), f"{quoted(change)} is not a change", remedy)]
    step = step_of(text)
    if keys == _DATES and step is not None:
        return moved_with_the_dates(root, step)
    holder = root
    for depth in range(1, len(keys)):
        following = _within(holder, keys[:depth])
        if following is None:
            return [_not_there(holder, keys[:depth])]
        holder = following
    if step is not None:
        return _put_shifted(holder, keys, text, step, usual)
    return _put(holder, keys, text.strip())


def _within(holder: Node, path: tuple[str, ...]) -> Node | None:
    """Step down; a block that may stand there, and does not, is begun."""
    if holder.value == "":
        holder.value = {}
    if not isinstance(holder.value, dict):
        return None
    if path[-1] not in holder.value:
        if path[-1] not in keys_at(path[:-1]) and path[:-1] != (_OF_A_REGISTER,):
            return None
        holder.value[path[-1]] = Node(holder.line, {})
    return holder.value[path[-1]]


def _not_there(holder: Node, path: tuple[str, ...]) -> Fault:
    known = list(holder.value) if isinstance(holder.value, dict) else []
    near = nearest(path[-1], known)
    remedy = f'did you mean "{near}"?' if near else f"keys here are {', '.join(known)}"
    return Fault(holder.line, path, "a change names it, but the plan has no such entry", remedy)


def _put_shifted(
    holder: Node, keys: tuple[str, ...], text: str, step: Shift, usual: Mapping[str, str]
) -> list[Fault]:
    """Count from what stands there, or from what is assumed where nothing does."""
    before = holder.value.get(keys[-1]) if isinstance(holder.value, dict) else None
    if before is None and ".".join(keys) in usual:
        before = Node(holder.line, usual[".".join(keys)])
    if before is None:
        remedy = "write the value itself instead of what is added to it"
        return [
            Fault(holder.line, keys, f"nothing stands there to which {quoted(text)} could be added", remedy)
        ]
    after = shifted(before, step)
    if after is None:
        remedy = 'days and weeks are added to dates, percent to numbers: "+14 days", "-2 weeks", "+30 %"'
        return [Fault(before.line, keys, f"{quoted(text)} cannot be added to what stands there", remedy)]
    if isinstance(holder.value, dict):
        holder.value[keys[-1]] = after
    return []


def _put(holder: Node, keys: tuple[str, ...], text: str) -> list[Fault]:
    if holder.value == "":
        holder.value = {}
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
