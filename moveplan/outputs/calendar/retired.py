"""What becomes of an event that is no longer planned: it is sent on as cancelled, with little said."""

from __future__ import annotations

from icalendar import Component

from moveplan.outputs.calendar.spelling import KEY, respelled, text
from moveplan.outputs.calendar.words import Wording

# What a cancelled event keeps: what it was and when, not what there was to do, nor where.
_KEPT = (
    "UID",
    "DTSTART",
    "DTEND",
    "DUE",
    "SUMMARY",
    "CATEGORIES",
    KEY,
    "SEQUENCE",
    "CREATED",
    "LAST-MODIFIED",
)


def cancelled(item: Component, wording: Wording, *, private: bool = False) -> Component:
    """Turn an item of the calendar that is replaced into its cancelled form; of a cancelled one, the same again.

    Parameters
    ----------
    private : bool
        Whether others who see the calendar are kept from it.
    """
    kept = respelled(item, _KEPT)
    if item.get("STATUS") != "CANCELLED":
        kept["SUMMARY"] = text(wording.cancelled(item.get("SUMMARY", "")))
    kept.add("STATUS", "CANCELLED")
    if item.name == "VEVENT":
        kept.add("TRANSP", "TRANSPARENT")
    if private:
        kept.add("CLASS", "PRIVATE")
    return kept
