"""Content lines of RFC 5545: written so that the same values give the same bytes, and read back strictly."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

_MOST_OCTETS = 75
_NAME = r"[A-Za-z0-9-]+"
_PARAM_VALUE = r'(?:"[^"\x00-\x08\x0a-\x1f]*"|[^";:,\x00-\x08\x0a-\x1f]*)'
_PARAM = rf"{_NAME}={_PARAM_VALUE}(?:,{_PARAM_VALUE})*"
_LINE = re.compile(rf"({_NAME})((?:;{_PARAM})*):(.*)", re.DOTALL)
_ONE_PARAM = re.compile(rf";({_NAME})=({_PARAM_VALUE}(?:,{_PARAM_VALUE})*)")
_CONTROLS = re.compile("[\x00-\x08\x0a-\x1f\x7f]")
_ESCAPED = re.compile(r"\\(.)", re.DOTALL)
_TO_ESCAPE = re.compile(r"[\\;,\n]")


class UnreadableError(ValueError):
    """The text is not a calendar; the message says where and why."""


@dataclass(frozen=True, slots=True)
class Property:
    """One content line.

    Parameters
    ----------
    name : str
        Upper case. [-]
    value : str
        As it stands in the file: TEXT is escaped already. [-]
    params : tuple of (str, str)
        Parameters in the order of writing, values as they stand in the file. [-]
    """

    name: str
    value: str
    params: tuple[tuple[str, str], ...] = ()

    def __str__(self) -> str:
        return self.name + "".join(f";{key}={value}" for key, value in self.params) + f":{self.value}"


@dataclass(frozen=True, slots=True)
class Component:
    """What stands between BEGIN and END.

    Parameters
    ----------
    name : str
        Upper case, such as ``VEVENT``. [-]
    properties : tuple of Property
        In the order of writing. [-]
    parts : tuple of Component
        Components inside it, after its properties. [-]
    """

    name: str
    properties: tuple[Property, ...]
    parts: tuple[Component, ...] = ()

    def first(self, name: str) -> Property | None:
        """Give the first property of a name, or None."""
        for prop in self.properties:
            if prop.name == name:
                return prop
        return None

    def value(self, name: str) -> str:
        """Give the value of the first property of a name, or an empty text."""
        prop = self.first(name)
        return prop.value if prop else ""


def text_property(name: str, text: str) -> Property:
    r"""Make a property whose value is TEXT.

    Parameters
    ----------
    name : str
        Name of the property. [-]
    text : str
        Any text without control characters but tab and line feed. [-]

    Returns
    -------
    Property
        With the text escaped. [-]

    References
    ----------
    RFC 5545, section 3.3.11.

    Examples
    --------
    >>> print(text_property("SUMMARY", "Salt; heat, mix: 35 psu"))
    SUMMARY:Salt\; heat\, mix: 35 psu
    """
    escaped = _TO_ESCAPE.sub(lambda found: "\\n" if found[0] == "\n" else "\\" + found[0], text)
    return Property(name, escaped)


def text_of(prop: Property) -> str:
    r"""Give the text of a property whose value is TEXT.

    Parameters
    ----------
    prop : Property
        With escaped text. [-]

    Returns
    -------
    str
        The text itself. [-]

    Examples
    --------
    >>> text_of(Property("SUMMARY", r"a\, b\nc"))
    'a, b\nc'
    """
    return _ESCAPED.sub(lambda found: "\n" if found[1] in "nN" else found[1], prop.value)


def written(component: Component) -> bytes:
    """Write a component: UTF-8, lines ended by CRLF and folded at 75 octets between characters.

    Parameters
    ----------
    component : Component
        What to write. [-]

    Returns
    -------
    bytes
        The stream. [-]

    Raises
    ------
    ValueError
        Where a value holds a control character, which would break the line.

    References
    ----------
    RFC 5545, section 3.1.
    """
    return b"".join(_folded(line) for line in _lines_of(component))


def _lines_of(component: Component) -> Iterator[str]:
    yield f"BEGIN:{component.name}"
    for prop in component.properties:
        yield str(prop)
    for part in component.parts:
        yield from _lines_of(part)
    yield f"END:{component.name}"


def _folded(line: str) -> bytes:
    if _CONTROLS.search(line):
        msg = f"{line!r} holds a control character"
        raise ValueError(msg)
    octets = line.encode()
    pieces = []
    room = _MOST_OCTETS
    while len(octets) > room:
        cut = room
        while octets[cut] & 0xC0 == 0x80:  # inside a character
            cut -= 1
        pieces.append(octets[:cut])
        octets = octets[cut:]
        room = _MOST_OCTETS - 1  # the space that marks a folded line counts
    return b"\r\n ".join((*pieces, octets)) + b"\r\n"


def read(stream: bytes) -> Component:
    """Read a stream that holds exactly one component.

    Parameters
    ----------
    stream : bytes
        UTF-8; lines ended by CRLF or by LF, as editors and version control leave them. [-]

    Returns
    -------
    Component
        Names of components, properties and parameters in upper case. [-]

    Raises
    ------
    UnreadableError
        Where it is anything else.

    References
    ----------
    RFC 5545, sections 3.1 and 3.4.
    """
    top: list[Component] = []
    open_ones: list[tuple[str, list[Property], list[Component]]] = []
    for number, line in _unfolded(stream):
        prop = _property(number, line)
        if prop.name == "BEGIN":
            open_ones.append((prop.value.upper(), [], []))
        elif not open_ones:
            msg = f"line {number} stands outside of any component"
            raise UnreadableError(msg)
        elif prop.name == "END":
            done = _closed(number, prop.value.upper(), open_ones)
            (open_ones[-1][2] if open_ones else top).append(done)
        else:
            open_ones[-1][1].append(prop)
    if open_ones:
        msg = f"the end of {open_ones[-1][0]} is missing"
        raise UnreadableError(msg)
    if len(top) != 1:
        msg = f"it holds {len(top)} calendars instead of one"
        raise UnreadableError(msg)
    return top[0]


def _closed(
    number: int, name: str, open_ones: list[tuple[str, list[Property], list[Component]]]
) -> Component:
    begun, properties, parts = open_ones.pop()
    if begun != name:
        msg = f"line {number} ends {name} inside {begun}"
        raise UnreadableError(msg)
    return Component(name, tuple(properties), tuple(parts))


def _unfolded(stream: bytes) -> Iterator[tuple[int, str]]:
    try:
        text = stream.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        msg = f"it is not UTF-8 text (octet {error.start})"
        raise UnreadableError(msg) from error
    begun, line = 0, ""
    for number, piece in enumerate(text.replace("\r\n", "\n").split("\n"), start=1):
        if piece.startswith((" ", "\t")):
            line += piece[1:]
            continue
        if line:
            yield begun, line
        begun, line = number, piece
    if line:
        yield begun, line


def _property(number: int, line: str) -> Property:
    found = _LINE.fullmatch(line)
    if found is None or _CONTROLS.search(line):
        msg = f"line {number} is not a content line"
        raise UnreadableError(msg)
    name, params, value = found.groups()
    return Property(
        name.upper(), value, tuple((key.upper(), word) for key, word in _ONE_PARAM.findall(params))
    )
