"""The containers of one group of animals."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.quantities.safe_time import SafeTime


@dataclass(frozen=True, slots=True)
class Packing:
    """The containers of one group of animals.

    Parameters
    ----------
    gear : str
        ``bag``, ``box`` or ``tub``. [-]
    count : int
        How many containers. [-]
    label : str
        In words, such as ``2 × 12 l bag``. [-]
    water_l, gas_l : float
        In one container. [l]
    aerated : bool
        Whether a battery pump runs in it. [-]
    oxygen : bool
        Whether the gas is pure oxygen. [-]
    wrapped : bool
        Whether the tub is wrapped in foam mats. [-]
    racked : bool
        Whether they are the racked tubs of the corals. [-]
    shares_with : tuple of str
        Ids of other groups in the same containers. [-]
    safe : SafeTime
        How long the group is safe in them. [-]
    """

    gear: str
    count: int
    label: str
    water_l: float
    gas_l: float
    aerated: bool
    oxygen: bool
    wrapped: bool
    racked: bool
    shares_with: tuple[str, ...]
    safe: SafeTime
