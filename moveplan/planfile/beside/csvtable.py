"""A CSV table as rows of texts, whatever program wrote it: separators, encodings and decimal commas differ.

RFC 4180 for quotes and line ends. The separator is the one by which the first row holds most of the names that
are looked for, so that nothing is guessed from the cells.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Callable
from dataclasses import dataclass

from moveplan.planfile.problems import Fault
from moveplan.planfile.text import MOST_BYTES, UnreadableError, decoded

_SEPARATORS = (",", ";", "\t", "|")
GUESSED = "Windows-1252"
"""The encoding that is tried where a table is not Unicode; it reads nearly anything, so it is a guess."""
_DECIMAL_COMMA = re.compile(r"^([+-]?\d+),(\d+)(?!\d|,)")
_NEUTRAL = re.compile(r"'(?=[=+@-])")
"""The apostrophe by which a table keeps a text from being taken for a formula; our own tables have it too."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row below the first.

    Parameters
    ----------
    line : int
        Line of the file on which it begins, from 1.
    cells : tuple of str
        Texts without spaces around them; as many as were written.
    """

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its head.

    Parameters
    ----------
    head : tuple of str
        Names in the first row, as written.
    head_line : int
        Line of the first row.
    rows : tuple of Row
        The rest; empty rows are left out.
    encoding : str
        How the file was read.
    """

    head: tuple[str, ...]
    head_line: int
    rows: tuple[Row, ...]
    encoding: str


def table_of(content: bytes, known: Callable[[str], bool], sample: str) -> Table:
    r"""Read a CSV table.

    Parameters
    ----------
    content : bytes
        What stands in the file.
    known : callable
        Whether a text of the first row is a name that is looked for.
    sample : str
        A first row that could stand there, for messages.

    Raises
    ------
    UnreadableError
        With the lines at fault.

    >>> table_of(b"kind;size\nclownfish;7,5 cm\n", lambda name: name in ("kind", "size"), "").rows
    (Row(line=2, cells=('clownfish', '7.5 cm')),)
    """
    text, encoding = _text(content)
    parsed = {separator: _parsed(text, separator) for separator in _SEPARATORS if separator in text}
    parsed = parsed or {",": _parsed(text, ",")}
    separator = max(parsed, key=lambda one: _hits(parsed[one][0], known))
    rows, unread = parsed[separator]
    if unread is not None:
        raise unread
    if not rows:
        raise UnreadableError([Fault(0, (), "the table is empty", f'begin with a row such as "{sample}"')])
    tidy = _decimal_points if separator != "," else str
    head, *rest = rows
    return Table(
        head.cells, head.line, tuple(Row(row.line, tuple(map(tidy, row.cells))) for row in rest), encoding
    )


def _text(content: bytes) -> tuple[str, str]:
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        try:
            content = content[: MOST_BYTES + 1].decode("utf-16").encode()
        except UnicodeError:
            raise UnreadableError(
                [Fault(0, (), "this is not UTF-16 text", "save the file as UTF-8")]
            ) from None
        return decoded(content), "UTF-16"
    try:
        content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        try:
            return decoded(content.decode(GUESSED).encode()), GUESSED
        except UnicodeDecodeError:
            line = content.count(b"\n", 0, fault.start) + 1
            message = f"byte 0x{content[fault.start]:02X} is not text"
            raise UnreadableError([Fault(line, (), message, "save the file as UTF-8")]) from None
    return decoded(content), "UTF-8"


def _parsed(text: str, separator: str) -> tuple[list[Row], UnreadableError | None]:
    """Read rows as far as they can be read, and say where they cannot."""
    reader = csv.reader(
        io.StringIO(text, newline=""), delimiter=separator, strict=True, skipinitialspace=True
    )
    rows: list[Row] = []
    line = 1
    try:
        for cells in reader:
            shown = tuple(_NEUTRAL.sub("", cell.strip(), count=1) for cell in cells)
            if any(shown):
                rows.append(Row(line, shown))
            line = reader.line_num + 1
    except csv.Error as error:
        message = f"the table cannot be read on from here ({error})"
        return rows, UnreadableError(
            [Fault(line, (), message, "look for a quotation mark that is not closed")]
        )
    return rows, None


def _hits(rows: list[Row], known: Callable[[str], bool]) -> int:
    return sum(map(known, rows[0].cells)) if rows else -1


def _decimal_points(cell: str) -> str:
    return _DECIMAL_COMMA.sub(r"\1.\2", cell)
