"""Where things stand on a floor that is filled from one end, in the order in which they come.

The library rectpack keeps the edge up to which the floor is taken (the skyline of its packing) and finds the spot.
Of its ways only the plain skyline is right here: it never goes back to fill a hole behind something, so that
nothing bars the way in of what comes later, nor the way out once all that came later is gone.
"""

from __future__ import annotations

from dataclasses import dataclass

from rectpack.skyline import SkylineBl


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on the floor.

    Parameters
    ----------
    across_m, along_m : float
        From the left wall, and from the end that is filled first. [m]
    wide_m, deep_m : float
        Extent across and along. [m]
    """

    across_m: float
    along_m: float
    wide_m: float
    deep_m: float


class Floor:
    """A floor on which things are put down one after the other, reckoned in whole millimetres.

    Parameters
    ----------
    width_m, length_m : float
        Across and along. [m]
    """

    def __init__(self, width_m: float, length_m: float) -> None:
        sides = _millimetres(width_m), _millimetres(length_m)
        self._packing = SkylineBl(*sides, rot=True) if min(sides) > 0 else None
        self._refused: list[tuple[int, int]] = []

    def put(self, one_side_m: float, other_side_m: float) -> Spot | None:
        """Put something down as near to the first end as it goes, turned the way that fits better.

        Parameters
        ----------
        one_side_m, other_side_m : float
            Sides of the thing. [m]

        Returns
        -------
        Spot or None
            None where it has no size or finds no room.

        Examples
        --------
        >>> floor = Floor(1.7, 3.0)
        >>> floor.put(1.2, 0.6)
        Spot(across_m=0.0, along_m=0.0, wide_m=1.2, deep_m=0.6)
        >>> floor.put(0.5, 0.4).across_m
        1.2
        """
        deep, wide = sorted((_millimetres(one_side_m), _millimetres(other_side_m)))
        if deep <= 0 or self._packing is None:
            return None
        if any(deep >= one and wide >= other for one, other in self._refused):
            return None  # less and less room is left
        found = self._packing.add_rect(wide, deep)
        if found is None:
            self._refused.append((deep, wide))
            return None
        return Spot(found.x / 1000, found.y / 1000, found.width / 1000, found.height / 1000)


def _millimetres(length_m: float) -> int:
    return round(1000 * length_m)
