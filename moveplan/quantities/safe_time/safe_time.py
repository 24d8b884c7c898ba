"""How long a group of animals is safe in its container, and what ends it."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.estimate import Estimate


@dataclass(frozen=True, slots=True)
class SafeTime:
    """The safe time of one group in one container.

    Parameters
    ----------
    estimate : Estimate
        Low, likely and high. [min]
    limited_by : str
        ``oxygen``, ``ammonia``, ``carbon-dioxide``, ``temperature`` or ``policy``.
    extends : tuple of str
        What would make it longer, each tried with the model, as a sentence.
    unpacking : str
        How to open the container, where it matters; empty otherwise.
    in_vehicle_min : float
        Low end where it stays in the vehicle once it is there. [min]
    before_min : float
        Of that, in the room before. [min]
    """

    estimate: Estimate
    limited_by: str
    extends: tuple[str, ...] = ()
    unpacking: str = ""
    in_vehicle_min: float = 0.0
    before_min: float = 0.0
