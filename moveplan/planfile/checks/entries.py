"""What one entry says does not gainsay itself: air, animals, risks."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.planfile.checks.words import at
from moveplan.planfile.draft import Draft
from moveplan.planfile.problems import Fault, listed
from moveplan.planfile.schema.risks import STRIKE
from moveplan.units import quoted, show_temperature

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


_GENERAL = ("clownfish", "goby", "snail", "cleaner-shrimp", "soft-coral", "large-polyp-coral")


def kinds_are_known(draft: Draft) -> Iterator[Fault]:
    """Refuse kinds that are not in the table of kinds."""
    if not draft.entry.livestock:
        return
    from moveplan.science.animals.kind_names import UnknownKindError, kind_named

    for animal_id, animals in draft.entry.livestock.items():
        try:
            kind_named(animals.kind[:80], draft.kinds)
        except UnknownKindError as error:
            names = " or ".join(f'"{name}"' for name in error.nearest)
            remedy = f"did you mean {names}?" if names else f"write a kind such as {', '.join(_GENERAL)}"
            message = f"no kind of animal is called {quoted(animals.kind)}"
            yield at(draft, ("livestock", animal_id, "kind"), message, remedy)


def no_more_leave_than_live(draft: Draft) -> Iterator[Fault]:
    """Count those that leave and those that are ill among those that live there."""
    for animal_id, animals in (draft.entry.livestock or {}).items():
        path = ("livestock", animal_id)
        count, leaves, sick = animals.count or 1, animals.leaves or 0, animals.sick or 0
        for key, number, word in (("leaves", leaves, "leave"), ("sick", sick, "are ill")):
            if number > count:
                yield at(
                    draft,
                    (*path, key),
                    f"{number} {word} but only {count} live there",
                    f'write "{count}" or less',
                )
        if max(leaves, sick) <= count < leaves + sick:
            message = f"{leaves} leave and {sick} are ill, but only {count} live there"
            yield at(draft, (*path, "sick"), message, f'write "{count - leaves}" or less')


def risks_say_something(draft: Draft) -> Iterator[Fault]:
    """Refuse entries without a key, and keys beside ``strike``."""
    for risk_id, entry in (draft.entry.risks or {}).items():
        node = draft.node("risks", risk_id)
        if node is None or not isinstance(node.value, dict):
            continue
        others = [key for key in node.value if key != STRIKE]
        if not node.value and not node.broken:
            yield at(draft, ("risks", risk_id), "says nothing", f'write "{STRIKE}", or what changes')
        elif entry.strike and others:
            message = f"the entry is taken out, and yet has {listed(others)}"
            yield at(draft, ("risks", risk_id, STRIKE), message, 'write "no", or take the other keys out')
