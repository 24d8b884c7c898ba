"""Where things stand on a floor that is filled from one end, in the order in which they come."""

from __future__ import annotations

from dataclasses import dataclass

_SLACK_M = 1e-9


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
    """A floor with an edge up to which it is taken; things are pushed in from the far end.

    Whatever is put down stands beyond the edge, so that nothing put down before bars its way in, and nothing
    bars its way out once all that came later is gone.

    Parameters
    ----------
    width_m, length_m : float
        Across and along. [m]
    """

    def __init__(self, width_m: float, length_m: float) -> None:
        self.width_m = width_m
        self.length_m = length_m
        self._edge: list[tuple[float, float]] = [(0.0, 0.0)] if width_m > 0 else []

    def put(self, one_side_m: float, other_side_m: float) -> Spot | None:
        """Put something down as near to the first end as it goes, turned the way that fits better.

        Parameters
        ----------
        one_side_m, other_side_m : float
            Sides of the thing. [m]

        Returns
        -------
        Spot or None
            None where it has no size or finds no room. [-]

        Examples
        --------
        >>> floor = Floor(1.7, 3.0)
        >>> floor.put(1.2, 0.6)
        Spot(across_m=0.0, along_m=0.0, wide_m=1.2, deep_m=0.6)
        >>> floor.put(0.5, 0.4).across_m
        1.2
        """
        sides = sorted((one_side_m, other_side_m), reverse=True)
        if sides[1] <= 0:
            return None
        turned = (sides, sides[::-1]) if sides[0] != sides[1] else (sides,)
        spots = [spot for wide, deep in turned for spot in self._spots(wide, deep)]
        best = min(spots, key=lambda spot: (spot.along_m + spot.deep_m, spot.across_m), default=None)
        if best is not None:
            self._take(best)
        return best

    def _spots(self, wide_m: float, deep_m: float) -> list[Spot]:
        spots = [
            Spot(across, self._reach(across, across + wide_m), wide_m, deep_m)
            for across, _ in self._edge
            if across + wide_m <= self.width_m + _SLACK_M
        ]
        return [spot for spot in spots if spot.along_m + deep_m <= self.length_m + _SLACK_M]

    def _reach(self, left_m: float, right_m: float) -> float:
        """How far the floor is taken between two lines along it."""
        ends = [across for across, _ in self._edge[1:]] + [self.width_m]
        return max(
            along
            for (across, along), end in zip(self._edge, ends, strict=True)
            if across < right_m - _SLACK_M and end > left_m + _SLACK_M
        )

    def _take(self, spot: Spot) -> None:
        left, right = spot.across_m, spot.across_m + spot.wide_m
        after = next((along for across, along in reversed(self._edge) if across <= right + _SLACK_M), 0.0)
        kept = [(across, along) for across, along in self._edge if across < left - _SLACK_M]
        rest = [(across, along) for across, along in self._edge if across > right + _SLACK_M]
        edge = [*kept, (left, spot.along_m + spot.deep_m)]
        if right < self.width_m - _SLACK_M:
            edge.append((right, after))
        self._edge = edge + rest
