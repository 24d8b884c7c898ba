"""Names and reasons of cost lines, from the templates."""

from __future__ import annotations

from functools import cache
from typing import Any

from moveplan.compiled import template_folder
from moveplan.kept import table_of


@cache
def _table() -> dict[str, Any]:
    return table_of(template_folder() / "costs.toml")


def line_words(key: str, values: dict[str, object]) -> tuple[str, str]:
    """Name of a line, and how its quantity came about.

    Parameters
    ----------
    key : str
        Key of the line in the templates.
    values : dict of str to object
        What the texts name.

    >>> line_words("tub", {"needed": 10, "there": 4})
    ('Lidded tubs to buy', '10 needed, 4 there')
    """
    row = _table()["lines"][key]
    return row["name"].format(**values), row["basis"].format(**values)


def price_words(key: str, **values: object) -> str:
    """Say where a price comes from; the key is ``given``, ``file`` or ``book``."""
    words: str = _table()["price"][key]
    return words.format(**values)


def problem_words(key: str, **values: object) -> str:
    """Say what is wrong with a price of the plan."""
    words: str = _table()["problems"][key]
    return words.format(**values)
