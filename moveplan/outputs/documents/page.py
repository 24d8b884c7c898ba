"""``index.html``: the report as one self-contained file that asks nobody for anything."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Literal
from unicodedata import bidirectional

from markupsafe import Markup

from moveplan import __version__
from moveplan.outputs.agenda import Agenda, agenda
from moveplan.outputs.documents.card import card_of
from moveplan.outputs.documents.labels import alike, labels_of
from moveplan.outputs.documents.own import own_script, own_style, paper_style
from moveplan.outputs.documents.policy import policy_for
from moveplan.outputs.documents.shopping import by_shop
from moveplan.outputs.documents.summary import cost_groups
from moveplan.outputs.documents.tight import without_line_ends
from moveplan.outputs.figures.day import day_pictures
from moveplan.outputs.figures.filters import filter_pictures
from moveplan.outputs.figures.load import load_pictures
from moveplan.outputs.figures.sure import sure
from moveplan.outputs.figures.weeks import weeks
from moveplan.outputs.figures.whereabouts import letter, whereabouts
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.papers.answers import answers_of
from moveplan.outputs.papers.chain import waiting
from moveplan.outputs.papers.decisions import by_date, decisions_of
from moveplan.outputs.papers.margins import margin_rules
from moveplan.outputs.papers.run_sheets import run_sheets_of
from moveplan.outputs.papers.told_once import told_once
from moveplan.outputs.wording.documents import render
from moveplan.plan.move import Assumption

Sheet = Literal["todo", "sheets", "labels", "loads", "shopping"]
_PARTS: Mapping[Sheet, str] = {
    "todo": "todo",
    "sheets": "run_sheets",
    "labels": "labels",
    "loads": "loads",
    "shopping": "shopping",
}
_FILLED_BY: Mapping[Sheet, str] = {
    "sheets": "run_sheets",
    "labels": "labels",
    "loads": "loads",
    "shopping": "shops",
}
"""What a sheet is left out without."""

_PAGEWISE = {"L", "EN", "ES", "ET", "CS", "NSM", "ON", "WS"}
"""Classes of signs that never turn the direction of a line that runs from left to right; Unicode Annex 9, table 4."""


def page_html(outlook: Outlook, served_to: str = "") -> str:
    """Write the report.

    Parameters
    ----------
    served_to : str
        Id of the person whose page a server gives out, which may talk to that server; empty: a file.

    Returns
    -------
    str
        One HTML file with its style and script inside; its policy lets nothing else in, and nothing out.
    """
    found = agenda(outlook)
    pictures = _pictures(outlook, found)
    style = own_style() + margin_rules(outlook, run_sheets_of(outlook, found))
    script = own_script()
    extra = {
        "version": __version__,
        "style": Markup(style),  # noqa: S704 - a file of this program; words of a plan are escaped strings in it
        "script": Markup(script),  # noqa: S704 - a file of this program, no word of a plan in it
        "policy": policy_for(style, script) + ("; connect-src 'self'" if served_to else ""),
        "served_to": served_to,
        "card": card_of(outlook),
        "once": told_once(found),
        **pictures,
    }
    whole = without_line_ends(render(outlook, "html", "index.html.j2", extra))
    return re.sub(r"<bdi>([^<>]+)</bdi>", _apart_where_needed, whole)


def sheet_html(outlook: Outlook, sheet: Sheet, paper: str) -> str | None:
    """Write one sheet of the report for printing, without scripts.

    Parameters
    ----------
    sheet : str
        ``todo``, ``sheets``, ``labels``, ``loads`` or ``shopping``.
    paper : str
        ``A4`` or ``letter``.

    Returns
    -------
    str or None
        An HTML file; None where there is nothing on the sheet.
    """
    found = agenda(outlook)
    parts = {**_paper_parts(outlook, found), "loads": load_pictures(outlook), **by_shop(outlook)}
    if sheet in _FILLED_BY and not parts[_FILLED_BY[sheet]]:
        return None
    margins = margin_rules(outlook, run_sheets_of(outlook, found))
    style = f"{own_style()}{margins}{paper_style()}\n@page {{ size: {paper}; }}\n"
    extra = {
        "sheet": sheet,
        "part": _PARTS[sheet],
        "style": Markup(style),  # noqa: S704 - a file of this program; words of a plan are escaped strings in it
        "policy": policy_for(style, ""),
        **parts,
    }
    return render(outlook, "html", "print.html.j2", extra)


def _pictures(outlook: Outlook, found: Agenda) -> dict[str, object]:
    return {
        "answers": answers_of(outlook, found),
        "decisions": by_date(decisions_of(outlook, found)),
        "whereabouts": whereabouts(outlook),
        "days": day_pictures(outlook, found),
        "weeks": weeks(outlook, found),
        "sure": sure(outlook),
        "loads": load_pictures(outlook),
        "waiting": waiting(outlook, found),
        "filters": filter_pictures(outlook, found),
        "cost_groups": cost_groups(outlook.cost),
        "assumed": _alike(outlook.project.assumptions),
        **_paper_parts(outlook, found),
    }


def _alike(assumptions: Iterable[Assumption]) -> tuple[tuple[tuple[str, str], list[str]], ...]:
    """Gather the keys of what is assumed alike, by value and reason: each pair is said once."""
    keys: dict[tuple[str, str], list[str]] = {}
    for one in assumptions:
        keys.setdefault((one.value, one.why), []).append(one.key)
    return tuple(keys.items())


def _paper_parts(outlook: Outlook, found: Agenda) -> dict[str, object]:
    animals = {route.livestock: letter(number) for number, route in enumerate(outlook.project.routes)}
    people = outlook.project.scheduling.people
    labels = labels_of(outlook, found.openings)
    return {
        "letters": animals,
        "crew": tuple(person for person in people if found.work_of(person.id)),
        "run_sheets": run_sheets_of(outlook, found),
        "labels": labels,
        "label_runs": alike(labels),
    }


def _apart_where_needed(found: re.Match[str]) -> str:
    """Leave a text that runs from left to right, as the page does, without the element that keeps directions apart."""
    plain = found[1].isascii() or all(bidirectional(sign) in _PAGEWISE for sign in found[1])
    return found[1] if plain else found[0]
