"""Kinds of animals of the keeper's own: TOML with the keys and the rules of the table of kinds that is shipped.

A row may say ``like``: what it does not say itself is then as of that kind of the table.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from moveplan.near import nearest
from moveplan.planfile.beside.content import named_file
from moveplan.planfile.beside.tomltable import TomlTable, toml_table
from moveplan.planfile.problems import Fault, listed
from moveplan.planfile.schema.leaves import Choice, Leaf, Quantity, is_id
from moveplan.planfile.schema.refusals import RefusedError
from moveplan.planfile.schema.words import TEMPERAMENTS
from moveplan.planfile.text import Node, UnreadableError
from moveplan.science.animals.kind_names import UnknownKindError, kind_named
from moveplan.science.animals.livestock import (
    SMALL_FISH,
    Catching,
    ContainerRule,
    Feeding,
    Kind,
    groups,
    kind_of,
    kinds,
    row_like,
    shapes,
)
from moveplan.units import quoted

NO_KINDS: Mapping[str, Kind] = MappingProxyType({})
_SAMPLE = 'write for example three lines: [orchid-goby], like = "goby", length = "5 cm"'
_LIGHTS = ("none", "low", "medium", "high")
_TEXTS = ("name", "scientific", "tolerance", "source")
_LISTS = ("aliases", "endangers", "container")
_KEYS = (
    "like",
    "group",
    "shape",
    "length",
    "length_cm",
    "temperament",
    "catching",
    "feeding",
    "light",
    *_TEXTS,
    *_LISTS,
)
_LENGTH = Quantity("cm", 0.1, 300, "5 cm")


def own_kinds(root: Node, folder: Path) -> tuple[Mapping[str, Kind], list[Fault]]:
    """Read the kinds that a plan brings along.

    Returns
    -------
    tuple of (Mapping of str to Kind, list of Fault)
        Kinds by id, none where no file is named; what is wrong.
    """
    faults: list[Fault] = []
    found = named_file(root, "kinds-file", "TOML", folder, faults)
    if found is None:
        return NO_KINDS, faults
    name, content = found
    try:
        table = toml_table(content, _SAMPLE)
    except UnreadableError as error:
        return NO_KINDS, [Fault(one.line, one.path, one.message, one.remedy, name) for one in error.faults]
    rows = {key: _Row(key, row, table, name) for key, row in table.rows.items()}
    made = {key: row.kind(tuple(rows)) for key, row in rows.items()}
    faults += (fault for row in rows.values() for fault in row.faults)
    return {key: kind for key, kind in made.items() if kind is not None}, faults


class _Row:
    """One kind as written; what is wrong with it is kept, and what is sound is read on."""

    def __init__(self, key: str, row: Any, table: TomlTable, name: str) -> None:
        self.key, self.row, self.table, self.name = key, row, table, name
        self.faults: list[Fault] = []

    def kind(self, own: tuple[str, ...]) -> Kind | None:
        """Complete the kind; None where something is wrong with it."""
        if not is_id(self.key):
            self._fault("", f"{quoted(self.key)} cannot be an id", "use letters, digits, dots and dashes")
            return None
        if not isinstance(self.row, dict):
            self._fault("", "a value stands where a kind with its keys belongs", _SAMPLE)
            return None
        self.faults += self._unknown_keys()
        row = self._base()
        row |= {key: self._text(key) for key in _TEXTS if key in self.row}
        row |= self._choices()
        row |= self._lists(own)
        if "length" in self.row or "length_cm" in self.row:
            row["length_cm"] = self._length()
        for key, sample in (("group", '"fish"'), ("length_cm", '"5 cm"')):
            if key not in row and not self.faults:
                shown = key.removesuffix("_cm")
                self._fault(
                    "", f"{shown} is missing", f'add for example: {shown} = {sample}, or like = "goby"'
                )
        return None if self.faults else kind_of(self.key, row)

    def _base(self) -> dict[str, Any]:
        """Begin with the kind that this one is like, or with nothing."""
        bare: dict[str, Any] = {"name": self.key.replace("-", " "), "scientific": "", "aliases": []}
        bare["source"] = "the keeper's own kind"
        if "like" not in self.row:
            return bare
        try:
            return {**row_like(kind_named(self._text("like")[:80]).id), **bare}
        except UnknownKindError as error:
            names = " or ".join(f'"{name}"' for name in error.nearest)
            remedy = f"did you mean {names}?" if names else '"moveplan kinds" lists them'
            self._fault("like", f"no kind of animal is called {quoted(error.text)}", remedy)
            return bare

    def _choices(self) -> Iterator[tuple[str, str]]:
        words: dict[str, tuple[str, ...]] = {
            "group": groups(),
            "shape": shapes(),
            "temperament": TEMPERAMENTS,
            "catching": tuple(Catching),
            "feeding": tuple(Feeding),
            "light": _LIGHTS,
        }
        for key, known in words.items():
            if key in self.row:
                yield key, self._read(key, Choice(known), self._text(key), "")

    def _lists(self, own: tuple[str, ...]) -> Iterator[tuple[str, list[str]]]:
        known: dict[str, Callable[[], tuple[str, ...]]] = {
            "container": lambda: tuple(ContainerRule),
            "endangers": lambda: (*groups(), SMALL_FISH, *kinds(), *own),
        }
        for key in _LISTS:
            if key not in self.row:
                continue
            rows = self.row[key]
            if not isinstance(rows, list) or not all(isinstance(one, str) for one in rows):
                self._fault(
                    key, "a list of texts belongs here", f'write for example {key} = ["{_example(key)}"]'
                )
                continue
            leaf = Choice(known[key]()) if key in known else None
            yield key, [self._read(key, leaf, one, one) if leaf else one for one in rows]

    def _length(self) -> float:
        if "length" in self.row:
            return float(self._read("length", _LENGTH, self._text("length"), 1.0))
        return float(self._read("length_cm", _LENGTH, f"{self.row['length_cm']} cm", 1.0))

    def _read(self, key: str, leaf: Leaf[Any], text: str, instead: Any) -> Any:
        try:
            return leaf.read(text)
        except RefusedError as error:
            for one in error.refusals:
                self._fault(key, one.message, one.remedy)
            return instead

    def _text(self, key: str) -> str:
        value = self.row[key]
        if not isinstance(value, str):
            self._fault(
                key, "a text belongs here", f"put it into quotation marks: {key} = {quoted(str(value))}"
            )
        return str(value).strip()

    def _unknown_keys(self) -> Iterator[Fault]:
        for key in self.row:
            if key not in _KEYS:
                near = nearest(key, _KEYS)
                remedy = f'did you mean "{near}"?' if near else f"the keys here are {listed(_KEYS, 40)}"
                yield Fault(self._line(key), (self.key, quoted(key)[1:-1]), "no such key", remedy, self.name)

    def _fault(self, key: str, message: str, remedy: str) -> None:
        path = (quoted(self.key)[1:-1], key) if key else (quoted(self.key)[1:-1],)
        self.faults.append(Fault(self._line(key), path, message, remedy, self.name))

    def _line(self, key: str) -> int:
        return self.table.lines.get((self.key, key), self.table.lines.get((self.key,), 0))


def _example(key: str) -> str:
    return {"aliases": "orchid", "endangers": "shrimp", "container": "jumps"}[key]
