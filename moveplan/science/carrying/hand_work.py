"""How long a practised person or pair takes for a piece of hand work (data/hand_work.toml)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from moveplan.science.tables import table

MOST_TIMES, PACE_TIMES = 5.0, 1.5
"""How many times the likely value, or which part of it, a plan may set, and of a pace; chosen for this program. [-]"""


@dataclass(frozen=True, slots=True)
class Rate:
    """Minutes of work for one piece, or seconds and metres a second for one who carries.

    Parameters
    ----------
    low, likely, high : float
        For one piece, in minutes where its row says no other unit. [min]
    per : str
        What one piece is. [-]
    note : str
        What the work consists of. [-]
    """

    low: float
    likely: float
    high: float
    per: str
    note: str

    @property
    def unit(self) -> str:
        """Unit of its values: minutes, or what its row says.

        >>> rates()["bag"].unit, rates()["pace-tub"].unit, rates()["step-tub"].unit
        ('min', 'm/s', 's')
        """
        first = self.per.split()[0]
        return first if first in ("m/s", "s") else "min"


@cache
def rates() -> Mapping[str, Rate]:
    """Read the table of hand work."""
    return MappingProxyType({name: Rate(**row) for name, row in table("hand_work").items()})
