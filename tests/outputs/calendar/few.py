"""How many events people get in their calendars: about 25 who leads, 1 to 4 who helps, as promised."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

import vobject

LEADS = 28
"""Most events of who leads a move within one day: about 25. [-]"""
A_DAY_MORE = 4
"""So many more for each further moving day: the day, the decision before it, its eve and a wait. [-]"""
HELPS = 4
"""Most events of who comes to help. [-]"""
NOT_YET = {
    "house_move_into_larger_tank": {"fergal": 6},
    "larger_tank_other_spot": {"piet": 5},
    "several_systems": {"odhran": 5},
    "service_firm_office_tank": {"sixth": 7},
}
"""Helpers who have more by the example: work for two stands on a day more than it has to, boarders' on two. [-]"""


class Household(NamedTuple):
    """Who is there anyway, beside whoever leads: they live where animals stand, or are paid to be there every day.

    Parameters
    ----------
    leads : str
        Id of whoever leads.
    others : iterable of str
        Ids of the others.
    """

    leads: str
    others: frozenset[str]


def counted(folder: Path, leads: str) -> dict[str, int]:
    """Count the events of each person in a folder of calendars, as a second library reads them."""
    return {
        file.stem.removeprefix("calendar").removeprefix("-") or leads: len(
            vobject.readOne(file.read_text("utf-8")).contents["vevent"]
        )
        for file in sorted(folder.glob("calendar*.ics"))
    }


def moving_days(folder: Path) -> int:
    """Count the moving days, as the calendar of whoever leads names them."""
    events = vobject.readOne((folder / "calendar.ics").read_text("utf-8")).contents["vevent"]
    return sum(":day:" in event.contents["x-moveplan-key"][0].value for event in events)


def too_many(
    counts: Mapping[str, int], household: Household, days: int, not_yet: Mapping[str, int] | None = None
) -> Iterator[str]:
    """Name who has more events than promised, or none."""
    most = LEADS + A_DAY_MORE * max(0, days - 1)
    for person, count in counts.items():
        at_home = person in {household.leads, *household.others}
        bound = most if at_home else (not_yet or {}).get(person, HELPS)
        if not 1 <= count <= bound:
            yield f"{person}: {count} events, not 1 to {bound}"


def household(leads: str, others: Iterable[str] = ()) -> Household:
    """Name who is there anyway."""
    return Household(leads, frozenset(others))
