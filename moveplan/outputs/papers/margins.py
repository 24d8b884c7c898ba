"""What stands in the margin of every printed page: whose sheet it is, whom to ring, and which version of the plan."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from moveplan.outputs.outlook import Outlook
from moveplan.outputs.papers.run_sheets import RunSheet
from moveplan.outputs.printed.brief import brief
from moveplan.outputs.wording.facts import Facts, facts_of

_PLAIN = frozenset(" .,:()")
_HEAD, _PHONES, _VERSION, _ADDRESSES = 20, 80, 35, 53
"""Shares of the line that texts may fill, two above and two below, where the rest numbers the page. [%]"""
_LINE_PT, _CHARACTER_PT = 538.0, 4.8
"""Width of A4 between margins of 10 mm, and the mean of a character of 9 pt in a wide typeface, as measured. [pt]"""
_LINE_MM, _EDGE_MM = 3.75, 4.5
"""Height of a line of 9 pt, and the edge of a sheet on which printers print nothing; common, no source. [mm]"""
_ABOVE_MM, _BELOW_MM = 10.0, 12.0
"""Least margins. Chosen. [mm]"""
_MOST_LINES = 3
"""Most lines of phone numbers. Chosen. [-]"""
_ADDRESS_MOST = 80
"""Most characters of an address there; whole it stands on the sheet. Chosen. [-]"""
_ELSEWHERE = "all others: first page of each run sheet"


def margin_rules(outlook: Outlook, sheets: Sequence[RunSheet]) -> str:
    """Write the rules of the style that name the plan on every page, and each run sheet on its own.

    Parameters
    ----------
    sheets : sequence of RunSheet
        Run sheets of the same outlook.

    Returns
    -------
    str
        Rules for ``@media print``; names of the plan stand in them as strings that end nothing. The margins are as
        high as their texts, so that these never run into the page.
    """
    return "\n".join(["@media print {", *_rules(outlook, sheets), "}", ""])


def _rules(outlook: Outlook, sheets: Sequence[RunSheet]) -> Iterator[str]:
    plan, facts = outlook.project.plan, facts_of(outlook.project)
    version = f"{brief(plan.title)}: plan of {facts.moment(outlook.now)}"
    ring = sorted(plan.ring, key=lambda one: one not in plan.contacts)
    phones = _phones([f"{brief(one.name)} {one.phone}" for one in ring])
    addresses = "; ".join(brief(one.address, _ADDRESS_MOST) for one in plan.places if one.address)
    heads = {f"sheet-{sheet.number}": _head(sheet, facts) for sheet in sheets}
    above = max(_lines(phones, _PHONES), *(_lines(head, _HEAD) for head in heads.values()), 0)
    below = max(_lines(version, _VERSION), _lines(addresses, _ADDRESSES))
    top, bottom = _EDGE_MM + _LINE_MM * above, _EDGE_MM + _LINE_MM * below
    yield f"@page {{ margin:{max(top, _ABOVE_MM):g}mm 10mm {max(bottom, _BELOW_MM):g}mm; overflow-wrap:anywhere;"
    yield f"@top-left {{ {_held('bottom', _HEAD)} }}"
    if phones:
        yield f"@top-right {{ content:{css_string(phones)};{_held('bottom', _PHONES)} }}"
    yield f"@bottom-left {{ content:{css_string(version)};{_held('top', _VERSION)} }}"
    if addresses:
        yield f"@bottom-center {{ content:{css_string(addresses)};{_held('top', _ADDRESSES)} }}"
    yield "}"
    for name, head in heads.items():
        yield f".{name} {{ page:{name} }}"
        yield f"@page {name} {{ @top-left {{ content:{css_string(head)} }} }}"


def _head(sheet: RunSheet, facts: Facts) -> str:
    return f"Run sheet {sheet.number}: {brief(sheet.person.name)}, {facts.short_day(sheet.start)}"


def _phones(numbers: Sequence[str]) -> str:
    """Join as many numbers as have room; where some have none, the first of them, and where the others stand."""
    for count in range(len(numbers), 0, -1):
        told = "; ".join([*numbers[:count], *([_ELSEWHERE] if count < len(numbers) else [])])
        if _lines(told, _PHONES) <= _MOST_LINES:
            return told
    return ""


def _lines(text: str, share: int) -> int:
    return len(textwrap.wrap(text, int(_LINE_PT * share / 100 / _CHARACTER_PT)))


def _held(side: str, share: int) -> str:
    """Set a text as near to the page as it goes: the edge of the sheet stays free."""
    return f"width:{share}%;vertical-align:{side}"


def css_string(text: str) -> str:
    r"""Quote a text for a style sheet: whatever could end the string or the style is written by its number.

    Examples
    --------
    >>> print(css_string('Reef "2"</style>'))
    "Reef \22 2\22 \3c \2f style\3e "
    """
    return '"' + "".join(one if one.isalnum() or one in _PLAIN else f"\\{ord(one):x} " for one in text) + '"'
