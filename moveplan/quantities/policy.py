"""Limits and defaults as this plan has them: the table's, or what the plan overrides."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.science.limits import limits


@dataclass(frozen=True, slots=True)
class Policy:
    """Looks limits up.

    Parameters
    ----------
    overrides : Mapping of str to float
        What the plan sets, by name.
    """

    overrides: Mapping[str, float]

    def __getitem__(self, name: str) -> float:
        """Value of a limit, in the unit of the table."""
        return self.overrides.get(name, limits()[name].value)
