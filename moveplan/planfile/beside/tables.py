"""Animals and gear from a table beside the plan: every row becomes an entry, every column a key of it.

What the plan itself says of an entry comes before what stands in the table.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from moveplan.near import nearest
from moveplan.plan.move import Assumption
from moveplan.planfile.beside.content import named_file
from moveplan.planfile.beside.csvtable import GUESSED, Row, Table, table_of
from moveplan.planfile.problems import Fault, listed
from moveplan.planfile.schema.leaves import is_id
from moveplan.planfile.shapes import keys_at
from moveplan.planfile.text import Node, UnreadableError
from moveplan.planfile.walk import child
from moveplan.units import quoted

_SAMPLES = {"livestock": "name,kind,count,size", "gear": "name,kind,count,volume"}
_HEAD = re.compile(r"\s*(?P<name>.*?)\s*(?:[(\[]\s*(?P<unit>[^)\]]+?)\s*[)\]])?\s*")
_BARE_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")
_ID_RULE = "use letters, digits, dots, dashes and underscores, beginning with a letter or digit"
_LONGEST_ID = 60
"""Longest id made of a name, as long as one that may be written. [character]"""
_GUESS_WHY = f"it is not UTF-8, so it was read as {GUESSED}: look at letters with accents"


@dataclass(frozen=True, slots=True)
class _Column:
    """A column that is read: the key it holds, and the unit that its head gives to bare numbers."""

    key: str
    unit: str


def add_tables(root: Node, folder: Path) -> tuple[list[Fault], list[Assumption]]:
    """Put the entries of the tables that a plan names into its tree.

    Parameters
    ----------
    root : Node
        The plan file, lists with ids already turned into mappings; changed in place.

    Returns
    -------
    tuple of (list of Fault, list of Assumption)
        What is wrong; where the encoding of a table is a guess.
    """
    faults: list[Fault] = []
    guesses: list[Assumption] = []
    for section, sample in _SAMPLES.items():
        key = f"{section}-file"
        found = named_file(root, key, "CSV", folder, faults)
        if found is None:
            continue
        name, content = found
        keys = ["id", *keys_at((section, "one"))]
        try:
            table = table_of(content, lambda text, keys=keys: _key(text) in keys, sample)  # type: ignore[misc]
        except UnreadableError as error:
            faults += [Fault(one.line, (), one.message, one.remedy, name) for one in error.faults]
            continue
        if table.encoding == GUESSED:
            guesses.append(Assumption(key, Path(name).name, _GUESS_WHY))
        faults += _merge(root, section, table, keys, name)
    return faults, guesses


def _merge(root: Node, section: str, table: Table, keys: list[str], name: str) -> Iterator[Fault]:
    holder = _holder(root, section)
    if holder is None or not isinstance(holder.value, dict):
        return
    columns, faults = _columns(table, keys, name)
    yield from faults
    taken: dict[str, int] = {}
    entries: dict[str, Node] = {}
    for row in table.rows:
        if len(row.cells) > len(table.head) and any(row.cells[len(table.head) :]):
            message = f"the row has {len(row.cells)} cells, and the first row names {len(table.head)}"
            yield Fault(
                row.line, (section,), message, "put a cell that holds a separator into quotation marks", name
            )
        entry = _entry(row, columns, name)
        given = entry.pop("id", None)
        entry_id = given.value if given is not None else _made_id(entry, section, taken)
        if not isinstance(entry_id, str) or not is_id(entry_id):
            yield Fault(row.line, (section, "id"), f"{quoted(str(entry_id))} cannot be an id", _ID_RULE, name)
        elif entry_id in taken:
            message = f"written twice (first at line {taken[entry_id]})"
            yield Fault(row.line, (section, entry_id), message, "keep one", name)
        else:
            taken[entry_id] = row.line
            entries[entry_id] = Node(row.line, dict(entry), flow=True, file=name)
    holder.value = _joined(entries, holder.value)


def _holder(root: Node, section: str) -> Node | None:
    """Find the section in the plan, or make it; None where something else stands there, which is said elsewhere."""
    if not isinstance(root.value, dict):
        return None
    named = child(root, f"{section}-file")
    holder = root.value.setdefault(section, Node(named.line if named else 0, {}))
    if holder.value == "":
        holder.value = {}
    return holder


def _columns(table: Table, keys: list[str], name: str) -> tuple[dict[int, _Column], list[Fault]]:
    """Match the names of the first row to keys."""
    found: dict[int, _Column] = {}
    faults: list[Fault] = []
    for position, text in enumerate(table.head):
        key, unit = _key(text), _unit(text)
        if key in keys and key not in {column.key for column in found.values()}:
            found[position] = _Column(key, unit)
        elif key in keys:
            faults.append(Fault(table.head_line, (key,), "two columns have this name", "keep one", name))
        elif text or any(position < len(row.cells) and row.cells[position] for row in table.rows):
            near = nearest(key, keys)
            remedy = f'did you mean "{near}"?' if near else f"the columns here are {listed(keys, 40)}"
            shown = quoted(text) if text else f"number {position + 1}, which has no name"
            faults.append(Fault(table.head_line, (), f"no such column: {shown}", remedy, name))
    return found, faults


def _key(head: str) -> str:
    match = _HEAD.fullmatch(head)
    name = match["name"] if match else head
    return "-".join(name.casefold().replace("_", " ").replace("-", " ").split())


def _unit(head: str) -> str:
    match = _HEAD.fullmatch(head)
    return (match["unit"] or "") if match else ""


def _entry(row: Row, columns: dict[int, _Column], name: str) -> dict[str, Node]:
    """Take the cells that say something; a bare number takes the unit of its column."""
    entry: dict[str, Node] = {}
    for position, column in columns.items():
        cell = row.cells[position] if position < len(row.cells) else ""
        if column.unit and _BARE_NUMBER.fullmatch(cell):
            cell = f"{cell} {column.unit}"
        if cell:
            entry[column.key] = Node(row.line, cell, file=name)
    return entry


def _made_id(entry: dict[str, Node], section: str, taken: dict[str, int]) -> str:
    """Make an id of the name or the kind, numbered where it is taken."""
    word = next((str(entry[key].value) for key in ("name", "kind") if key in entry), section)
    plain = unicodedata.normalize("NFKD", word).encode("ascii", "ignore").decode().casefold()
    base = re.sub(r"[^a-z0-9]+", "-", plain)[:_LONGEST_ID].strip("-") or section
    number = 2
    made = base
    while made in taken:
        made, number = f"{base}-{number}", number + 1
    return made


def _joined(table: dict[str, Node], own: dict[str, Node]) -> dict[str, Node]:
    """Put the rows of a table and the entries of the plan together; of one that both have, the plan comes first."""
    joined = dict(table)
    for entry_id, entry in own.items():
        row = table.get(entry_id)
        if row is None or not isinstance(row.value, dict):
            joined[entry_id] = entry
        elif isinstance(entry.value, dict):
            joined[entry_id] = replace(entry, value={**row.value, **entry.value})
        elif entry.value != "":
            joined[entry_id] = entry
    return joined
