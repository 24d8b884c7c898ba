"""Which names somebody most likely meant who wrote one that is not known."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import SequenceMatcher, get_close_matches

NEAR = 0.6
"""Least likeness of what is offered, of 1; what is less alike was not meant and only leads astray. Chosen. [-]"""
_OF_ITS_WORDS = 0.7
"""Or, of a name of several words, the least mean likeness of the words written to its own. Chosen. [-]"""
_LONGEST = 60
"""What is written beyond it is not read: no name is as long, and the time grows with the square. [character]"""


def near_names(name: str, names: Iterable[str]) -> list[str]:
    """Find the names that were most likely meant: those with the most of its words first, then those spelt alike.

    Parameters
    ----------
    name : str
        What was written.
    names : iterable of str
        What is known; the three nearest are given.

    >>> near_names("relase-fish", ["drain-tank-display", "release-fish-display-timid", "catch-fish-display"])
    ['release-fish-display-timid']
    >>> near_names("xyzzy", ["display", "quarantine"])
    []
    """
    said = _words(name[:_LONGEST])
    scored = []
    for one in names:
        words = _words(one) or [""]
        hits = sum(max(_alike(word, other) for other in words) for word in said)
        share = hits / len(said) if said else 0.0
        alike = _alike("-".join(said), "-".join(words))
        if share >= _OF_ITS_WORDS or alike >= NEAR:
            scored.append((-share, -alike, one))
    return [one for _, _, one in sorted(scored)[:3]]


def nearest(name: str, names: Iterable[str]) -> str:
    """Find what was probably meant, spelt a little otherwise; empty where nothing is near.

    >>> nearest("heigth", ["length", "height", "width"])
    'height'
    """
    return next(iter(get_close_matches(name[:_LONGEST].casefold(), list(names), 1, NEAR)), "")


def _words(name: str) -> list[str]:
    return [word for word in name.casefold().replace("_", "-").replace(" ", "-").split("-") if word]


def _alike(one: str, other: str) -> float:
    return SequenceMatcher(None, one, other).ratio()
