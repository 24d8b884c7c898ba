"""What each job is quoted at, line by line, and how sure that is: a page for the firm alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from moveplan.firm.outlook import FirmOutlook
from moveplan.firm.papers.printing import Printing
from moveplan.firm.price import QuoteLine
from moveplan.firm.quote import ITEMS, Quote

WORDS = {
    "lead": "Hours of whoever leads",
    "hand": "Hours of anybody else",
    "travel": "Travel",
    "wear": "Wear",
    "materials": "Materials, by the job's own bill",
    "risk": "What goes wrong; promised: reserve",
}
"""What the lines of a quote are called. [-]"""
PACE_WORDS = {"pace_moving_day": "work on moving days", "pace_other_work": "other work"}
"""What paces are called. [-]"""
LUMPS = ("materials", "risk")
"""Lines without a price of one. [-]"""


@dataclass(frozen=True, slots=True)
class LineRow:
    """One line of the three prices; a price that has none of it has no cell."""

    item: str
    price: Decimal | None
    per: str
    cells: tuple[QuoteLine | None, ...]


@dataclass(frozen=True, slots=True)
class QuoteRow:
    """One job on the page; its durations rest on so many done jobs, none where it is done itself."""

    title: str
    day: date
    quote: Quote
    lines: tuple[LineRow, ...]
    rests_on: int


def quotes_md(outlook: FirmOutlook, quotes: Mapping[str, Quote]) -> str:
    """Write the page of all quotes.

    Parameters
    ----------
    quotes : Mapping of str to Quote
        By job.
    """
    firm = outlook.firm
    rows = [
        QuoteRow(
            outlook.plans[one.job].title,
            one.sent.day,
            quotes[one.job],
            tuple(_lines(outlook, quotes[one.job])),
            0 if one.job in outlook.lessons.jobs else len(outlook.lessons.jobs),
        )
        for one in outlook.placed
    ]
    printing = Printing(firm.zone, firm.locale, firm.currency)
    values = {
        "firm": firm,
        "rows": rows,
        "words": WORDS,
        "lessons": outlook.lessons,
        "paces": PACE_WORDS,
        "kinds": [(one, firm.worker(one.lead).name if one.lead else "") for one in outlook.lessons.kinds],
    }
    return printing.render("markdown", "firm/quotes.md.j2", values)


def _lines(outlook: FirmOutlook, quote: Quote) -> Iterator[LineRow]:
    wear = outlook.firm.rates.wear
    per = {"lead": "an hour", "hand": "an hour", "travel": "a kilometre"}
    per["wear"] = "a day of each piece of gear" if wear and wear.by_day else "a kilometre"
    prices = [
        {line.item: line for line in price.lines} for price in (quote.low, quote.likely, quote.promised)
    ]
    for item in ITEMS:
        cells = tuple(price.get(item) for price in prices)
        first = next((one for one in cells if one is not None), None)
        if first is not None:
            yield LineRow(item, None if item in LUMPS else first.unit_price, per.get(item, ""), cells)
