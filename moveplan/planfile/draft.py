"""From the tree of texts to typed entries; whatever is sound is kept for the crosschecks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from pydantic import ValidationError

from moveplan.planfile.beside.kindsfile import NO_KINDS
from moveplan.planfile.problems import Fault
from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.schema.leaves import is_id
from moveplan.planfile.shapes import example_at, is_wanted
from moveplan.planfile.text import Node, composed
from moveplan.planfile.walk import Location, child, plain, spot
from moveplan.planfile.wording import worded
from moveplan.science.animals.livestock import Kind

_JUDGED_AS_A_WHOLE = frozenset({"tank", "after"})


@dataclass(frozen=True, slots=True)
class Draft:
    """A plan file whose sound entries are typed.

    Parameters
    ----------
    entry : PlanEntry
        Sound entries; a value that was refused is left out, or replaced by an example where the entry
        cannot be without it.
    root : Node
        The whole file.
    now : datetime or None
        Time asked for on the command line.
    replaced : frozenset of tuple of str
        Key paths that do not stand for what the keeper wrote.
    kinds : Mapping of str to Kind
        Kinds of the keeper's own.
    """

    entry: PlanEntry
    root: Node
    now: datetime | None
    replaced: frozenset[tuple[str, ...]] = frozenset()
    kinds: Mapping[str, Kind] = field(default_factory=dict)

    def ids(self, section: str) -> list[str]:
        """Ids of a section as written, whether or not the entries are sound."""
        node = child(self.root, section)
        names = [*node.value, *sorted(node.broken)] if node and isinstance(node.value, dict) else []
        return [name for name in names if is_id(name)]

    def node(self, *path: str) -> Node | None:
        """Tree below a key path; None where nothing stands there."""
        node: Node | None = self.root
        for name in path:
            node = child(node, name) if node is not None else None
        return node

    def has(self, *path: str) -> bool:
        """Tell whether the file holds a key, sound or not."""
        holder = self.node(*path[:-1])
        return holder is not None and (path[-1] in holder.broken or child(holder, path[-1]) is not None)

    def line(self, *path: str) -> int:
        """Line of a key path, or of the nearest block above it."""
        return spot(self.root, path)[0].line

    def line_in(self, section: str, position: int) -> int:
        """Line of a row of a plain list."""
        return spot(self.root, (section, position))[0].line

    def is_true(self, fault: Fault) -> bool:
        """Tell whether a fault comes from what the keeper wrote, and not from an example put in its place."""
        return not any(fault.path[: len(path)] == path for path in self.replaced)


def drafted(
    root: Node, now: datetime | None, own: Mapping[str, Kind] = NO_KINDS
) -> tuple[Draft, list[Fault]]:
    """Type every entry.

    Parameters
    ----------
    root : Node
        The plan file, lists with ids already turned into mappings.
    now : datetime or None
        Time asked for on the command line.
    own : Mapping of str to Kind
        Kinds of the keeper's own.

    Returns
    -------
    tuple of (Draft, list of Fault)
        Sound entries, and what is wrong with the others.
    """
    texts = plain(root)
    try:
        return Draft(PlanEntry.model_validate(texts), root, now, kinds=own), []
    except ValidationError as error:
        details = error.errors(include_url=False, include_input=False)
    replaced = {path for detail in details for path in _mend(texts, detail["loc"])}
    return Draft(_sound(texts), root, now, frozenset(replaced), own), list(worded(root, details))


def _sound(texts: dict[str, Any]) -> PlanEntry:
    """Type what was mended; what still is not sound goes, section by section."""
    try:
        return PlanEntry.model_validate(texts)
    except ValidationError as error:
        for detail in error.errors(include_url=False, include_input=False):
            texts.pop(str(detail["loc"][0]), None)
    return PlanEntry.model_validate(texts)


def _mend(texts: dict[str, Any], location: Location) -> list[tuple[str, ...]]:
    """Leave a refused value out; where its entry needs one, put in the example, and say where."""
    while location and not isinstance(location[-1], str):
        location = location[:-1]
    holder: Any = texts
    for position, step in enumerate(location[:-1]):
        inner = holder.get(step) if isinstance(holder, dict) else _at(holder, step)
        if not isinstance(inner, dict | list):
            return _mend(texts, location[: position + 1])
        holder = inner
    name = str(location[-1])
    if not isinstance(holder, dict):
        return []
    holder.pop(name, None)
    if not is_wanted(location):
        return []
    holder[name] = plain(composed(f"example: {example_at(location)}")[0])["example"]
    path = tuple(step for step in location if isinstance(step, str))
    return [path[:-1] if path[-2] in _JUDGED_AS_A_WHOLE else path]


def _at(rows: list[Any], position: str | int) -> Any:
    return rows[position] if isinstance(position, int) and position < len(rows) else None
