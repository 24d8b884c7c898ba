"""How fast water is moved on the moving day: drawn into tubs, poured in, pumped out."""

from __future__ import annotations

from moveplan.estimate import Estimate, Provenance
from moveplan.plan.supplies import GearItem
from moveplan.quantities.handling import Handling, together
from moveplan.quantities.policy import Policy
from moveplan.science.water.flow import pump_flow_l_h, siphon_flow_l_min
from moveplan.units import show_rounded

LIFT_HEAD_M = 1.0
"""Height that water is pumped up or falls on the moving day; assumed. [m]"""
PUMP_HEAD_M = 3.0
"""Greatest head of a transfer pump where the plan does not say; assumed. [m]"""
HOSE_M, LARGE_HOSE_M = (0.016, 4.0), (0.025, 4.0)
"""Bore and length of a siphon hose, and of the one for much water; assumed. [m]"""
MUCH_L = 600.0
"""Water from which nobody takes the thin hose; assumed. [l]"""


def water_flow(gear: tuple[GearItem, ...], litres: float, policy: Policy, hoses: int = 1) -> Estimate:
    """Flow with which water is moved on the moving day: the plan's transfer pumps, or a siphon.

    Parameters
    ----------
    gear : tuple of GearItem
        What there is.
    litres : float
        How much a tank holds. [l]
    policy : Policy
        How far salt rims, kinks and sediment cut a flow.
    hoses : int
        People who hold one, each with a pump of their own where there are as many.

    Returns
    -------
    Estimate
        [l/min]
    """
    pumps = [item for item in gear if item.kind == "pump" and item.flow_l_h > 0]
    if pumps:
        used = sorted((pump.flow_l_h for pump in pumps for _ in range(pump.count)), reverse=True)[:hoses]
        clean = sum(float(pump_flow_l_h(rated, PUMP_HEAD_M, LIFT_HEAD_M)) for rated in used) / 60
        each = " and one of ".join(f"{show_rounded(rated)} l/h" for rated in used)
        how = f"a pump of {each} against {LIFT_HEAD_M:g} m (greatest head {PUMP_HEAD_M:g} m assumed)"
        source = "straight pump curve, the cautious form"
    else:
        bore_m, length_m = HOSE_M if litres < MUCH_L else LARGE_HOSE_M
        clean = float(siphon_flow_l_min(bore_m, length_m, LIFT_HEAD_M))
        how = f"a siphon hose of {1000 * bore_m:.0f} mm and {length_m:g} m, {LIFT_HEAD_M:g} m fall"
        source = "Darcy-Weisbach with Blasius friction"
    fouling = policy["siphon_practice_factor"]
    basis = f"{how}; salt rims, kinks and sediment cut it by {fouling:g} (common practice)"
    return Estimate(
        clean / (1.4 * fouling), clean / fouling, clean, "l/min", basis, Provenance.COMPUTED, source
    )


def moving_water(litres: float, flow: Estimate) -> Estimate:
    """Time to move so much water at that flow, in minutes."""
    return Estimate(
        litres / flow.high,
        litres / flow.likely,
        litres / flow.low,
        "min",
        f"{litres:.0f} l at {flow.likely:.0f} l/min",
        Provenance.COMPUTED,
        flow.source,
        (("flow", flow),),
    )


def pouring(
    litres: float, tubs: int, handling: Handling, flow: Estimate, hands: int = 1, cans: int = 0
) -> Estimate:
    """Time to move water between a tank and so many containers, in minutes.

    Hands are quick with more of them, the pump is not.

    Parameters
    ----------
    litres : float
        Water. [l]
    tubs : int
        Tubs that are filled or emptied.
    handling : Handling
        Minutes a piece.
    flow : Estimate
        Flow of moved water. [l/min]
    hands : int
        People: with two, one holds the hose and one brings the containers.
    cans : int
        Cans that are filled or emptied.
    """
    work = handling.work
    parts = [work("draw-setup", 1, hands), moving_water(litres, flow)]
    counts = (("tub-hose", tubs), ("can-hose", cans))
    return together(*parts, *(work(name, count, hands) for name, count in counts if count))
