"""A length that every network without hard dates fits into, if it can be done at all."""

from __future__ import annotations

from moveplan.network.graph import Network


def safe_length_min(network: Network, start: int = 0) -> int:
    """Minutes from the start within which everything can be over, if there is any schedule.

    Parameters
    ----------
    network : Network
        Tasks that run round the clock.
    start : int
        When everything starts, on the axis of the hard dates. [min]

    Returns
    -------
    int
        The latest not-before, and after it each task with the longest least gap that leaves it, one after the
        other. [min]

    Notes
    -----
    In a schedule that is as early as it can be, each moment is covered by a task under way or by a least gap
    that somebody waits for; each of them is counted once. The usual bound for greatest gaps as well
    (Bartusch, Moehring and Radermacher 1988, Annals of Operations Research 16, 201-240; recalled).
    """
    longest = {task.id: task.minutes for task in network.tasks}
    minutes = dict(longest)
    for link in network.links:
        if link.min_gap_min is not None:
            before = minutes[link.before] if link.relation.from_finish else 0
            after = minutes[link.after] if link.relation.to_finish else 0
            longest[link.before] = max(longest[link.before], before + link.min_gap_min - after)
        if link.max_gap_min is not None and link.max_gap_min < 0:
            longest[link.after] = max(longest[link.after], minutes[link.after] - link.max_gap_min)
    dates = [task.not_before - start for task in network.tasks if task.not_before is not None]
    return max([0, *dates]) + sum(longest.values())
