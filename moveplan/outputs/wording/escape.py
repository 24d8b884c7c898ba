"""Text from a plan is data: made harmless for each kind of document it is printed in."""

from __future__ import annotations

import re

# C0 and C1 controls without tab and line feed, delete, embeddings, overrides and isolates that would turn the
# text around them, byte order mark, interlinear marks, and the two noncharacters.
_UNWANTED = re.compile(
    "[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f\u202a-\u202e\u2066-\u2069\ufeff\ufff9-\ufffb\ufffe\uffff]"
)
_LINE_ENDS = re.compile("\r\n|[\r\x0b\x0c\x85\u2028\u2029]")
_LONE_SURROGATES = re.compile("[\ud800-\udfff]")
_SPACES = re.compile(r"\s+")

# Signs that open emphasis, code, links, HTML, tables or strike-through anywhere in a line.
_INLINE = re.compile(r"[\\`*_\[\]<>|~]")
_ENTITY = re.compile(r"&(?=#?\w+;)")
_HASHES = re.compile(r"(?<!\S)#+")
_BARE_LINK = re.compile(r"(?<=\w)(:)(?=//)|(?<=\bwww)(\.)", re.IGNORECASE)
# Signs that open a list, a rule or an underlined heading at the beginning of a line.
_BULLET = re.compile(r"^([-+=])(?!\d)")
_NUMBERED = re.compile(r"^(\d+)([.)])(?=\s|$)")


def clean(text: str) -> str:
    r"""Take out control characters; line ends become line feeds, lone surrogates a replacement mark.

    Returns
    -------
    str
        Text that every document can hold; tabs and line feeds stay.

    Examples
    --------
    >>> clean("a\x00b\r\nc")
    'ab\nc'
    """
    text = _LINE_ENDS.sub("\n", text)
    return _LONE_SURROGATES.sub("\N{REPLACEMENT CHARACTER}", _UNWANTED.sub("", text))


def one_line(text: str) -> str:
    r"""Clean a text and put it on one line.

    Returns
    -------
    str
        No control character, no line end, single spaces.

    Examples
    --------
    >>> one_line(" two\n lines ")
    'two lines'
    """
    return _SPACES.sub(" ", clean(text)).strip()


def escape_markdown(text: str) -> str:
    r"""Print a text as itself in Markdown: no heading, list, table cell, link, HTML, code or fence opens.

    Returns
    -------
    str
        One line of Markdown.

    References
    ----------
    CommonMark 0.31.2, section 2.4: a backslash before ASCII punctuation makes it literal.

    Examples
    --------
    >>> print(escape_markdown("# a | <b> [c](d)"))
    \# a \| \<b\> \[c\](d)
    >>> print(escape_markdown("- 5 °C"))
    \- 5 °C
    """
    text = _INLINE.sub(r"\\\g<0>", one_line(text))
    text = _ENTITY.sub(r"\&", text)
    text = _HASHES.sub(lambda found: "\\#" * len(found[0]), text)
    text = _BARE_LINK.sub(r"\\\g<0>", text)
    return _NUMBERED.sub(r"\1\\\2", _BULLET.sub(r"\\\1", text))
