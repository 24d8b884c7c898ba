"""What the plan says about risks: entries of the register that it adds, changes or strikes."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class PossibleMeasure:
    """Something the keeper could buy or do beforehand; what is None or empty stays as the register has it.

    Parameters
    ----------
    id, text : str
        Identity and words.
    cost : Decimal or None
        What it costs, in the plan's currency.
    probability_left, cost_left, delay_left : float or None
        What is left of chance, cost and delay of the risk, 0 to 1.
    """

    id: str
    text: str = ""
    cost: Decimal | None = None
    probability_left: float | None = None
    cost_left: float | None = None
    delay_left: float | None = None


@dataclass(frozen=True, slots=True)
class RiskChange:
    """One entry under ``risks:``; what is None or empty stays as the register has it.

    Parameters
    ----------
    id : str
        Id of an entry of the register, or a new one.
    strike : bool
        Whether the entry is taken out.
    event, trigger, response : str
        In words.
    probability : float or None
        Chance, 0 to 1.
    cost : Decimal or None
        What it costs if it happens, in the plan's currency.
    delay_min : int or None
        How long it holds things up if it happens. [min]
    who : str
        Id of the person who answers it.
    tasks : tuple of str
        Ids of the tasks it may strike; the delay falls on the first of them.
    measures : tuple of str
        Ids of the entry's measures that are taken.
    possible_measures : tuple of PossibleMeasure
        What could be done beforehand: measures of the register with other figures, or new ones.
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
    possible_measures: tuple[PossibleMeasure, ...] = ()
