"""What the plan says about risks: entries of the register that it adds, changes or strikes."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class RiskChange:
    """One entry under ``risks:``; what is None or empty stays as the register has it.

    Parameters
    ----------
    id : str
        Id of an entry of the register, or a new one. [-]
    strike : bool
        Whether the entry is taken out. [-]
    event, trigger, response : str
        In words. [-]
    probability : float or None
        Chance, 0 to 1. [-]
    cost : Decimal or None
        What it costs if it happens, in the plan's currency. [-]
    delay_min : int or None
        How long it holds things up if it happens. [min]
    who : str
        Id of the person who answers it. [-]
    tasks : tuple of str
        Ids of the tasks it may strike; the delay falls on the first of them. [-]
    measures : tuple of str
        Ids of the entry's measures that are taken. [-]
    """

    id: str
    strike: bool = False
    event: str = ""
    trigger: str = ""
    response: str = ""
    probability: float | None = None
    cost: Decimal | None = None
    delay_min: int | None = None
    who: str = ""
    tasks: tuple[str, ...] = ()
    measures: tuple[str, ...] = ()
