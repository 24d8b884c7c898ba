"""Demands of a plan in words; no solver is needed for them."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.network.link import Link
from moveplan.network.words import said


@dataclass(frozen=True, slots=True)
class Demand:
    """One demand in the plan's own words.

    Parameters
    ----------
    kind : str
        ``least``, ``most``, ``not-before``, ``finish-by``, ``day``, ``hours``, ``one-at-a-time``, ``vehicle`` or
        ``gear``. [-]
    text : str
        What is asked. [-]
    where : str
        The line it comes from. [-]
    index : int
        Position of the link, task, tag, person, vehicle or gear. [-]
    """

    kind: str
    text: str
    where: str
    index: int


def _end(name: str, finish: bool) -> str:
    return f"the {'finish' if finish else 'start'} of {name}"


def said_of_link(link: Link, most: bool) -> str:
    """Say what one side of a link asks for."""
    gap = link.max_gap_min if most else link.min_gap_min
    ends = f"{_end(link.before, link.relation.from_finish)} to {_end(link.after, link.relation.to_finish)}"
    if not most and gap == 0 and link.relation.from_finish and not link.relation.to_finish:
        return f"{link.after} waits for {link.before}"
    return f"from {ends} at {'most' if most else 'least'} {said(gap or 0)}"
