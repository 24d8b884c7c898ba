"""Water: how much old water is kept, how much new water is made, with how much purified water and salt."""

from __future__ import annotations

from dataclasses import dataclass, replace

from moveplan.estimate import Estimate, Provenance, exactly
from moveplan.plan.move import Plan
from moveplan.plan.supplies import WaterMaking
from moveplan.plan.systems import System
from moveplan.quantities.course import Leg
from moveplan.science.water.purified import osmotic_pressure_bar, permeate_flow_l_h
from moveplan.science.water.salt import dissolved_salt_kg, dry_mix_kg, fresh_water_kg
from moveplan.units import show_rounded

SPARE_SPREAD = (0.75, 1.0, 1.5)
"""Spare mixed salt water on the day, over what is planned for; assumed. [-]"""
LOST_SHARE = (0.02, 0.05, 0.12)
"""Purified water lost to flushing, spilling and dead volume; assumed. [-]"""
MOISTURE_SPREAD = (0.03, 0.03)
"""How far the moisture of a dry mix lies below and above the stated one; assumed. [-]"""
FEED_TDS_MG_L = 250.0
"""Dissolved solids of tap water; assumed, read yours. [mg/l]"""
READY_MIXED = "salt water is bought ready-mixed"
NO_MAKING = WaterMaking(0.0, 4.14, 3.5, 15.0, 3.0, 0.0, 0.06)
"""Where the plan makes no water of its own."""
BEST_SUPPLY = 1.05
"""Real over computed output of a membrane at best; assumed. [-]"""


@dataclass(frozen=True, slots=True)
class Water:
    """The water of the move.

    Parameters
    ----------
    kept, new, spare, more, purified : Estimate
        Litres of old water kept, new salt water to fill up with, spare salt water, salt water for changes and for
        what else the move takes, and purified water for all of them. [l]
    salt : Estimate
        Dry mix. [kg]
    """

    kept: Estimate
    new: Estimate
    spare: Estimate
    more: Estimate
    purified: Estimate
    salt: Estimate

    @property
    def mixed_l(self) -> float:
        """Salt water that is mixed in all. [l]."""
        return self.new.likely + self.spare.likely + self.more.likely


def making_of(plan: Plan) -> WaterMaking:
    """Tell how purified water comes about; a unit without output where the plan has none."""
    return plan.water_making or NO_MAKING


def making_for(plan: Plan, leg: Leg) -> WaterMaking:
    """Tell how the water of one leg comes about: bought ready-mixed only for tanks that are filled on the day.

    What goes into a tank weeks before, and what is changed in it until then, is mixed as it is wanted.
    """
    making = making_of(plan)
    ahead = any(shift.standing for shift in leg.shifts)
    return replace(making, ready_mixed=bool(making.ready_mixed) and not ahead)


def proposed_share(system: System) -> tuple[float, str]:
    """Share of the old water worth keeping on a move of one day, and why.

    Parameters
    ----------
    system : System
        Its nitrate and its sand decide.
    """
    nitrate = f"nitrate of {show_rounded(system.nitrate_mg_l)} mg/l"
    if system.nitrate_mg_l <= 10:
        return 0.6, f"{nitrate} is low, and matched water spares the animals"
    if system.nitrate_mg_l <= 40:
        return 0.4, f"{nitrate} is worth thinning out"
    return 0.25, f"{nitrate}: the move is the moment to renew most of the water"


def water_of(
    system: System,
    total: Estimate,
    kept_l: float,
    why_kept: str,
    making: WaterMaking,
    more: tuple[tuple[str, float], ...] = (),
    spare_share: float = 0.2,
) -> Water:
    """Work out the water of one system's move.

    Parameters
    ----------
    system : System
        Its salinity and temperature count.
    total : Estimate
        Water of the system that is to be filled. [l]
    kept_l : float
        Old water that travels. [l]
    why_kept : str
        Basis of that number.
    making : WaterMaking
        How purified water comes about.
    more : tuple of (str, float)
        What else takes salt water, and how much. [l]
    spare_share : float
        Spare salt water over the water of the system.
    """
    kept = Estimate(kept_l, kept_l, kept_l, "l", why_kept, Provenance.COMPUTED, "common practice, no source")
    new = Estimate(
        max(total.low - kept_l, 0.0),
        max(total.likely - kept_l, 0.0),
        max(total.high - kept_l, 0.0),
        "l",
        f"{total.likely:.0f} l of system water less {kept_l:.0f} l kept",
        Provenance.COMPUTED,
        "",
        (("system water", total), ("kept", kept)),
    )
    low, likely, high = (spread * spare_share * total.likely for spread in SPARE_SPREAD)
    spare = Estimate(
        low,
        likely,
        high,
        "l",
        f"{spare_share:.0%} of {total.likely:.0f} l, for leaks and spills",
        Provenance.ASSUMED,
        "common practice, no source",
    )
    litres = sum(part for _, part in more)
    listed = (
        ", ".join(f"{part:.0f} l {what}" for what, part in more if part) or "nothing else takes salt water"
    )
    extra = Estimate(litres, litres, litres, "l", listed, Provenance.COMPUTED)
    parts = (new, spare, extra)
    if making.ready_mixed:
        none_l, none_kg = exactly(0.0, "l", READY_MIXED), exactly(0.0, "kg", READY_MIXED)
        return Water(kept, new, spare, extra, none_l, none_kg)
    return Water(kept, new, spare, extra, _purified(system, parts), _salt(system, parts, making))


