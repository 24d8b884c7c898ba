"""Room behind waits: what a parcel, a filter or a membrane may take longer is planned behind it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from moveplan.network.link import Link, Relation
from moveplan.network.reach import reached
from moveplan.network.task import Kind, Task, Timing
from moveplan.practice.drafting.chains import spread_beyond_likely_min

_GRID = 5
"""Waits are rounded up to this. Chosen. [min]"""


def with_cushions(tasks: Mapping[str, Task], links: Sequence[Link], gates: Sequence[str]) -> dict[str, Task]:
    """Give the waits before a decision the margin that their spread asks for.

    A wait begins when what it waits for is done, so a margin between the two would be no margin: it is moved behind
    the wait, and is at least what the wait takes longer in nine of ten cases (its P90 less its likely length).

    Parameters
    ----------
    gates : sequence of str
        Tasks by which the waits have to be over.

    Returns
    -------
    dict of str to Task
        In the same order.
    """
    before = _before(links, gates)
    waits = {one.id for one in tasks.values() if one.id in before and one.kind is Kind.WAIT and not one.day}
    wished = {one: max(_cushion(tasks[one]), tasks[one].margin_min) for one in waits}
    emptied = set()
    for link in links:
        if link.after in waits and link.relation is Relation.FINISHTOSTART and link.before in tasks:
            lead = tasks[link.before]
            if lead.timing is Timing.LATE and lead.id not in waits:
                wished[link.after] = max(wished[link.after], lead.margin_min)
                emptied.add(lead.id)
    return {
        one.id: replace(one, timing=Timing.LATE, margin_min=wished[one.id])
        if one.id in waits
        else replace(one, margin_min=0)
        if one.id in emptied
        else one
        for one in tasks.values()
    }


def _cushion(wait: Task) -> int:
    return -int(-spread_beyond_likely_min([wait.estimate]) // _GRID) * _GRID


def _before(links: Sequence[Link], gates: Sequence[str]) -> set[str]:
    """List the tasks from which a gate can be reached."""
    into: dict[str, list[str]] = {}
    for link in links:
        into.setdefault(link.after, []).append(link.before)
    return {*gates, *reached(gates, lambda one: into.get(one, ()))}
