"""The animals that share containers, and how long they are in them."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.quantities.safe_time.boxes import Journey


@dataclass(frozen=True, slots=True)
class Journeys:
    """How long a company is in containers, by the way in which it travels.

    Parameters
    ----------
    whole : Journey
        From taking it out to letting it in.
    waiting : Journey
        From taking it out until it is bagged, just before loading.
    bagged : Journey
        From bagging to letting it in.
    """

    whole: Journey
    waiting: Journey
    bagged: Journey


@dataclass(frozen=True, slots=True)
class Company:
    """What an offer has to know of the animals that share containers.

    Parameters
    ----------
    animals : int
        How many.
    biomass_g : float
        Their mass. [g]
    longest_m : float
        Length of the longest. [m]
    widths_m : tuple of float
        Widths of colonies, which stand in racks; none: they are no corals. [m]
    kind : str
        The kind of container that the keeper asks for; empty: any.
    may_be_bagged : bool
        Whether a bag holds each of them.
    bags : int
        Bags of all animals of the system that may be bagged: they share boxes and keep each other warm.
    journeys : Journeys
        How long.
    """

    animals: int
    biomass_g: float
    longest_m: float
    widths_m: tuple[float, ...]
    kind: str
    may_be_bagged: bool
    bags: int
    journeys: Journeys
