"""How much time each lead task leaves before what needs it: what is wished, or less where that cannot be had."""

from __future__ import annotations

from moveplan.scheduling.state.model import Model, Rule

Margins = tuple[int, ...]
"""Margin asked for behind each task, by its position; empty: none of any. [min]"""


def wished(model: Model) -> Margins:
    """Give what every late task wishes; nothing for the others."""
    return tuple(job.task.margin_min if job.late else 0 for job in model.jobs)


def given_up(model: Model, margins: Margins) -> int:
    """Say how much of all wished margins is not asked for, rounded up so that 0 means nothing. [%].

    Parameters
    ----------
    margins : Margins
        What is asked for. [min]
    """
    whole = sum(wished(model))
    return -(-100 * (whole - sum(margins)) // whole) if whole else 0


def distance(rule: Rule, margins: Margins, together: bool) -> int:
    """Least distance that a rule asks for, the margin after a late task included.

    Parameters
    ----------
    margins : Margins
        What is asked for. [min]
    together : bool
        Whether both tasks stand in one block; no margin is asked for then.
    """
    tail, _, from_finish, _, gap = rule
    if not margins or together or not from_finish or gap < 0:
        return gap
    return max(gap, margins[tail])
