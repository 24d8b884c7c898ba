"""Words of the risk register, from the templates."""

from __future__ import annotations

from functools import cache
from typing import Any

from moveplan.compiled import template_folder
from moveplan.kept import table_of


@cache
def _table() -> dict[str, Any]:
    return table_of(template_folder() / "risks.toml")


def risk_words(risk: str) -> tuple[str, str, str]:
    """Event, trigger and response of an entry.

    >>> risk_words("wrong-parcel")[0]
    'A parcel comes broken, or with the wrong thing in it'
    """
    table = _table()
    row = table["risks"].get(risk) or table["computed"][risk]
    return row["event"], row["trigger"], row["response"]


def measure_words(measure: str) -> str:
    """Say what could be done beforehand."""
    words: str = _table()["measures"][measure]
    return words


def note_words(key: str, **values: object) -> str:
    """Say one thing about how the runs were made."""
    words: str = _table()["notes"][key]
    return words.format(**values)


def problem_words(key: str, **values: object) -> str:
    """Say what is wrong with an entry of the plan."""
    words: str = _table()["problems"][key]
    return words.format(**values)
