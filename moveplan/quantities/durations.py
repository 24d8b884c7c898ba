"""How long each piece of work on a system takes, from what has to be handled, pumped, warmed and carried."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.estimate import Estimate
from moveplan.plan.livestock import Livestock
from moveplan.plan.places import Place
from moveplan.plan.systems import Equipment, System
from moveplan.quantities.handling import Handling, together
from moveplan.quantities.policy import Policy
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.quantities.warming import warming
from moveplan.quantities.water.arriving import Arrival, waiting_warm
from moveplan.quantities.water.old_water import OldWater
from moveplan.quantities.water.pouring import moving_water, pouring
from moveplan.quantities.water.volumes import Masses, Volumes
from moveplan.science.animals.livestock import Kind

MANY = 12
"""Animals or pieces from which a second person is worth their way; assumed. [-]"""
PAIR_GAIN = 0.6
"""Time that two who catch together need over the time of one; a third is in the way; common practice, no source. [-]"""
FIRST_KINDS = ("return-pump", "heater", "circulation-pump")
"""Equipment that runs before anything else is mounted: flow and warmth; common practice, no source."""
HANDFUL = 3
"""Bags that one person closes alone; common practice, no source. [-]"""
CREW = 4
"""People from whom two can be spared for equipment; assumed. [-]"""


@dataclass(frozen=True, slots=True)
class Handled:
    """What has to be handled on a system.

    Parameters
    ----------
    system : System
        The system as it stands now.
    rebuilt : System
        The system as it will stand.
    volumes : Volumes
        Its water, rebuilt.
    masses : Masses
        What it weighs.
    old : OldWater
        Where its old water goes.
    containers : int
        Containers that are filled with old water.
    poured : int
        Containers whose water goes into the tank.
    groups : tuple of (Livestock, Kind, int)
        Animals that travel, and how many of each.
    bags : int
        Bags for animals.
    heater_w : float
        Heaters. [W]
    standing : bool
        Whether the tank it goes into already runs.
    carries : tuple of System
        Systems whose tank and stand travel along.
    arrival : Arrival or None
        How warm the tank stands once it is filled; None: not worked out yet, as warm as it should.
    """

    system: System
    rebuilt: System
    volumes: Volumes
    masses: Masses
    old: OldWater
    containers: int
    poured: int
    groups: tuple[tuple[Livestock, Kind, int], ...]
    bags: int
    heater_w: float
    standing: bool = False
    carries: tuple[System, ...] = ()
    arrival: Arrival | None = None
    cans: int = 0

    def count(self, *groups: str) -> int:
        """How many animals of the named trade groups travel."""
        return sum(count for _, kind, count in self.groups if kind.group in groups)

    @property
    def pieces(self) -> int:
        """Pieces of equipment."""
        return sum(item.count for item in self.rebuilt.equipment)

    @property
    def first_pieces(self) -> int:
        """Pieces that give flow and warmth; a pump and a heater where the plan names none."""
        return sum(item.count for item in flow_and_warmth(self.rebuilt.equipment)) or 2

    @property
    def spare_w(self) -> float:
        """Power of the spare heaters that help to warm the tank. [W]."""
        own_w = sum(item.count * item.power_w for item in self.rebuilt.equipment if item.kind == "heater")
        return max(self.heater_w - own_w, 0.0)

    @property
    def later_pieces(self) -> int:
        """Pieces that wait until flow and warmth are there; a lamp where the plan names none."""
        return max(sum(item.count for item in self.rebuilt.equipment if item.kind not in FIRST_KINDS), 1)


def flow_and_warmth(equipment: tuple[Equipment, ...]) -> tuple[Equipment, ...]:
    """List what animals wait for, and part from last: pumps and heaters."""
    return tuple(item for item in equipment if item.kind in FIRST_KINDS)


def side_by_side(pieces: int, able: int) -> int:
    """How many people share out a number of animals: one for a few, else as many as can.

    >>> side_by_side(3, 2), side_by_side(30, 2)
    (1, 2)
    """
    return able if pieces >= MANY else 1


def fitters(pieces: int, carriers: int) -> int:
    """How many people see to pieces of equipment: two where there are many and the crew is large enough.

    >>> fitters(14, 4), fitters(14, 2), fitters(5, 4)
    (2, 1, 1)
    """
    return 2 if carriers >= CREW and pieces >= MANY else 1


def fillers(containers: int, able: int) -> int:
    """How many people fill a tank: two where many containers are poured, each with a pump, or one with the hose.

    >>> fillers(20, 3), fillers(3, 3), fillers(20, 1)
    (2, 1, 1)
    """
    return 2 if containers >= MANY and able >= 2 else 1


def bagging(bags: int, able: int) -> int:
    """How many people bag fish: two where there is more than a handful, one to hold and one to close.

    >>> bagging(7, 2), bagging(2, 2), bagging(7, 1)
    (2, 1, 1)
    """
    return 2 if bags > HANDFUL and able >= 2 else 1


def side(carriers: int) -> int:
    """How many work side by side at one tank: two, where there are two; a third is in the way.

    >>> side(1), side(4)
    (1, 2)
    """
    return max(min(carriers, 2), 1)


def teardown(
    what: Handled, handling: Handling, flow: Estimate, carriers: int, carers: int
) -> dict[str, Estimate]:
    """Durations at the old place, by name.

    Parameters
    ----------
    handling : Handling
        Minutes a piece.
    flow : Estimate
        Flow of moved water. [l/min]
    carriers : int
        People who lift; two at most work side by side at rock and sand.
    carers : int
        People who handle animals side by side.
    """
    work = handling.work
    pair = side(carriers)
    crawling = what.count(*_invertebrates(what))
    old = what.system.equipment
    pieces, flowing = sum(item.count for item in old), sum(item.count for item in flow_and_warmth(old))
    return {
        "corals-out": together(work("job-setup", 1), work("coral-out", what.count(*CORALS), carers)),
        "rock-out": together(work("job-setup", 1), work("rock-out", what.system.rock_kg, pair)),
        "lower": together(work("job-setup", 1), moving_water(what.old.lowered_l, flow)),
        "catch": together(
            work("catch-setup", 1), *_catching(what, handling, 1 if carers < 2 else 1 / PAIR_GAIN)
        ),
        "invertebrates-out": together(
            work("job-setup", 1), work("invertebrate-out", crawling, side_by_side(crawling, carers))
        ),
        "seal": work("bag", max(what.bags, 1), bagging(what.bags, carers)),
        "strip": work("piece-off", max(pieces, 3), fitters(pieces, carriers)),
        "strip-lamps": work("piece-off", pieces - flowing if pieces else 1),
        "strip-pumps": work("piece-off", flowing or 2, fitters(flowing, carriers)),
        "drain": together(work("draw-setup", 1), moving_water(what.old.pool_l, flow)),
        "sand-out": together(work("job-setup", 1), work("sand-out", what.system.sand_kg, pair)),
        "tank-off": work("tank-off", 1),
    }


def _catching(what: Handled, handling: Handling, hands: float) -> list[Estimate]:
    return [
        handling.work(f"fish-{kind.catching}", count, hands)
        for _, kind, count in what.groups
        if kind.group in FISH and count
    ]


def _invertebrates(what: Handled) -> tuple[str, ...]:
    return tuple(
        dict.fromkeys(kind.group for _, kind, _ in what.groups if kind.group not in (*CORALS, *FISH))
    )


def rebuild(
    what: Handled,
    handling: Handling,
    flow: Estimate,
    carriers: int,
    carers: int,
    place: Place,
    policy: Policy,
) -> dict[str, Estimate]:
    """Durations at the new place, by name.

    Parameters
    ----------
    handling : Handling
        Minutes a piece.
    flow : Estimate
        Flow of moved water. [l/min]
    carriers : int
        People who lift; two at most work side by side at rock and sand.
    carers : int
        People who handle animals side by side.
    place : Place
        Where it will stand.
    """
    work = handling.work
    pair = side(carriers)
    rebuilt = what.rebuilt
    tubs, several = what.poured - what.cans, fillers(what.poured, carriers)
    fill = pouring(what.volumes.total.likely, tubs, handling, flow, several, what.cans)
    warm = warming(
        rebuilt,
        what.volumes.total.likely,
        what.heater_w,
        place,
        what.arrival or waiting_warm(rebuilt.temperature_c, place),
        policy,
    )
    return {
        "stand-on": work("stand-on", 1),
        "tank-on": work("tank-on", 1),
        "place": together(work("stand-on", 1), work("tank-on", 1)),
        "plumb": work("plumbing", 1 if rebuilt.sump_l else 0.3),
        "sand-in": together(work("job-setup", 1), work("sand-in", rebuilt.sand_kg)),
        "sand-rinse": together(work("job-setup", 1), work("sand-rinse", rebuilt.sand_kg)),
        "rock-in": together(work("job-setup", 1), work("rock-in", rebuilt.rock_kg, pair)),
        "fill": fill,
        "connect": work("piece-on", max(what.pieces, 3), fitters(what.pieces, carriers)),
        "connect-first": work("piece-on", what.first_pieces),
        "mount-rest": work("piece-on", what.later_pieces),
        "warm": warm,
        "corals-in": together(work("job-setup", 1), work("coral-rack", what.count(*CORALS), carers)),
        "corals-fixed": together(work("job-setup", 1), work("coral-in", what.count(*CORALS))),
    }
