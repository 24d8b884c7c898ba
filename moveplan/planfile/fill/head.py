"""What the plan is, where and when: identity, purpose, zone, locale, currency, now."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from uuid import NAMESPACE_URL, uuid5
from zoneinfo import ZoneInfo

from moveplan.planfile.fill.notes import Notes
from moveplan.planfile.fill.usual import Usual
from moveplan.planfile.schema import PlanEntry
from moveplan.planfile.schema.zones import US_UNITS, country_of, country_of_zones
from moveplan.times import iso, to_minutes

NO_CURRENCY = "XXX"


@dataclass(frozen=True, slots=True)
class Head:
    """What the plan is.

    Parameters
    ----------
    id, title, purpose, locale, units, country, currency : str
        As in `moveplan.plan.move.Plan`.
    now : int
        UTC. [min]
    """

    id: str
    title: str
    purpose: str
    locale: str
    units: str
    country: str
    currency: str
    zone: ZoneInfo
    now: int


def purpose_of(entry: PlanEntry) -> Usual:
    """Guess the purpose from what the plan holds."""
    if entry.tasks and not entry.systems:
        return Usual("own-tasks", "the plan holds tasks and no systems")
    new_tank = any(system.new_tank for system in (entry.systems or {}).values())
    if len(entry.places or {}) > 1:
        if new_tank:
            return Usual("house-move-larger-tank", "the plan has two places and a new tank")
        return Usual("house-move", "the plan has two places")
    return Usual(
        "larger-tank", "the plan has one place and a new tank" if new_tank else "the plan has one place"
    )


def zone_of(entry: PlanEntry) -> ZoneInfo:
    """Zone of the plan; UTC where none is given."""
    return entry.timezone or ZoneInfo("UTC")


def now_of(entry: PlanEntry, now: datetime | None) -> int:
    """Tell the time: as asked for, else as of the plan, else by the clock. UTC [min]."""
    zone = zone_of(entry)
    if now is not None:
        return to_minutes(now if now.tzinfo else now.replace(tzinfo=zone))
    return entry.as_of.at(zone) if entry.as_of else to_minutes(datetime.now(UTC))


def units_of(entry: PlanEntry) -> str:
    """Units to print in, before anything is assumed."""
    return entry.units or ("us" if _country(entry) in US_UNITS else "metric")


def head(entry: PlanEntry, now: datetime | None, notes: Notes) -> Head:
    """Complete what the plan is.

    Parameters
    ----------
    entry : PlanEntry
        The plan file; its title is given.
    now : datetime or None
        Time asked for on the command line.
    """
    title = entry.title or ""
    country = notes.fill(entry.country, "country", _usual_country(entry), str)
    zone = notes.fill(entry.timezone, "timezone", Usual("UTC", "no time zone is given"), ZoneInfo)
    return Head(
        id=notes.fill(entry.id, "id", _usual_id(title), str),
        title=title,
        purpose=notes.fill(entry.purpose, "purpose", purpose_of(entry), str),
        locale=notes.fill(entry.locale, "locale", _usual_locale(country), str),
        units=notes.fill(entry.units, "units", Usual(units_of(entry), "usual in the country"), str),
        country=country,
        currency=notes.fill(entry.currency, "currency", usual_currency(country), str),
        zone=zone,
        now=now_of(entry, now),
    )


def _usual_id(title: str) -> Usual:
    derived = str(uuid5(NAMESPACE_URL, f"moveplan:{title}"))
    why = f'derived from the title; paste "id: {derived}" into the plan, or a new title doubles the calendar'
    return Usual(derived, why)


def _country(entry: PlanEntry) -> str:
    if entry.country:
        return entry.country
    tail = (entry.locale or "").rpartition("_")[2]
    if len(tail) == 2 and tail.isupper():
        return tail
    return country_of(entry.timezone.key) if entry.timezone else ""


def _usual_country(entry: PlanEntry) -> Usual:
    country = _country(entry)
    if not country:
        return Usual("ZZ", "neither locale nor time zone tells the country")
    return Usual(country, "the country of the locale" if entry.locale else "the country of the time zone")


def likely_zones(entry: PlanEntry) -> tuple[str, tuple[str, ...]]:
    """Zones to offer where none is given: those of the country, the most populous first.

    Returns
    -------
    tuple of (str, tuple of str)
        The country, empty where nothing tells it; its zones, or an example of one.
    """
    country = _country(entry)
    zones = tuple(zone for zone, home in country_of_zones().items() if home == country)
    return (country, zones) if zones else ("", ("Europe/Dublin",))


def _usual_locale(country: str) -> Usual:
    if country == "ZZ":
        return Usual("en", "the documents are in English")
    from babel import localedata

    if not localedata.exists(
        f"en_{country}"
    ):  # English is written in some countries only, as far as is known
        return Usual("en_GB", "the documents are in English; dates and money as in Britain")
    return Usual(f"en_{country}", "the documents are in English; dates and money as in the country")


def currency_of(entry: PlanEntry) -> str:
    """Currency of the plan: the one written, else the one of its country, else none (``XXX``)."""
    return entry.currency or usual_currency(_country(entry)).text


def usual_currency(country: str) -> Usual:
    """Guess the currency from the country."""
    from babel.core import get_global

    rows = get_global("territory_currencies").get(country, ())
    current = [code for code, _start, end, tender in rows if end is None and tender]
    if not current:
        return Usual(NO_CURRENCY, "the country does not tell the currency")
    return Usual(current[0], "the currency of the country")


def shown_now(now: int, zone: ZoneInfo) -> str:
    """Now, as a message says it."""
    return iso(now, zone)[:16].replace("T", " ")
