"""A page as its templates write it, for tests that look for tags with their attributes."""

from __future__ import annotations

import re


def quoted(page: str) -> str:
    """Put the value of every attribute into double quotation marks.

    >>> quoted('<p id=a class="b c=d e" hidden>f=g')
    '<p id="a" class="b c=d e" hidden>f=g'
    """
    return re.sub(r"<[a-zA-Z][^<>]*>", _tag, page)


def _tag(found: re.Match[str]) -> str:
    return re.sub(
        r"""="[^"]*"|=([^\s"'=<>`]+)""",
        lambda value: f'="{value[1]}"' if value[1] else value[0],
        found[0],
    )
