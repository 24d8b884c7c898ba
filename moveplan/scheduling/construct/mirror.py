"""The same problem seen from its end: a schedule pushed to the right, and back to the left, grows shorter.

Forward and backward passes in turn are the usual way to improve a serial schedule (Li and Willis 1992, European
Journal of Operational Research 56, 370-379; recalled). The backward pass is the forward one on the mirrored problem.
"""

from __future__ import annotations

from dataclasses import replace

from moveplan.network.link import Link, Relation
from moveplan.scheduling.construct.serial import Attempt, Scheme
from moveplan.scheduling.effort import Meter
from moveplan.scheduling.state.desk import Desk
from moveplan.scheduling.state.frame import Frame, frame_of
from moveplan.scheduling.state.model import model_of

_FLIPPED = {
    Relation.FINISHTOSTART: Relation.FINISHTOSTART,
    Relation.STARTTOSTART: Relation.FINISHTOFINISH,
    Relation.FINISHTOFINISH: Relation.STARTTOSTART,
    Relation.STARTTOFINISH: Relation.STARTTOFINISH,
}
_ROUNDS = 3
"""Times a schedule is turned round. Chosen. [-]"""


def mirrored(frame: Frame) -> Frame | None:
    """Turn a problem around; None where it knows hours, dates or days, which have a direction.

    Returns
    -------
    Frame or None
        The same tasks with every link turned around.
    """
    problem = frame.model.problem
    directed = problem.people or problem.vehicles or problem.network.holds or problem.grid_min != 1
    if directed or not frame.model.only_finish or any(map(_dated, problem.network.tasks)):
        return None
    links = tuple(_turned(link) for link in problem.network.links)
    return frame_of(model_of(replace(problem, network=replace(problem.network, links=links))))


def _dated(task: object) -> bool:
    fields = ("not_before", "finish_by", "due", "repeats", "crew")
    return bool(getattr(task, "day", "")) or any(getattr(task, name) is not None for name in fields)


def _turned(link: Link) -> Link:
    return replace(link, before=link.after, after=link.before, relation=_FLIPPED[link.relation])


def pushed(frame: Frame, other: Frame, desk: Desk, meter: Meter) -> list[Scheme]:
    """Push a schedule to the right and to the left in turn, as long as it grows shorter.

    Parameters
    ----------
    frame, other : Frame
        The problem, and the mirrored one.

    Returns
    -------
    list of Scheme
        Complete schedules, each shorter than the one before.
    """
    better: list[Scheme] = []
    length = _length(desk)
    for _ in range(_ROUNDS):
        right = Scheme(other, Attempt(_last_first(desk)), meter)
        if right.run().stuck:
            break
        left = Scheme(frame, Attempt(_last_first(right.desk)), meter)
        if left.run().stuck or _length(left.desk) >= length:
            break
        better.append(left)
        desk, length = left.desk, _length(left.desk)
    return better


def _last_first(desk: Desk) -> tuple[float, ...]:
    return tuple(-float(spot.finish) for spot in desk.spots if spot is not None)


def _length(desk: Desk) -> int:
    return max((spot.finish for spot in desk.spots if spot is not None), default=0)
