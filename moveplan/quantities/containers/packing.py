"""The containers that were chosen for one group of animals."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.quantities.containers.means import Spec
from moveplan.quantities.safe_time.boxes import Box
from moveplan.quantities.safe_time.safe_time import SafeTime


@dataclass(frozen=True, slots=True)
class Packing:
    """The containers of one group of animals.

    Parameters
    ----------
    spec : Spec
        What kind of container, and whose.
    count : int
        How many, shared ones counted once.
    label : str
        In words, such as ``2 × 12 l bag``.
    box : Box
        One of them, with its water, gas, air and wrap.
    racked : bool
        Whether they are the racked tubs of the corals.
    shares_with : tuple of str
        Ids of other groups in the same containers.
    safe : SafeTime
        How long the group is safe in them.
    waiting : Packing or None
        Of what is bagged just before loading: where it waits from the catch until then.
    """

    spec: Spec
    count: int
    label: str
    box: Box
    racked: bool
    shares_with: tuple[str, ...]
    safe: SafeTime
    waiting: Packing | None = None

    @property
    def gear(self) -> str:
        """Kind of container: ``tub``, ``pail`` or ``bag``."""
        return self.spec.kind

    @property
    def water_l(self) -> float:
        """Water in one of them. [l]."""
        return self.box.water_l

    @property
    def bagged(self) -> bool:
        """Whether each animal travels in a closed bag."""
        return self.spec.kind == "bag"
