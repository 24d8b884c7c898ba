"""Minutes and lists as people say them, for messages."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from moveplan.network.link import Relation
from moveplan.times import MINUTES_A_DAY


def said(minutes: int) -> str:
    """Minutes in days, hours and minutes.

    >>> said(390), said(2880), said(0), said(1501)
    ('6 h 30 min', '2 days', '0 min', '1 day 1 h 1 min')
    """
    days, rest = divmod(abs(minutes), MINUTES_A_DAY)
    parts = [f"{days} day{'s' if days > 1 else ''}"] if days else []
    parts += [f"{rest // 60} h"] if rest >= 60 else []
    parts += [f"{rest % 60} min"] if rest % 60 else []
    return ("-" if minutes < 0 else "") + (" ".join(parts) or "0 min")


class Titled(Protocol):
    """What has an id and a title, such as a task."""

    @property
    def id(self) -> str:
        """Its id."""

    @property
    def title(self) -> str:
        """What people call it; the id where they gave none."""


def named(thing: Titled) -> str:
    """Name a task in a sentence: by its title, or by its id where it has none of its own."""
    return thing.id if thing.title in ("", thing.id) else f"“{thing.title}”"


def from_end_to_end(relation: Relation, before: str, after: str) -> str:
    """Say between which ends of two tasks a link is measured.

    >>> from_end_to_end(Relation.STARTTOFINISH, "fill", "mix")
    'the start of fill to the finish of mix'
    """
    return f"{_end(before, relation.from_finish)} to {_end(after, relation.to_finish)}"


def _end(name: str, finish: bool) -> str:
    return f"the {'finish' if finish else 'start'} of {name}"


def worked(minutes: int) -> str:
    """Minutes of work in hours and minutes, never in days.

    >>> worked(1501), worked(45)
    ('25 h 1 min', '45 min')
    """
    hours, rest = divmod(minutes, 60)
    parts = [f"{hours} h"] if hours else []
    parts += [f"{rest} min"] if rest or not hours else []
    return " ".join(parts)


def listed(names: Sequence[str], most: int = 8) -> str:
    """Names in a sentence; the middle of a long list is left out.

    >>> listed(["a"]), listed(["a", "b", "c"])
    ('a', 'a, b and c')
    """
    shown = list(names)
    if len(shown) > most:
        shown = [*shown[: most - 2], f"{len(shown) - most + 1} more", shown[-1]]
    if len(shown) < 2:
        return "".join(shown)
    return ", ".join(shown[:-1]) + " and " + shown[-1]
