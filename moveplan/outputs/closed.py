"""Animals in closed containers that do not last as it goes now, by the figures of the countdown, the worst first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from moveplan.errors import Problem
from moveplan.journal.now.next_up import next_up
from moveplan.journal.now.travelling import Travelling
from moveplan.outputs.accepted import snapshot_of_outlook
from moveplan.outputs.outlook import Outlook
from moveplan.practice.under_way.story import Story
from moveplan.times import to_local
from moveplan.units import show_duration

CARRY = "carry it, lid on, into a room or car at room temperature"
"""What helps where cold or heat of a vehicle ends the time."""


def short_of_time(outlook: Outlook, story: Story) -> tuple[Travelling, ...]:
    """Find what has no air, or is opened or carried out of its vehicle later than it lasts; the worst first.

    Parameters
    ----------
    outlook : Outlook
        What is left, with its schedule.
    story : Story
        What has happened.
    """
    if not outlook.schedule.placements or not outlook.project.routes:
        return ()
    closed = next_up(snapshot_of_outlook(outlook), story.state, story.now).travelling
    airless = tuple(one for one in closed if one.airless is not None)
    short = [(one.spare_min, one) for one in closed if one.spare_min is not None and one.spare_min < 0]
    return (*airless, *(one for _, one in sorted(short, key=lambda row: row[0])))


def told(short: Iterable[Travelling], outlook: Outlook) -> Iterator[Problem]:
    """Tell them, those with the same figures at once.

    Parameters
    ----------
    short : iterable of Travelling
        The worst first.
    outlook : Outlook
        For the zone.
    """
    alike: dict[tuple[object, ...], list[Travelling]] = {}
    for one in short:
        figures = one.airless, one.left_min, one.spare_min, one.ride, one.where, one.tempered
        alike.setdefault(figures, []).append(one)
    for several in alike.values():
        yield _told(several, outlook)


def _told(several: list[Travelling], outlook: Outlook) -> Problem:
    one = several[0]
    numbers = ", ".join(dict.fromkeys(each.number for each in several if each.number))
    names = ", ".join(dict.fromkeys(each.stay.name for each in several))
    which = f"{numbers} ({names})" if numbers else names
    where = f", {one.where}" if one.where else ""
    if one.airless is not None:
        return Problem(
            f"{which}{where}: no air since {_when(one.airless, outlook)}; how long it lasts so is not known",
            "",
            "give it air now",
        )
    left, spare = one.left_min or 0, one.spare_min or 0
    aboard = one.ride is not None and one.ride_spare_min == spare
    if one.ride is not None and aboard:
        lasts, out = one.ride
        text = f"must be out of the vehicle by {_when(lasts, outlook)}, expected out {_when(out, outlook)}"
    else:
        opened = outlook.now + left - spare
        text = f"good until {_when(opened + spare, outlook)}, expected to be opened {_when(opened, outlook)}"
    return Problem(
        f"{which}{where}: {show_duration(-spare)} too short as it goes: {text}",
        "",
        _helps(one, aboard=aboard),
    )


def _helps(one: Travelling, *, aboard: bool) -> str:
    over = one.left_min is not None and one.left_min < 0
    if aboard or not one.tempered:
        return f"{CARRY}{' now' if over else ' before then'}, and let these out first"
    return "open it now" if over else "let these out first"


def _when(moment: int, outlook: Outlook) -> str:
    return f"{to_local(moment, outlook.project.plan.zone):%a %H:%M}"
