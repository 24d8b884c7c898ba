"""Finds figures that are finer than what they were computed from, in whatever is printed for people.

Chances stand in whole percent or as one in so many, money without cents, computed times and durations in steps of
five minutes. What the plan file gives is as exact as it is given, and a unit price is a price.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator

LONG_MIN = 15
"""Durations below are told to the minute. [min]"""
_PERCENT = re.compile(r"\d+[.,]\d+ ?%")
_MONEY = re.compile(r"[€$£] ?−?\d[\d,]*\.\d\d(?!\d)")
_CLOCK = re.compile(r"(?<![\d:+.])(?:[01]?\d|2[0-3]):(?P<minute>[0-5]\d)(?![\d:])")
_DURATION = re.compile(r"(?:(?P<hours>\d+) h )?(?P<minutes>\d+) min\b")
_UNSEEN = re.compile(r"<(script|style)\b.*?</\1>|<td class=\"?price\"?>[^<]*", re.DOTALL)
_GIVEN_LINE = re.compile(r"^.*\[given\]\n.*$|\{from: .*?\}\}", re.MULTILINE)


def too_fine(text: str, plan: str) -> list[str]:
    """List what is too fine, each with what stands around it.

    Parameters
    ----------
    text : str
        A document, or what a command printed.
    plan : str
        The plan file, whose own figures may be as fine as they are.
    """
    seen = _GIVEN_LINE.sub(" ", text.replace("\r\n ", ""))
    if "<html" in text:
        seen = html.unescape(re.sub(r"<[^>]+>", " ", _UNSEEN.sub(" ", seen)))
    given = plan.replace("\u202f", " ")
    return [
        re.sub(r"\s+", " ", seen[max(at - 50, 0) : at + 40])
        for at, said in _found(seen)
        if not re.search(rf"(?<!\d){re.escape(said)}", given)
    ]


def _found(text: str) -> Iterator[tuple[int, str]]:
    for pattern in (_PERCENT, _MONEY):
        for match in pattern.finditer(text):
            yield match.start(), match[0]
    for match in _CLOCK.finditer(text):
        if int(match["minute"]) % 5:
            yield match.start(), match[0]
    for match in _DURATION.finditer(text):
        minutes = int(match["minutes"])
        if minutes % 5 and (match["hours"] or minutes >= LONG_MIN):
            yield match.start(), match[0]
