"""Early and late dates, floats and drivers of a scheduled network."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Times:
    """The room that a scheduled task has.

    Parameters
    ----------
    early_start, early_finish, late_start, late_finish : int
        UTC. [min]
    total_float_min, free_float_min : int
        Elapsed. [min]
    critical : bool
        Whether its float is the least of all tasks before the same milestone. [-]
    driver : str
        What keeps it from being earlier: a link, a resource or a date, in words. [-]
    effect : int
        By how many minutes one minute more here moves the finish: 1, 0 or -1. [min]
    """

    early_start: int
    early_finish: int
    late_start: int
    late_finish: int
    total_float_min: int
    free_float_min: int
    critical: bool
    driver: str
    effect: int
