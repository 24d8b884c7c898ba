"""Demands of a plan in words; no solver is needed for them."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.network.graph import Network
from moveplan.network.link import Link
from moveplan.network.words import from_end_to_end, named, said


@dataclass(frozen=True, slots=True)
class Demand:
    """One demand in the plan's own words.

    Parameters
    ----------
    kind : str
        ``least``, ``most``, ``not-before``, ``finish-by``, ``day``, ``hours``, ``one-at-a-time``, ``vehicle`` or
        ``gear``.
    text : str
        What is asked.
    where : str
        The line it comes from.
    index : int
        Position of the link, task, tag, person, vehicle or gear.
    """

    kind: str
    text: str
    where: str
    index: int


def said_of_link(network: Network, link: Link, most: bool) -> str:
    """Say what one side of a link asks for."""
    gap = link.max_gap_min if most else link.min_gap_min
    before, after = named(network.task(link.before)), named(network.task(link.after))
    if not most and gap == 0 and link.relation.from_finish and not link.relation.to_finish:
        return f"{after} waits for {before}"
    return f"from {from_end_to_end(link.relation, before, after)} at {'most' if most else 'least'} {said(gap or 0)}"
