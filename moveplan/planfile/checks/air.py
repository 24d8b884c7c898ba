"""The warmest air is not colder than the coldest."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.planfile.checks.words import at
from moveplan.planfile.draft import Draft
from moveplan.planfile.problems import Fault
from moveplan.units import show_temperature

_Ends = tuple[tuple[str, ...], float | None, float | None]


def warmest_is_not_colder(draft: Draft) -> Iterator[Fault]:
    """Want the warmest air at or above the coldest, outside, in rooms and in load spaces."""
    units = draft.entry.units or "metric"
    for path, low_c, high_c in _ends(draft):
        if low_c is not None and high_c is not None and high_c < low_c:
            low, high = show_temperature(low_c, units), show_temperature(high_c, units)
            yield at(
                draft,
                path,
                f"the warmest air, {high}, is colder than the coldest, {low}",
                f'write "{low}" or more',
            )


def _ends(draft: Draft) -> Iterator[_Ends]:
    entry = draft.entry
    if entry.outside is not None:
        yield ("outside", "high"), entry.outside.low, entry.outside.high
    for place_id, place in (entry.places or {}).items():
        path = ("places", place_id, "room-temperature-high")
        yield path, place.room_temperature, place.room_temperature_high
    for vehicle_id, vehicle in (entry.vehicles or {}).items():
        path = ("vehicles", vehicle_id, "air-temperature-high")
        yield path, vehicle.air_temperature, vehicle.air_temperature_high
