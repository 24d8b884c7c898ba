"""How long hand work takes: a table of minutes a piece, and the arithmetic around it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.places import Place
from moveplan.units import show_rounded

SOURCE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Rate:
    """Minutes of work for one piece.

    Parameters
    ----------
    low, likely, high : float
        For one piece. [min]
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


@cache
def rates() -> Mapping[str, Rate]:
    """Read the table of minutes a piece."""
    text = files("moveplan.quantities").joinpath("data/handling.toml").read_text("utf-8")
    return {name: Rate(**row) for name, row in tomllib.loads(text).items()}


class Handling:
    """The table of minutes, with what the plan overrides.

    Parameters
    ----------
    policy : Mapping of str to float
        Likely values by id that replace those of the table. [min]
    """

    def __init__(self, policy: Mapping[str, float]) -> None:
        self._policy = policy

    def rate(self, name: str) -> Rate:
        """Minutes for one piece; an overridden likely value carries low and high along."""
        rate = rates()[name]
        if name not in self._policy:
            return rate
        factor = self._policy[name] / rate.likely
        return Rate(rate.low * factor, self._policy[name], rate.high * factor, rate.per, rate.note)

    def work(self, name: str, pieces: float, hands: float = 1.0) -> Estimate:
        """Time for a number of pieces.

        Parameters
        ----------
        name : str
            Row of the table. [-]
        pieces : float
            How many. [-]
        hands : float
            People or pairs who work side by side. [-]
        """
        rate = self.rate(name)
        shared = f" by {hands:g} at a time" if hands != 1 else ""
        provenance = Provenance.GIVEN if name in self._policy else Provenance.ASSUMED
        return Estimate(
            rate.low * pieces / hands,
            rate.likely * pieces / hands,
            rate.high * pieces / hands,
            "min",
            f"{rate.note}: {pieces:g} × {rate.likely:g} min a {rate.per}{shared}",
            provenance,
            SOURCE,
        )

    def carry(self, items: int, place: Place, people: int) -> Estimate:
        """Carry items between a room and the vehicle, two people to an item, there and back.

        Parameters
        ----------
        items : int
            How many carries. [-]
        place : Place
            Where: its way on foot and its stairs count. [-]
        people : int
            How many carry; three make one and a half pairs. [-]
        """
        pairs = max(people, 1) / 2
        one_way = [
            place.carry_m / speed / 60 + place.steps * step
            for speed, step in zip(self._walk(), self._steps(), strict=True)
        ]
        handling = self.rate("load-item")
        per_item = [
            2 * way + extra
            for way, extra in zip(one_way, (handling.low, handling.likely, handling.high), strict=True)
        ]
        low, likely, high = (items * minutes / pairs for minutes in per_item)
        basis = (
            f"{items} carries over {show_rounded(place.carry_m)} m and {place.steps} steps there and back, "
            f"{per_item[1]:.1f} min each, {people} people in pairs"
        )
        return Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, SOURCE)

    def _walk(self) -> tuple[float, float, float]:
        speed = self.rate("walk-speed")
        return speed.high, speed.likely, speed.low

    def _steps(self) -> tuple[float, float, float]:
        step = self.rate("stair-step")
        return step.low, step.likely, step.high


def together(*parts: Estimate, basis: str = "") -> Estimate:
    """Add durations that follow each other; the basis lists the parts.

    Low and high add up as if all went well or ill together, which is wide on purpose.

    Parameters
    ----------
    *parts : Estimate
        In one unit. [-]
    basis : str
        A sentence that replaces the list of the parts. [-]
    """
    provenances = {part.provenance for part in parts}
    provenance = Provenance.COMPUTED if len(provenances) > 1 else next(iter(provenances))
    sources = "; ".join(dict.fromkeys(part.source for part in parts if part.source))
    return Estimate(
        sum(part.low for part in parts),
        sum(part.likely for part in parts),
        sum(part.high for part in parts),
        parts[0].unit,
        basis or "; then ".join(part.basis for part in parts),
        provenance,
        sources,
        tuple((f"part {number}", part) for number, part in enumerate(parts, 1)),
    )
