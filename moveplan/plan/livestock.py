"""The animals."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from moveplan.science.animals.livestock import Kind, kinds


@dataclass(frozen=True, slots=True)
class Livestock:
    """Animals of one kind in one system.

    Parameters
    ----------
    id, name : str
        Identity and what to print.
    kind : str
        Id of the kind.
    count : int
        How many live there now.
    size_cm : float
        Length of one, or the width of a colony across. [cm]
    mass_g : float or None
        Mass of one where the keeper knows it. [g]
    temperament : str
        ``timid``, ``peaceful``, ``territorial`` or ``predator``.
    system : str
        Id of the system it lives in.
    value : Decimal
        What one is worth, in the plan's currency.
    leaves : int
        How many find a new keeper before the move.
    sick : int
        How many are ill and must not travel.
    boarded : str
        Id of a boarding place where they wait meanwhile; empty: they travel with the system.
    wished : bool
        Not there yet: the keeper wants to add it after the move.
    container : str
        ``tub``, ``pail`` or ``bag`` where the keeper decides what they travel in; empty: it is chosen.
    own : Kind or None
        The kind, where it is one of the keeper's own; None: it stands in the table of kinds.
    """

    id: str
    name: str
    kind: str
    count: int
    size_cm: float
    mass_g: float | None
    temperament: str
    system: str
    value: Decimal
    leaves: int = 0
    sick: int = 0
    boarded: str = ""
    wished: bool = False
    container: str = ""
    own: Kind | None = None

    @property
    def traits(self) -> Kind:
        """What is known of the kind: its rules, what it endangers, how it is caught and packed."""
        return self.own or kinds()[self.kind]
