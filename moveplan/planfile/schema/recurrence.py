"""Recurrence rules that a keeper may write: those of RFC 5545 that end in days and surely occur."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import datetime

from dateutil.rrule import rrulestr

from moveplan.planfile.schema.refusals import refusal
from moveplan.units import quoted

_PARTS = {
    "FREQ": r"DAILY|WEEKLY|MONTHLY|YEARLY",
    "INTERVAL": r"[1-9][0-9]?",
    "COUNT": r"[1-9][0-9]{0,3}",
    "UNTIL": r"[0-9]{8}",
    "BYDAY": r"(?:[+-]?[1-5])?(?:MO|TU|WE|TH|FR|SA|SU)(?:,(?:[+-]?[1-5])?(?:MO|TU|WE|TH|FR|SA|SU))*",
    "BYMONTH": r"(?:1[0-2]|[1-9])(?:,(?:1[0-2]|[1-9]))*",
    "BYMONTHDAY": r"-?(?:3[01]|[12][0-9]|[1-9])(?:,-?(?:3[01]|[12][0-9]|[1-9]))*",
    "WKST": r"MO|TU|WE|TH|FR|SA|SU",
}
_ANCHORED = ("INTERVAL", "COUNT")
_SAMPLE = "FREQ=WEEKLY;BYDAY=SA,SU"


def recurrence(text: str, anchored: bool) -> str:
    """Check a recurrence rule.

    Parameters
    ----------
    text : str
        Rule of RFC 5545, without DTSTART.
    anchored : bool
        Whether a first day is known, which INTERVAL and COUNT need.

    Returns
    -------
    str
        The rule in upper case.

    >>> recurrence("freq=weekly;byday=sa", anchored=False)
    'FREQ=WEEKLY;BYDAY=SA'
    """
    rule = text.strip().upper()
    rows = [part.partition("=")[::2] for part in rule.split(";")]
    parts = dict(rows)
    if len(parts) < len(rows) or "FREQ" not in parts or len(rule) > 200:
        raise refusal(f"{quoted(text)} is not a recurrence rule", f'write for example "{_SAMPLE}"')
    for name, value in rows:
        if not re.fullmatch(_PARTS.get(name, r"(?!)"), value):
            raise refusal(
                f"{quoted(f'{name}={value}')} is not read in a recurrence rule",
                f'write for example "{_SAMPLE}"',
            )
    _refuse_what_never_comes(parts, anchored)
    _refuse_what_the_library_refuses(rule, text)
    return rule


def _refuse_what_never_comes(parts: dict[str, str], anchored: bool) -> None:
    if not anchored and any(name in parts for name in _ANCHORED):
        raise refusal(
            "INTERVAL and COUNT need a first day, which hours do not have", f'write for example "{_SAMPLE}"'
        )
    if (
        parts["FREQ"] == "DAILY"
        and parts.get("INTERVAL", "1") != "1"
        and len(parts.keys() & {"BYDAY", "BYMONTHDAY"})
    ):
        raise refusal(
            "INTERVAL cannot stand beside FREQ=DAILY with chosen days", f'write for example "{_SAMPLE}"'
        )
    if parts["FREQ"] in {"DAILY", "WEEKLY"} and re.search(r"[0-9]", parts.get("BYDAY", "")):
        raise refusal("numbered days belong to FREQ=MONTHLY or FREQ=YEARLY", f'write for example "{_SAMPLE}"')
    days = [abs(int(day)) for day in parts.get("BYMONTHDAY", "1").split(",")]
    months = [int(month) for month in parts.get("BYMONTH", "1").split(",")]
    if min(days) > max(monthrange(2028, month)[1] for month in months):
        raise refusal("no such day is in these months", f'write for example "{_SAMPLE}"')


def _refuse_what_the_library_refuses(rule: str, text: str) -> None:
    try:
        rrulestr(rule, dtstart=datetime(2027, 1, 1))  # noqa: DTZ001
    except (ValueError, TypeError):
        raise refusal(f"{quoted(text)} is not a recurrence rule", f'write for example "{_SAMPLE}"') from None
