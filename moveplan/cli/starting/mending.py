"""A slip in one part of an answer: only that part is asked for again, and the others are kept."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from moveplan.planfile.replies.rows import Part, RowError

_LEFT_OUT = "-"
_COUNTED = re.compile(r"[0-9]|^an?\s", re.IGNORECASE)


def worth_mending(row: RowError) -> bool:
    """Tell whether there is something to keep, or to offer in place of what was not understood."""
    return len(row.parts) > 1 or bool(_offers(row.parts[0]))


def mended(row: RowError, hear: Callable[[], str], say: Callable[[str, str], None]) -> str | None:
    """Ask for each part that was not understood, and put the answer together again.

    Parameters
    ----------
    hear : callable
        Hears a reply; ``<`` asks for the whole answer again.
    say : callable
        Prints a text, given what its first line begins with.

    Returns
    -------
    str or None
        The answer, still to be read; none where the keeper wants to write all of it again.
    """
    texts = []
    for part in row.parts:
        text: str | None = part.text
        if part.refusals:
            text = _asked_again(part, hear, say, alone=len(row.parts) == 1)
        if text is None:
            return None
        texts.append(text)
    return row.joint.join(filter(None, texts))


def _asked_again(
    part: Part, hear: Callable[[], str], say: Callable[[str, str], None], *, alone: bool
) -> str | None:
    offers = _offers(part)
    for one in part.refusals:
        say(f"{one.message}; {one.remedy}" if one.remedy else one.message, "  ! ")
    for number, offer in enumerate(offers, start=1):
        say(f"{number}  {offer}", "     ")
    again = "Write a number, or it again" if offers else f'Write "{part.text}" again'
    kept = "" if alone else f"; {_LEFT_OUT} leaves it out. The rest is kept"
    say(f"{again}{kept}.", "     ")
    if offers:
        say(f"Enter for: {offers[0]} (the nearest name)", "     ")
    while not (said := hear() or next(iter(offers), "")):
        continue
    if said == "<":
        return None
    if said.isdecimal() and 0 < int(said[:3]) <= len(offers):
        return offers[int(said[:3]) - 1]
    if said == _LEFT_OUT and not alone:
        return ""
    return said if offers else _filled_in(part, said)


def _filled_in(part: Part, said: str) -> str:
    """Put a word alone where it was missing, so that count, size and name stay; a reply with a count is whole."""
    around = next((one.around for one in part.refusals if one.around), "{}")
    return said if _COUNTED.search(said) else around.replace("{}", said)


def _offers(part: Part) -> tuple[str, ...]:
    return tuple(offer for one in part.refusals for offer in one.instead)