def _mixed(parts: tuple[Estimate, ...]) -> tuple[float, float, float]:
    return (
        sum(part.low for part in parts),
        sum(part.likely for part in parts),
        sum(part.high for part in parts),
    )


_PARTS = ("new", "spare", "more")


def _inputs(parts: tuple[Estimate, ...]) -> tuple[tuple[str, Estimate], ...]:
    return tuple(
        (name, part) for name, part in zip(_PARTS, parts, strict=True) if part.likely or name != "more"
    )


def mixed_of(system: System, litres: float, making: WaterMaking) -> tuple[Estimate, Estimate]:
    """Purified water and dry mix in so much salt water. [l], [kg].

    Parameters
    ----------
    system : System
        Its salinity and temperature count.
    litres : float
        Salt water. [l]
    making : WaterMaking
        Moisture of the dry mix.
    """
    new, none = (exactly(one, "l", "salt water that is mixed") for one in (litres, 0.0))
    parts = (new, none, none)
    return _purified(system, parts), _salt(system, parts, making)


def _purified(system: System, parts: tuple[Estimate, ...]) -> Estimate:
    mixed = _mixed(parts)
    low, likely, high = (
        float(fresh_water_kg(litres, system.temperature_c, system.salinity_psu)) / 0.9970 * (1 + lost)
        if litres
        else 0.0
        for litres, lost in zip(mixed, LOST_SHARE, strict=True)
    )
    return Estimate(
        low,
        likely,
        high,
        "l",
        f"fresh water in {mixed[1]:.0f} l of salt water, and {LOST_SHARE[1]:.0%} lost on the way",
        Provenance.COMPUTED,
        "mass balance with TEOS-10 density",
        _inputs(parts),
    )


def _salt(system: System, parts: tuple[Estimate, ...], making: WaterMaking) -> Estimate:
    mixed = _mixed(parts)
    below, above = MOISTURE_SPREAD
    moisture = (max(making.salt_moisture - below, 0.0), making.salt_moisture, making.salt_moisture + above)
    low, likely, high = (
        float(dry_mix_kg(dissolved_salt_kg(litres, system.temperature_c, system.salinity_psu), water))
        if litres
        else 0.0
        for litres, water in zip(mixed, moisture, strict=True)
    )
    return Estimate(
        low,
        likely,
        high,
        "kg",
        f"{mixed[1]:.0f} l at salinity {system.salinity_psu:g} from a mix with {making.salt_moisture:.0%} moisture",
        Provenance.COMPUTED,
        "mass balance with TEOS-10 density; moisture range assumed, trim by measurement",
        _inputs(parts),
    )


def summed(waters: tuple[Water, ...]) -> Water:
    """Add up the water of several systems."""
    if len(waters) == 1:
        return waters[0]
    return Water(*(_total(waters, name) for name in ("kept", "new", "spare", "more", "purified", "salt")))


def _total(waters: tuple[Water, ...], name: str) -> Estimate:
    parts: list[Estimate] = [getattr(water, name) for water in waters]
    return Estimate(
        sum(part.low for part in parts),
        sum(part.likely for part in parts),
        sum(part.high for part in parts),
        parts[0].unit,
        f"{len(parts)} systems together",
        Provenance.COMPUTED,
        "",
        tuple((f"system {number}", part) for number, part in enumerate(parts, 1)),
    )


def flow_of(making: WaterMaking) -> float:
    """Purified water that the unit makes in an hour at its supply; 0 where there is none. [l/h]."""
    if making.rate_l_day <= 0:
        return 0.0
    return float(
        permeate_flow_l_h(
            making.rate_l_day,
            making.rated_pressure_bar,
            making.water_temperature_c,
            making.feed_pressure_bar,
            float(osmotic_pressure_bar(FEED_TDS_MG_L)),
        )
    )


def production_time(purified: Estimate, making: WaterMaking, margin: float) -> Estimate:
    """Time to make purified water at the temperature and pressure of the supply.

    Parameters
    ----------
    purified : Estimate
        How much. [l]
    making : WaterMaking
        The unit and its supply.
    margin : float
        Extra time at worst, for an aged or fouled membrane.

    Returns
    -------
    Estimate
        [min]
    """
    flow_l_h = flow_of(making)
    return Estimate(
        60 * purified.low / (flow_l_h * BEST_SUPPLY),
        60 * purified.likely / flow_l_h,
        60 * purified.high / flow_l_h * (1 + margin),
        "min",
        f"{purified.likely:.0f} l at {24 * flow_l_h:.0f} l/day (rated {show_rounded(making.rate_l_day)} l/day; supply "
        f"at {show_rounded(making.water_temperature_c)} °C and {show_rounded(making.feed_pressure_bar)} bar)",
        Provenance.COMPUTED,
        "membrane makers' temperature correction, recalled; spread for fouling assumed",
        (("purified water", purified),),
    )
