"""Text for a terminal: lines that are too long for it are broken between words, under their own beginning.

In a pipe or a file lines stay whole, so that other programs find them.
"""

from __future__ import annotations

import shutil
import sys
import textwrap

import typer

NARROWEST = 32
"""Narrowest text, whatever the terminal says. [character]"""
_STEP = 4
"""By how much each level of a list is set in. [character]"""


def laid_out(text: str, columns: int) -> str:
    r"""Break the lines of a text that are longer than the terminal is wide.

    Parameters
    ----------
    text : str
        Lines; what they are indented by is kept.
    columns : int
        Width of the terminal; narrower than can be read is taken as that.

    >>> print(laid_out("  one two three four five six seven eight", 32))
      one two three four five six
          seven eight
    """
    width = max(NARROWEST, columns)
    return "".join(_broken(line, width) for line in text.splitlines(keepends=True))


def _broken(line: str, width: int) -> str:
    text = line.rstrip("\n")
    if len(text) <= width:
        return line
    indent = text[: len(text) - len(text.lstrip())]
    broken = textwrap.fill(
        text.strip(),
        width,
        initial_indent=indent,
        subsequent_indent=indent + " " * _STEP,
        break_long_words=False,  # ids, paths and addresses are copied whole
        break_on_hyphens=False,
    )
    return broken + line[len(text) :]


def show_text(text: str) -> None:
    """Print a text, broken to the width of the terminal where it goes to one."""
    if sys.stdout.isatty():
        text = laid_out(text, shutil.get_terminal_size().columns)
    typer.echo(text, nl=False)
