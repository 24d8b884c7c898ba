"""How long each piece of work on a system takes, from what has to be handled, pumped, warmed and carried."""

from __future__ import annotations

from dataclasses import dataclass, replace

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.livestock import Livestock
from moveplan.plan.places import Place
from moveplan.plan.systems import Equipment, System
from moveplan.quantities.handling import Handling, together
from moveplan.quantities.trade_groups import CORALS, FISH
from moveplan.quantities.water.arriving import Arrival, waiting_warm
from moveplan.quantities.water.old_water import OldWater
from moveplan.quantities.water.pouring import moving_water, pouring
from moveplan.quantities.water.volumes import Masses, Volumes
from moveplan.science.heat import heating_time_with_loss_h, time_constant_h
from moveplan.science.livestock import Kind
from moveplan.units import show_rounded

COVERED = 1 / 3
"""Share of its water at which spare heaters that lie low in a tank are covered; common practice, no source. [-]"""
STEADY_MIN = (10.0, 15.0, 20.0)
"""Warm or not: a thermometer has to stand still for a while; common practice, no source. [min]"""
LOSS_W_M2_K = 7.14
"""Heat loss through 10 mm glass, ISO 6946 form with handbook conductivity, recalled. [W/(m² K)]"""
SPARE_HEATER_W = 200.0
"""A spare heater that has to be bought; assumed. [W]"""
SPARE_HEATERS = 2
"""Fewest spare heaters on the day; common practice, no source. [-]"""
COOLING_MIN = (30.0, 60.0, 120.0)
"""Ice bottles and a fan cool a tank that arrived too warm; common practice, no source. [min]"""
JOINED_K = 1.0
"""Warmer than it should by less, a tank is left alone; common practice, no source. [K]"""
MANY = 12
"""Animals or pieces from which a second pair of hands is worth its way; assumed. [-]"""
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
    cans : int
        Those of them that are cans.
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
    def spare_share(self) -> float:
        """Part of the power of all heaters that spare ones have: they lie in the tank while it is filled. [-]."""
        own_w = sum(item.count * item.power_w for item in self.rebuilt.equipment if item.kind == "heater")
        return max(self.heater_w - own_w, 0.0) / self.heater_w if self.heater_w else 0.0

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
    """How many people fill a tank: two where many containers are poured, one with the hose and one who brings them.

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
    what : Handled
        What has to be handled.
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
    what: Handled, handling: Handling, flow: Estimate, carriers: int, carers: int, place: Place
) -> dict[str, Estimate]:
    """Durations at the new place, by name.

    Parameters
    ----------
    what : Handled
        What has to be handled.
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
        what.arrival or waiting_warm(rebuilt.temperature_c),
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
        "warm-rest": warmed_while_filled(warm, fill, what.spare_share),
        "corals-in": together(work("job-setup", 1), work("coral-rack", what.count(*CORALS), carers)),
        "corals-fixed": together(work("job-setup", 1), work("coral-in", what.count(*CORALS))),
    }


def warmed_while_filled(warm: Estimate, fill: Estimate, spare_share: float) -> Estimate:
    """Time to warm a tank once it is full, where spare heaters have lain in it since the water covered them.

    Parameters
    ----------
    warm : Estimate
        Time to warm it with all heaters, from full on. [min]
    fill : Estimate
        Time to fill it. [min]
    spare_share : float
        Part of the power that the spare heaters have.

    Examples
    --------
    >>> warm, fill = Estimate(30, 45, 110, "min", "45 min"), Estimate(24, 36, 60, "min", "36 min")
    >>> rest = warmed_while_filled(warm, fill, 0.5)
    >>> rest.low, rest.likely, rest.high
    (22.0, 33.0, 98.0)
    """
    early_min = (1 - COVERED) * spare_share
    low, likely, high = sorted(
        max(time - early_min * filled, steady) if time else time
        for time, filled, steady in zip(
            (warm.low, warm.likely, warm.high), (fill.low, fill.likely, fill.likely), STEADY_MIN, strict=True
        )
    )
    basis = f"{warm.basis}; the spare heaters ran for {early_min * fill.likely:.0f} min of that while it was filled"
    return replace(warm, low=low, likely=likely, high=high, basis=basis if early_min else warm.basis)


def surface_m2(system: System) -> float:
    """Glass and water surface through which a tank loses heat. [m²]."""
    tank = system.tank
    sides = 2 * (tank.length_m + tank.width_m) * tank.water_height_m
    return sides + 2 * tank.length_m * tank.width_m


def warming(system: System, litres: float, heater_w: float, place: Place, arrival: Arrival) -> Estimate:
    """Time to bring a refilled system to its temperature, losses to the room included.

    Parameters
    ----------
    system : System
        The system as it will stand.
    litres : float
        Its water. [l]
    heater_w : float
        Heaters, the spare ones included. [W]
    place : Place
        Where it stands: its coldest room air counts.
    arrival : Arrival
        How warm it stands once it is filled; what is too warm is never heated.
    """
    loss = LOSS_W_M2_K * surface_m2(system)
    target = system.temperature_c
    constant = time_constant_h(litres, loss, target, system.salinity_psu)
    starts = (arrival.high_c, arrival.likely_c, arrival.low_c)

    def minutes(start_c: float, cooling_min: float) -> float:
        if start_c > target:
            return cooling_min if start_c > target + JOINED_K else 0.0
        hours = heating_time_with_loss_h(start_c, target, heater_w, loss, place.room_temperature_c, constant)
        return 60 * min(float(hours), 48.0)

    low, likely, high = sorted(map(minutes, starts, COOLING_MIN))
    way = "cooled by ice bottles and a fan, never heated," if starts[1] > target + JOINED_K else ""
    basis = (
        f"{litres:.0f} l {way or 'brought'} from {starts[1]:.1f} °C to {target:.1f} °C "
        f"with {heater_w:.0f} W of heaters, "
        f"losing {loss:.0f} W/K to a room at {show_rounded(place.room_temperature_c)} °C; filled, it stands at "
        f"{arrival.low_c:.1f} to {arrival.high_c:.1f} °C"
    )
    source = "first-order heating with loss; TEOS-10 heat capacity"
    return Estimate(low, likely, high, "min", basis, Provenance.COMPUTED, source)
