"""Tasks that the keeper writes by hand."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.plan.places import ThreePoint


@dataclass(frozen=True, slots=True)
class OwnLink:
    """What an own task waits for.

    Parameters
    ----------
    task : str
        Id of the predecessor.
    relation : str
        RFC 9253 relation.
    gap_min : int or None
        Least gap; None: no least gap. [min]
    at_most_min : int or None
        Greatest gap; None: none. [min]
    line : int
        Line of the plan file.
    """

    task: str
    relation: str
    gap_min: int | None
    at_most_min: int | None
    line: int


@dataclass(frozen=True, slots=True)
class OwnTask:
    """A task of the keeper's own.

    Parameters
    ----------
    id, title : str
        Identity and what to print.
    minutes : ThreePoint
        Duration. [min]
    after : tuple of OwnLink
        What it waits for.
    people_count : int
        How many people, any of them; 0: none, it runs round the clock.
    people : tuple of str
        Ids of people who must do it.
    vehicles : tuple of str
        Ids of vehicles.
    gear : tuple of (str, int)
        Gear in use during it.
    place : str
        Id of a place; empty: anywhere.
    not_before, finish_by : int or None
        UTC. [min]
    may_pause : bool
        Whether work may stop overnight.
    steps : tuple of str
        What to do.
    line : int
        Line of the plan file.
    """

    id: str
    title: str
    minutes: ThreePoint
    after: tuple[OwnLink, ...] = ()
    people_count: int = 0
    people: tuple[str, ...] = ()
    vehicles: tuple[str, ...] = ()
    gear: tuple[tuple[str, int], ...] = ()
    place: str = ""
    not_before: int | None = None
    finish_by: int | None = None
    may_pause: bool = False
    steps: tuple[str, ...] = ()
    line: int = 0
