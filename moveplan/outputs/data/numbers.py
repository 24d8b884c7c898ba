"""Numbers without noise: what JSON shows of a float, a decimal or an endless limit."""

from __future__ import annotations

import math
from decimal import Decimal


def plain(value: float | Decimal, places: int) -> int | float:
    """Round to decimal places, whole where nothing stands behind the point.

    Parameters
    ----------
    value : float or Decimal
        Any finite number.
    places : int
        Decimal places to keep.

    Examples
    --------
    >>> plain(310.0, 1), plain(0.1 + 0.2, 3), plain(Decimal("3.20"), 2), plain(-0.0, 1)
    (310, 0.3, 3.2, 0)
    """
    rounded = round(float(value), places)
    return int(rounded) if rounded.is_integer() else rounded


def whole(value: float) -> int | None:
    """Round to a whole number, None where the value is endless.

    Parameters
    ----------
    value : float
        Any number, endless ones included.

    Examples
    --------
    >>> whole(90.4), whole(math.inf)
    (90, None)
    """
    return None if math.isinf(value) else round(value)
