"""How the water of a system that is taken down is shared out: into containers, into the drain, and what is lent."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.plan.systems import System
from moveplan.quantities.containers.tubs import Tubs, keeping

CATCH_DEPTH_M, CATCH_SHARE = 0.12, 0.25
"""Depth of water left for catching fish: at most, and over the depth of a low tank; common practice, no source.
[m], [-]"""
UNDRAWN_DEPTH_M = 0.05
"""Depth of water at the bottom that nobody keeps, for it is stirred up; common practice, no source. [m]"""


@dataclass(frozen=True, slots=True)
class OldWater:
    """The water of one system on the day on which it is taken down.

    Parameters
    ----------
    there_l : float
        All of it. [l]
    drawable_l : float
        What may be kept of it: all but what stands under the last five centimetres. [l]
    drawn_l : float
        What is drawn into containers. [l]
    lent_l : float
        New water that fills containers for which the old is too little. [l]
    lowered_l : float
        What is thrown away when it is lowered for the catch. [l]
    pool_l : float
        What is left then, and thrown away in the end. [l]
    """

    there_l: float
    drawable_l: float
    drawn_l: float
    lent_l: float
    lowered_l: float
    pool_l: float


def catch_depth_m(system: System) -> float:
    """Depth of water that is left for catching fish. [m]."""
    return max(min(CATCH_DEPTH_M, CATCH_SHARE * system.tank.water_height_m), UNDRAWN_DEPTH_M)


def drawable_l(system: System, there_l: float) -> float:
    """Water of a system that may be kept. [l]."""
    return max(there_l - 1000 * system.tank.inner_area_m2 * UNDRAWN_DEPTH_M, 0.0)


def share_out(
    system: System, there_l: float, tubs: Tubs, animals_l: float, wished_l: float, *, fish: bool
) -> tuple[OldWater, Tubs]:
    """Share the old water out: animals and what keeps rock damp first, then what is to be kept.

    Parameters
    ----------
    system : System
        As it stands before.
    there_l : float
        Its water. [l]
    tubs : Tubs
        What carries rock and media.
    animals_l : float
        What the containers of its animals take. [l]
    wished_l : float
        What is to go into the tank again. [l]
    fish : bool
        Whether fish are caught in what is left.

    Returns
    -------
    tuple of (OldWater, Tubs)
        Where it goes, and the tubs with those that keep some of it. [l]
    """
    depth_m = catch_depth_m(system) if fish else UNDRAWN_DEPTH_M
    pool_l = min(1000 * system.tank.inner_area_m2 * depth_m, there_l)
    most_l = there_l - pool_l
    used_l = animals_l + tubs.used_l
    tubs = keeping(tubs, min(max(most_l - used_l, 0.0), wished_l))
    drawn_l = min(used_l, most_l) + tubs.kept_l
    old = OldWater(
        there_l=there_l,
        drawable_l=drawable_l(system, there_l),
        drawn_l=drawn_l,
        lent_l=max(used_l - most_l, 0.0),
        lowered_l=max(there_l - drawn_l - pool_l, 0.0),
        pool_l=pool_l,
    )
    return old, tubs
