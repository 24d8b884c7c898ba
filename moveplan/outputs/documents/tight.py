"""A page in fewer signs: what the HTML Standard lets out, so that a browser makes the very same page of it."""

from __future__ import annotations

import re

_FLOW = (
    r"<(?:address|article|aside|blockquote|details|div|dl|fieldset|figure|footer|form|h[1-6]|header|hr|main|nav|ol|p"
    r"|pre|section|table|ul)[ >]|</(?:article|aside|body|dd|details|div|footer|header|li|main|nav|section|td|th)>"
)
_ENDED_BY = {
    "li": r"<li[ >]|</(?:ol|ul)>",
    "dt": r"<d[dt][ >]",
    "dd": r"<d[dt][ >]|</(?:dl|div)>",
    "p": _FLOW,
    "option": r"<opt(?:ion|group)[ >]|</(?:select|optgroup)>",
    "t[dh]": r"<t[dh][ >]|</tr>",
    "tr": r"<tr[ >]|</t(?:body|foot|head)>",
    "t(?:head|body)": r"<t(?:body|foot)[ >]|</table>",
    "tfoot": r"</table>",
}
"""Elements whose end needs no word where the next tag says it; HTML Standard, 13.1.2.4 Optional tags."""

_BLOCK = (
    r"(?:li|ul|ol|p|div|section|details|summary|table|thead|tbody|tr|th|td|dl|dt|dd|h\d|nav|header|footer|main"
    r"|g|rect|path|title|text|symbol|pattern|defs)"
)
_BETWEEN_BLOCKS = re.compile(
    rf"(</?{_BLOCK}(?: [^<>]*)?>)\n\s*(?=<)|(?<=>)\n\s*(?=</?{_BLOCK}[ >])|(?<=</text></a>)\n"
)
_NEEDLESS_END = re.compile("|".join(rf"</{name}>(?={after})" for name, after in _ENDED_BY.items()))
_AS_IT_IS = re.compile(r"(<(?:script|style|textarea)[ >].*?</(?:script|style|textarea)>)", re.DOTALL)
_TAG = re.compile(r"<[a-zA-Z][^<>]*>")
_NEEDLESS_QUOTES = re.compile(r"""(?<==)"([^\s"'=<>`]+)"(?=[ >])|=""(?=[ >])|(?<==)"([^\s"'=<>`]+)"(?=/>)""")
"""Around a value without a sign that would end it; HTML Standard, 13.1.2.3 Attributes. A slash needs a space before."""


def without_line_ends(page: str) -> str:
    """Leave out the line ends at the edges of blocks, which no browser shows: some thousands a page."""
    return _BETWEEN_BLOCKS.sub(lambda found: found[1] or "", page)


def tight(page: str) -> str:
    """Write a page with the fewest signs of which the HTML Standard has the same page made.

    Parameters
    ----------
    page : str
        HTML that the templates of this program made, with the values of attributes in double quotation marks.

    Returns
    -------
    str
        The same elements, attributes and texts: ends that the next tag implies, quotation marks that hold nothing
        together and the escapes of single ones are left out. Scripts and styles stay as they are.

    >>> tight('<ul><li class="a">1</li><li class="a b"><p id="c">2</p></li></ul>')
    '<ul><li class=a>1<li class="a b"><p id=c>2</ul>'
    """
    parts = _AS_IT_IS.split(page)
    parts[::2] = (_tight_markup(one) for one in parts[::2])
    return "".join(parts)


def _tight_markup(text: str) -> str:
    plain = _NEEDLESS_END.sub("", text.replace("&#39;", "'"))
    return _TAG.sub(lambda tag: _NEEDLESS_QUOTES.sub(_unquoted, tag[0]), plain)


def _unquoted(quoted: re.Match[str]) -> str:
    return f"{quoted[2]} " if quoted[2] else quoted[1] or ""
