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
        ``oxygen``, ``ammonia``, ``carbon-dioxide``, ``temperature`` or ``policy``. [-]
    extends : tuple of str
        What would make it longer, each tried with the model, as a sentence. [-]
    unpacking : str
        How to open the container, where it matters; empty otherwise. [-]
    """

    estimate: Estimate
    limited_by: str
    extends: tuple[str, ...] = ()
    unpacking: str = ""
