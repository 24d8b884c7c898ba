"""Who is there on a day on which things go over, and how long."""

from __future__ import annotations

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from moveplan.hours import HoursRule, free_time, inset, without
from moveplan.plan.people import Helper
from moveplan.times import Interval


def moving_day_hours(helper: Helper, day: date, zone: ZoneInfo) -> tuple[Interval, ...]:
    """Give the hours that somebody has on a day because it is the moving day; none where they are away.

    Parameters
    ----------
    day : date
        The moving day.
    zone : ZoneInfo
        Time zone of the hours.
    """
    return _on(helper, helper.moving_day_hours, day, zone)


def eve_hours(helper: Helper, day: date, zone: ZoneInfo) -> tuple[Interval, ...]:
    """Give the hours that somebody has on the day before the moving day because it is that; none where they are away.

    Parameters
    ----------
    day : date
        The moving day itself.
    zone : ZoneInfo
        Time zone of the hours.
    """
    return _on(helper, helper.eve_hours, day - timedelta(days=1), zone)


def _on(helper: Helper, hours: tuple[HoursRule, ...], day: date, zone: ZoneInfo) -> tuple[Interval, ...]:
    rules = tuple(HoursRule("FREQ=DAILY", one.from_minute, one.to_minute) for one in hours)
    return there(helper, free_time(rules, helper.absences, day, day, zone))


def there(helper: Helper, hours: tuple[Interval, ...]) -> tuple[Interval, ...]:
    """Give what somebody's hours leave at the places of the plan: their way and what they are booked for taken off.

    Parameters
    ----------
    hours : tuple of Interval
        Their hours, UTC. [min]
    """
    own = inset(hours, helper.way_min) if helper.way_min else hours
    return without(own, helper.booked) if helper.booked else own


def longest_stretch_min(helper: Helper, day: date, zone: ZoneInfo) -> int:
    """Give the longest stretch that somebody has on a moving day. [min].

    Parameters
    ----------
    day : date
        The moving day.
    zone : ZoneInfo
        Time zone of the hours.
    """
    return max((one.minutes for one in moving_day_hours(helper, day, zone)), default=0)
