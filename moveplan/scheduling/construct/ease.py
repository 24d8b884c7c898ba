"""Asks for less margin where an attempt got stuck: along the chain of lead tasks that pushed it too late."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from moveplan.scheduling.construct.serial import Scheme
from moveplan.scheduling.state.margins import Margins

_KEPT = 2 / 3
"""Share of a margin that is kept when it has to give. [-]"""
_LEAST_MIN = 15
"""A margin of less gives way altogether. [min]"""


def eased(scheme: Scheme, stuck: Sequence[int], whole_chain: bool) -> Margins:
    """Give up some of the margin on the chain that leads to a block which found no place.

    The greatest has most to give: a month of wished lead time gives way before the day that a wait may last longer.
    Margins elsewhere stay as they are: a chain that lacks a week says nothing of the others.

    Parameters
    ----------
    scheme : Scheme
        An attempt, as far as it came.
    stuck : sequence of int
        Tasks of the block that could not be placed.
    whole_chain : bool
        Whether all on the chain give their share at once, which is coarser and sooner done; else the greatest.

    Returns
    -------
    Margins
        Less than before; where no margin is on the chain, of all that there are. [min]
    """
    margins = scheme.attempt.margins
    chain = [at for at in _chain(scheme, stuck) if margins[at] > 0] or range(len(margins))
    giving = set(chain) if whole_chain else {max(chain, key=lambda at: (margins[at], -at))}
    return tuple(_less(margin) if at in giving else margin for at, margin in enumerate(margins))


def _less(margin_min: int) -> int:
    less = int(margin_min * _KEPT)
    return less if less >= _LEAST_MIN else 0


def _chain(scheme: Scheme, stuck: Sequence[int]) -> Iterator[int]:
    """Walk back from the task of a block that is pushed farthest, each time to what pushes most."""
    block: Sequence[int] = stuck
    while pushes := [push for at in block if (push := _push(scheme, at)) is not None]:
        at = max(pushes)[1]
        yield at
        block = scheme.frame.blocks[scheme.frame.block_of[at]]


def _push(scheme: Scheme, position: int) -> tuple[int, int] | None:
    """By how much the task before it, which pushes most, makes a task later than dates alone; and which it is."""
    early = scheme.model.problem.start + (scheme.attempt.early or scheme.frame.early)[position]
    found: tuple[int, int] | None = None
    for rule in scheme.model.into[position]:
        spot = scheme.desk.spots[rule[0]]
        if spot is None or scheme.frame.block_of[rule[0]] == scheme.frame.block_of[position]:
            continue
        least = scheme.distance_of(rule)
        push = (spot.finish if rule[2] else spot.start) + least - early
        if rule[3]:
            push -= scheme.model.jobs[position].span.least
        if push > 0 and (found is None or push > found[0]):
            found = push, rule[0]
    return found
