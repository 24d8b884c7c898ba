"""How long hand work takes: the table of minutes a piece with what the plan overrides, and the arithmetic around it."""

from __future__ import annotations

from collections.abc import Mapping

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.places import Place
from moveplan.science.carrying.hand_work import Rate, rates
from moveplan.science.carrying.lifting import carry_cycle_s
from moveplan.units import show_rounded

SOURCE = "common practice, no source"
REST = 1.15
"""Time with rests over time without, for carrying: about 9 % personal and for fatigue, the rest for the load; after the
allowances of the International Labour Organization, recalled. [-]"""
_CARRIED = {"can": ("can", "can"), "tub": ("tub", "tub"), "glass": ("tank", "tub"), "tank": ("tank", "tank")}
"""Rows by which each thing is walked with and taken hold of: a small pane goes as slowly as a large one."""


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
        own = self._own(name)
        if own is None:
            return rate
        factor = own / rate.likely
        return Rate(rate.low * factor, own, rate.high * factor, rate.per, rate.note)

    def _own(self, name: str) -> float | None:
        """Likely value that the plan sets, by the name that limits have in it."""
        return self._policy.get(name.replace("-", "_"))

    def work(self, name: str, pieces: float, hands: float = 1.0) -> Estimate:
        """Time for a number of pieces.

        Parameters
        ----------
        name : str
            Row of the table.
        pieces : float
            How many.
        hands : float
            People or pairs who work side by side.
        """
        rate = self.rate(name)
        shared = f" by {hands:g} at a time" if hands != 1 else ""
        provenance = Provenance.ASSUMED if self._own(name) is None else Provenance.GIVEN
        return Estimate(
            rate.low * pieces / hands,
            rate.likely * pieces / hands,
            rate.high * pieces / hands,
            "min",
            f"{rate.note}: {pieces:g} × {rate.likely:g} min a {rate.per}{shared}",
            provenance,
            SOURCE,
        )

    def carry(
        self, singles: int, pairs: int, place: Place, people: int, teams: int = 0, glass: int = 0
    ) -> Estimate:
        """Carry things between a room and the vehicle and come back, resting as one must.

        Parameters
        ----------
        singles, pairs : int
            Things that one person carries, a can or a bucket, and things that two carry, a tub.
        place : Place
            Where: its way on foot and its stairs count; a lift that carries the tank carries all.
        people : int
            How many carry; one alone carries all by himself.
        teams : int
            Things that all of them carry together, a tank or a stand.
        glass : int
            Things of glass that two carry, as slowly as a tank.
        """
        people = max(people, 1)
        alone, paired, brittle, whole = (self._cycles_min(thing, place) for thing in _CARRIED)
        bearers = min(people, 2)
        low, likely, high = (
            (singles * one + bearers * (pairs * two + glass * pane)) / people + teams * every
            for one, two, pane, every in zip(alone, paired, brittle, whole, strict=True)
        )
        parts = [f"{singles} things by one person, {alone[1]:.1f} min each"] if singles else []
        each = "one person" if bearers == 1 else "two people"
        parts += [f"{pairs} things by {each}, {paired[1]:.1f} min each"] if pairs else []
        parts += [f"{glass} of glass by {each}, {brittle[1]:.1f} min each"] if glass else []
        parts += [f"{teams} things by all of them, {whole[1]:.1f} min each"] if teams else []
        stairs = "by the lift" if place.lift else f"over {place.carried_steps} steps"
        basis = (
            f"{' and '.join(parts) or 'nothing'}: {show_rounded(place.carry_m)} m and {stairs} there and back, "
            f"rests included, {people} carrying"
        )
        return Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, SOURCE)

    def _cycles_min(self, thing: str, place: Place) -> tuple[float, ...]:
        """Shortest, likely and longest time for one thing there and back. [min]."""
        walked, held = _CARRIED[thing]
        pace, empty = self.rate(f"pace-{walked}"), self.rate("pace-empty")
        step, down, hold = self.rate(f"step-{walked}"), self.rate("step-empty"), self.rate(f"handle-{held}")
        ride = self.rate("lift-ride")
        rides = 1.0 if place.lift else 0.0
        cycles = (
            carry_cycle_s(place.carry_m, place.carried_steps, *paces, *times) + rides * riding
            for paces, times, riding in (
                ((pace.high, empty.high), (step.low, down.low, hold.low), ride.low),
                ((pace.likely, empty.likely), (step.likely, down.likely, hold.likely), ride.likely),
                ((pace.low, empty.low), (step.high, down.high, hold.high), ride.high),
            )
        )
        return tuple(REST * float(cycle) / 60 for cycle in cycles)


def together(*parts: Estimate, basis: str = "") -> Estimate:
    """Add durations that follow each other; the basis lists the parts.

    Low and high add up as if all went well or ill together, which is wide on purpose.

    Parameters
    ----------
    *parts : Estimate
        In one unit.
    basis : str
        A sentence that replaces the list of the parts.
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
