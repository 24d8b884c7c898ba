"""What stands in the margin of every printed page: whose sheet it is, and which version of the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from moveplan.outputs.outlook import Outlook
from moveplan.outputs.papers.run_sheets import RunSheet
from moveplan.outputs.wording.facts import facts_of

_PLAIN = frozenset(" .,:()")
_FONT = "font:9pt system-ui,sans-serif"


def margin_rules(outlook: Outlook, sheets: Iterable[RunSheet]) -> str:
    """Write the rules of the style that name the plan on every page, and each run sheet on its own.

    Parameters
    ----------
    sheets : iterable of RunSheet
        Run sheets of the same outlook.

    Returns
    -------
    str
        Rules for ``@media print``; names of the plan stand in them as strings that end nothing.
    """
    return "\n".join(["@media print {", *_rules(outlook, sheets), "}", ""])


def _rules(outlook: Outlook, sheets: Iterable[RunSheet]) -> Iterator[str]:
    plan, facts = outlook.project.plan, facts_of(outlook.project)
    version = f"{plan.title}: plan of {facts.moment(outlook.now)}"
    yield f"@page {{ @bottom-left {{ content:{css_string(version)};{_FONT} }} }}"
    phones = [f"{one.name} {one.phone}" for one in plan.ring]
    addresses = [one.address for one in plan.places if one.address]
    for corner, told in (("top-right", phones), ("bottom-center", addresses)):
        if told:
            yield f"@page {{ @{corner} {{ content:{css_string('; '.join(told))};{_FONT} }} }}"
    for sheet in sheets:
        name = f"sheet-{sheet.number}"
        head = f"Run sheet {sheet.number}: {sheet.person.name}, {facts.short_day(sheet.start)}"
        yield f".{name} {{ page:{name} }}"
        yield f"@page {name} {{ @top-left {{ content:{css_string(head)};{_FONT} }} }}"


def css_string(text: str) -> str:
    r"""Quote a text for a style sheet: whatever could end the string or the style is written by its number.

    Examples
    --------
    >>> print(css_string('Reef "2"</style>'))
    "Reef \22 2\22 \3c \2f style\3e "
    """
    return '"' + "".join(one if one.isalnum() or one in _PLAIN else f"\\{ord(one):x} " for one in text) + '"'
