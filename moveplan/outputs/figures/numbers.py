"""Where numbers stand in a picture: beside what they number, with no line through them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

_FIGURE_PX, _LINE_PX, _FOOT_PX = 8.0, 12.0, 2.5
"""Of a number 12 px high: width of a figure in a wide typeface, height of a line, and room below the figures. [px]"""
_CLEAR_PX = 1.0
"""Room between a line and the number that it is broken for. Chosen. [px]"""


@dataclass(frozen=True, slots=True)
class Box:
    """What something takes of a picture. [px]."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def base(self) -> float:
        """Where the figures of a number stand. [px]."""
        return round(self.bottom - _FOOT_PX, 1)

    def meets(self, other: Box) -> bool:
        """Whether both share more than an edge."""
        across = min(self.right, other.right) - max(self.left, other.left)
        return across > 0 and min(self.bottom, other.bottom) > max(self.top, other.top)


def number_box(number: int, left: float, top: float) -> Box:
    """Give what a number takes.

    Parameters
    ----------
    number : int
        What is written.
    left, top : float
        Where it begins. [px]
    """
    return Box(left, top, left + _FIGURE_PX * len(str(number)), top + _LINE_PX)


def lowered(box: Box, taken: Sequence[Box]) -> Box:
    """Move a box down until it meets nothing.

    Parameters
    ----------
    taken : sequence of Box
        What stands there already.

    Examples
    --------
    >>> lowered(Box(0, 0, 8, 12), [Box(0, 4, 30, 6), Box(0, 10, 30, 14), Box(9, 0, 12, 90)]).top
    14
    """
    while lower := [other.bottom for other in taken if box.meets(other)]:
        box = Box(box.left, max(lower), box.right, max(lower) + box.bottom - box.top)
    return box


def broken(heights: Iterable[float], ends: tuple[float, float], boxes: Sequence[Box]) -> str:
    """Draw lines across, as SVG writes them, broken where a box stands.

    Parameters
    ----------
    heights : iterable of float
        Where the lines run. [px]
    ends : tuple of float
        From where to where. [px]
    boxes : sequence of Box
        What no line may run through.

    Examples
    --------
    >>> broken([5, 30], (0, 50), [Box(10, 0, 18, 12), Box(40, 0, 48, 12)])
    'M0 5H9M18 5H39M48 5H50M0 30H50'
    """
    path = ""
    for y in heights:
        x = ends[0]
        for box in sorted((box for box in boxes if box.top < y < box.bottom), key=lambda box: box.left):
            path += f"M{x:g} {y:g}H{box.left - _CLEAR_PX:g}" if box.left - _CLEAR_PX > x else ""
            x = max(x, box.right)
        path += f"M{x:g} {y:g}H{ends[1]:g}"
    return path
