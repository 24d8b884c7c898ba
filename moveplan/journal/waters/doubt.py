"""Readings that are far from the last: a slip of the pen or of the instrument, until a second one agrees."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from moveplan.journal.records import Reading

FAR: Mapping[str, float] = {
    "temperature": 3.0,
    "salinity": 2.0,
    "ammonia": 1.0,
    "nitrite": 3.0,
    "nitrate": 20.0,
    "ph": 0.5,
    "alkalinity": 3.0,
    "oxygen": 3.0,
}
"""A change from one reading to the next that is measured twice; larger than kits scatter, assumed. [unit of each]"""
RECENT_MIN = 7 * 1440
"""With a reading older than this none is compared, for water changes in a week; assumed. [min]"""


def far_from(reading: Reading, before: Sequence[Reading]) -> Reading | None:
    """Find the reading that another contradicts; None where it agrees with one of the last two, or stands alone.

    Parameters
    ----------
    before : sequence of Reading
        Of the same thing in the same water, in the order of measuring; later ones do not count.

    Examples
    --------
    >>> rows = [Reading(at=at, what="salinity", value=value, unit="-", said="") for at, value in ((0, 35.0), (9, 3.5))]
    >>> far_from(rows[1], rows[:1]) is rows[0]
    True
    >>> far_from(Reading(at=20, what="salinity", value=35.1, unit="-", said=""), rows) is None
    True
    """
    recent = [
        one for one in before if reading.at - RECENT_MIN <= one.at <= reading.at and one is not reading
    ][-2:]
    limit = FAR.get(reading.what)
    if limit is None or not recent or any(abs(one.value - reading.value) <= limit for one in recent):
        return None
    return recent[-1]
