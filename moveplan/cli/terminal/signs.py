"""What a terminal shows in place of a sign that it lacks: the nearest that it has, or a question mark."""

from __future__ import annotations

import codecs
import io

HANDLER = "moveplan-signs"
"""Name under which streams ask for it."""
_PLAIN = "moveplan_ascii"
"""ASCII by another name: to a stream of plain ASCII the library of the command line would write UTF-8."""
_NEAREST = {
    "\N{EN DASH}": "-",
    "\N{EM DASH}": "-",
    "\N{MINUS SIGN}": "-",
    "\N{LEFT DOUBLE QUOTATION MARK}": '"',
    "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
    "\N{LEFT SINGLE QUOTATION MARK}": "'",
    "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    "\N{MULTIPLICATION SIGN}": "x",
    "\N{MIDDLE DOT}": ".",
    "\N{RIGHTWARDS ARROW}": "->",
    "\N{DEGREE SIGN}": "deg ",
    "\N{LESS-THAN OR EQUAL TO}": "<=",
    "\N{GREATER-THAN OR EQUAL TO}": ">=",
    "\N{EURO SIGN}": "EUR ",
    "\N{POUND SIGN}": "GBP ",
    "\N{WHITE SQUARE}": "[ ]",
    "\N{BALLOT BOX}": "[ ]",
    "\N{MICRO SIGN}": "u",
    "\N{LATIN SMALL LETTER SHARP S}": "ss",
    "\N{LATIN SMALL LETTER O WITH STROKE}": "o",
    "\N{LATIN SMALL LETTER AE}": "ae",
}


def shown(sign: str) -> str:
    """Give the nearest that is plain ASCII.

    >>> shown("é"), shown("–"), shown("鰭")
    ('e', '-', '?')
    """
    if sign in _NEAREST:
        return _NEAREST[sign]
    import unicodedata

    plain = unicodedata.normalize("NFKD", sign).encode("ascii", "ignore").decode()
    return plain or ("" if unicodedata.combining(sign) else "?")


def replaced(error: UnicodeError) -> tuple[str, int]:
    """Stand in for signs that an encoding lacks, as the codecs of Python ask for it."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(shown, error.object[error.start : error.end])), error.end


def _codec(name: str) -> codecs.CodecInfo | None:
    if name != _PLAIN:
        return None
    ascii_ = codecs.lookup("ascii")
    return codecs.CodecInfo(
        *ascii_[:2],
        incrementalencoder=ascii_.incrementalencoder,
        incrementaldecoder=ascii_.incrementaldecoder,
        name=_PLAIN,
    )


def use_in(stream: io.TextIOWrapper) -> None:
    """Let a stream of text show what it can."""
    codecs.register_error(HANDLER, replaced)
    if codecs.lookup(stream.encoding).name == "ascii":
        codecs.register(_codec)
        stream.reconfigure(encoding=_PLAIN)
    stream.reconfigure(errors=HANDLER)
