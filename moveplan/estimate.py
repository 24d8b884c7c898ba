"""A number that explains itself: low, likely, high, how it came about, and whose word it is."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum


class Provenance(StrEnum):
    """Whose word a number is."""

    GIVEN = "given"
    COMPUTED = "computed"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True)
class Estimate:
    """A quantity with its spread and its reasons.

    Parameters
    ----------
    low, likely, high : float
        ``low <= likely <= high``, in ``unit``.
    unit : str
        Unit as shown to people, such as ``l`` or ``min``.
    basis : str
        One sentence that says how the number came about.
    provenance : Provenance
        Given by the keeper, computed from a formula, or assumed.
    source : str
        The published source of the formula, or ``common practice, no source``.
    inputs : tuple of (str, Estimate)
        Named estimates that this one was computed from; the chain that ``why`` prints.
    """

    low: float
    likely: float
    high: float
    unit: str
    basis: str
    provenance: Provenance = Provenance.COMPUTED
    source: str = ""
    inputs: tuple[tuple[str, Estimate], ...] = field(default=(), repr=False)

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            msg = f"an estimate needs low <= likely <= high, not {self.low}, {self.likely}, {self.high}"
            raise ValueError(msg)


def exactly(
    value: float, unit: str, basis: str, provenance: Provenance = Provenance.GIVEN, source: str = ""
) -> Estimate:
    """Give a number without spread.

    >>> exactly(35.0, "psu", "plan file").high
    35.0
    """
    return Estimate(value, value, value, unit, basis, provenance, source)
