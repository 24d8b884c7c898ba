"""What the parts of the checker share: faults, moments, and what is in use at one time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from itertools import pairwise
from typing import Any, NamedTuple

Result = dict[str, Any]
Span = tuple[float, float]
"""From and until. [UTC min]"""


class Fault(NamedTuple):
    """A limit that is broken: which one, and where."""

    code: str
    what: str

    def __str__(self) -> str:
        return f"{self.code}: {self.what}"


def minute(text: str) -> float:
    """UTC minutes of an ISO 8601 moment."""
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError(text)
    return moment.timestamp() / 60


def span(row: Result) -> Span:
    """From and until of a row."""
    return minute(row["from"]), minute(row["until"])


def most_at_once(uses: Iterable[tuple[float, float, float]]) -> float:
    """Greatest sum of amounts in use at one moment; what ends gives free before what begins."""
    steps = [step for begin, end, amount in uses for step in ((begin, amount), (end, -amount))]
    most = in_use = 0.0
    for _, change in sorted(steps):
        in_use += change
        most = max(most, in_use)
    return most


def merged(spans: Iterable[Span], apart: float = 1.0) -> list[Span]:
    """Spans put together where they touch or stand at most ``apart`` minutes from each other."""
    whole: list[Span] = []
    for begin, end in sorted(spans):
        if whole and begin <= whole[-1][1] + apart:
            whole[-1] = (whole[-1][0], max(whole[-1][1], end))
        else:
            whole.append((begin, end))
    return whole


def within(inner: Span, outer: Iterable[Span], slack: float = 1.0) -> bool:
    """Whether a span lies inside one of others, give or take ``slack`` minutes."""
    return any(begin - slack <= inner[0] and inner[1] <= end + slack for begin, end in outer)


def pieces(whole: Span, cuts: Iterable[float]) -> Iterator[Span]:
    """A span cut at moments, so that nothing changes inside a piece."""
    inside = sorted({whole[0], whole[1], *(cut for cut in cuts if whole[0] < cut < whole[1])})
    yield from pairwise(inside)
