"""Outer sizes of containers of which only the volume is known."""

from __future__ import annotations


def tub_size_m(volume_l: float) -> tuple[float, float, float]:
    """Outer size of a tub or pail whose sides are as 3 to 2 to 1.6; assumed. [m].

    >>> [round(side, 2) for side in tub_size_m(60.0)]
    [0.55, 0.37, 0.29]
    """
    unit = (volume_l / 1000 / (3 * 2 * 1.6)) ** (1 / 3)
    return 3 * unit, 2 * unit, 1.6 * unit


def can_size_m(volume_l: float) -> tuple[float, float, float]:
    """Outer size of a can whose sides are as 3 to 2.5 to 4, a third of it handle and neck; assumed. [m].

    >>> [round(side, 2) for side in can_size_m(20.0)]
    [0.29, 0.24, 0.38]
    """
    unit = (volume_l / 0.75 / 1000 / (3 * 2.5 * 4)) ** (1 / 3)
    return 3 * unit, 2.5 * unit, 4 * unit


def box_side_m(volume_l: float) -> float:
    """Side of a box like a cube. [m].

    >>> round(box_side_m(64.0), 2)
    0.4
    """
    return float((volume_l / 1000) ** (1 / 3))


def bag_area_m2(volume_l: float) -> float:
    """Surface of the water in a bag that lies on its side: half as much again as a cube's; assumed. [m²].

    >>> round(bag_area_m2(12.0), 3)
    0.079
    """
    return 1.5 * box_side_m(volume_l) ** 2
