"""YAML as a tree of texts, each with its line; whatever YAML would do behind the keeper's back is refused.

Only the parser's events are used: no value is ever guessed (``12:30`` stays ``12:30``), no object is built,
nothing is expanded, and depth and size are limited while reading.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from moveplan.planfile.problems import Fault
from moveplan.planfile.syntax import not_yaml
from moveplan.units import quoted

MOST_BYTES = 4_000_000
"""Largest plan file; no honest one comes near. Chosen. [byte]"""
MOST_ENTRIES = 300_000
"""Most entries of a plan file, so that aliases cannot blow it up. Chosen. [-]"""
DEEPEST = 12
"""Deepest nesting of a plan file. Chosen. [-]"""
LONGEST_TEXT = 20_000
"""Longest single text. Chosen. [character]"""
_MOST_FAULTS_OF_TEXT = 20
"""Most faults of the text that are collected before reading ends. Chosen. [-]"""

_LOADER: Any = getattr(yaml, "CLoader", yaml.Loader)
_UNREADABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")


@dataclass(slots=True)
class Node:
    """A value of the plan file and the line of its key.

    Parameters
    ----------
    line : int
        Where it stands.
    value : str, dict or list
        A text, keys with values, or a list.
    flow : bool
        Whether it is written in braces or brackets.
    broken : set of str
        Keys that a fault was already reported for.
    file : str
        File beside the plan in which it stands; empty: the plan itself.
    """

    line: int
    value: str | dict[str, Node] | list[Node]
    flow: bool = False
    broken: set[str] = field(default_factory=set)
    file: str = ""


@dataclass(slots=True)
class _Open:
    node: Node
    name: str
    key: str | None = None
    key_line: int = 0


class UnreadableError(Exception):
    """The text is no YAML that could be read on; the faults found so far."""

    def __init__(self, faults: list[Fault]) -> None:
        super().__init__(faults)
        self.faults = faults


class _Builder:
    def __init__(self) -> None:
        self.root: Node | None = None
        self.faults: list[Fault] = []
        self.open: list[_Open] = []
        self.documents = 0
        self.entries = 0

    def path(self, *last: str) -> tuple[str, ...]:
        return tuple(name for name in (*(_name(level) for level in self.open), *last) if name)

    def fault(self, line: int, message: str, remedy: str = "", *last: str) -> None:
        self.faults.append(Fault(line, self.path(*map(_short, last)), message, remedy))

    def stop(self, line: int, message: str, remedy: str) -> UnreadableError:
        self.fault(line, message, remedy)
        return UnreadableError(self.faults)

    def take(self, event: Any) -> None:
        line = event.start_mark.line + 1
        if isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                raise self.stop(
                    line, "a second document begins here", 'keep one, without lines of "---" in it'
                )
        elif isinstance(event, yaml.CollectionEndEvent):
            self.open.pop()
        elif isinstance(event, yaml.NodeEvent):
            self.count(line)
            self.node(event, line)

    def count(self, line: int) -> None:
        self.entries += 1
        if self.entries > MOST_ENTRIES:
            raise self.stop(
                line, f"the plan has more than {MOST_ENTRIES} entries", "split it into several plans"
            )

    def node(self, event: Any, line: int) -> None:
        level = self.open[-1] if self.open else None
        if level and isinstance(level.node.value, dict) and level.key is None:
            level.key, level.key_line = self.key(event, line), line
            return
        if level and level.key is not None:
            line = level.key_line
        node = self.built(event, line)
        if not self.refused(event, line, level):
            self.place(node, level)
        elif level and level.key is not None:
            level.node.broken.add(level.key)
        if not isinstance(node.value, str):
            if len(self.open) >= DEEPEST:
                raise self.stop(line, f"entries are nested more than {DEEPEST} deep", "take a level out")
            self.open.append(_Open(node, level.key or "" if level else ""))
        if level:
            level.key = None

    def key(self, event: Any, line: int) -> str:
        if not isinstance(event, yaml.ScalarEvent):
            raise self.stop(line, "this is not a key", 'write "key: value"')
        if event.anchor or event.tag:
            self.fault(line, "a key cannot have an anchor or a tag", "remove it", event.value)
        return event.value

    def built(self, event: Any, line: int) -> Node:
        if isinstance(event, yaml.MappingStartEvent):
            return Node(line, {}, bool(event.flow_style))
        if isinstance(event, yaml.SequenceStartEvent):
            return Node(line, [], bool(event.flow_style))
        if isinstance(event, yaml.AliasEvent):
            return Node(line, "")
        for message, remedy in _faults_of_text(event.value):
            self.fault(line, message, remedy, self.open[-1].key or "" if self.open else "")
        return Node(line, event.value)

    def refused(self, event: Any, line: int, level: _Open | None) -> bool:
        key = level.key if level else None
        last = () if key is None else (key,)
        if isinstance(event, yaml.AliasEvent):
            self.fault(
                line, f'"*{event.anchor}" repeats another place of the file', "write the value out", *last
            )
            return True
        if event.anchor:
            self.fault(line, f'the anchor "&{event.anchor}" is not read in a plan', "remove it", *last)
        if event.tag and event.tag != "!":
            self.fault(line, f"the tag {quoted(event.tag)} is not read in a plan", "remove it", *last)
            return True
        if key == "<<":
            self.fault(line, "keys are not merged in a plan", "write them out", *last)
            return True
        return bool(event.anchor) or self.twice(line, level)

    def twice(self, line: int, level: _Open | None) -> bool:
        if level is None or level.key is None or not isinstance(level.node.value, dict):
            return False
        first = level.node.value.get(level.key)
        if first is not None:
            self.fault(line, f"written twice (first at line {first.line})", "keep one", level.key)
            return True
        return False

    def place(self, node: Node, level: _Open | None) -> None:
        if level is None:
            self.root = node
        elif isinstance(level.node.value, dict):
            level.node.value[level.key or ""] = node
        elif isinstance(level.node.value, list):
            level.node.value.append(node)


def _name(level: _Open) -> str:
    if level.name or not isinstance(level.node.value, dict):
        return _short(level.name)
    named = level.node.value.get("id")
    return _short(named.value) if named is not None and isinstance(named.value, str) else ""


def _short(name: str) -> str:
    return quoted(name)[1:-1]


def _faults_of_text(text: str) -> Iterator[tuple[str, str]]:
    if len(text) > LONGEST_TEXT:
        yield f"the text has {len(text)} characters", f"shorten it to {LONGEST_TEXT}"
    hidden = _UNREADABLE.search(text)
    if hidden:
        yield f"the text holds the control character U+{ord(hidden[0]):04X}", "remove it"


def _faults_of_characters(text: str) -> list[Fault]:
    faults = []
    for number, line in enumerate(text.split("\n"), start=1):
        hidden = _UNREADABLE.search(line)
        if hidden:
            message = f"the line holds the control character U+{ord(hidden[0]):04X}"
            faults.append(Fault(number, (), message, "remove it"))
        if len(faults) == _MOST_FAULTS_OF_TEXT:
            break
    return faults


def decoded(content: bytes) -> str:
    """Read bytes as UTF-8 text without control characters.

    Raises
    ------
    UnreadableError
        With the lines at fault.
    """
    if len(content) > MOST_BYTES:
        size = f"the file is larger than {MOST_BYTES // 1_000_000} MB"
        raise UnreadableError([Fault(0, (), size, "a plan is far smaller; split it into several plans")])
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        message = f"byte 0x{content[fault.start]:02X} is not UTF-8 text"
        raise UnreadableError([Fault(line, (), message, "save the file as UTF-8")]) from None
    faults = _faults_of_characters(text)
    if faults:
        raise UnreadableError(faults)
    return text


def composed(text: str) -> tuple[Node, list[Fault]]:
    """Turn YAML text into a tree.

    Parameters
    ----------
    text : str
        Content of a plan file.

    Returns
    -------
    tuple of (Node, list of Fault)
        The tree, and what was refused in it; refused entries are left out of the tree.

    Raises
    ------
    UnreadableError
        Where there is no reading on.

    >>> tree, faults = composed("dates: {move-day: 2027-03-13}")
    >>> tree.value["dates"].value["move-day"].value, faults
    ('2027-03-13', [])
    """
    builder = _Builder()
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            builder.take(event)
    except yaml.YAMLError as error:
        builder.faults.append(not_yaml(error, text))
        raise UnreadableError(builder.faults) from None
    if builder.root is None or builder.root.value == "":
        raise UnreadableError(
            [Fault(0, (), "the plan is empty", 'begin with a line such as "title: My reef"')]
        )
    if not isinstance(builder.root.value, dict):
        kind = "a list" if isinstance(builder.root.value, list) else "a text"
        message = f"{kind} stands where keys with values belong"
        builder.faults.append(Fault(1, (), message, 'begin with a line such as "title: My reef"'))
        raise UnreadableError(builder.faults)
    return builder.root, builder.faults
