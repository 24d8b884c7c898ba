"""``index.html``: the report as one self-contained file that asks nobody for anything."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cache
from itertools import chain, product
from string import ascii_letters
from typing import Literal
from unicodedata import bidirectional

from markupsafe import Markup

from moveplan import __version__
from moveplan.compiled import template_folder
from moveplan.outputs.agenda import Agenda, agenda
from moveplan.outputs.documents.card import card_of
from moveplan.outputs.documents.labels import labels_of
from moveplan.outputs.documents.policy import policy_for
from moveplan.outputs.documents.summary import cost_groups
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
from moveplan.outputs.wording.documents import render
from moveplan.plan.move import Assumption

Sheet = Literal["todo", "sheets", "labels", "loads"]
_PARTS: Mapping[Sheet, str] = {"todo": "todo", "sheets": "run_sheets", "labels": "labels", "loads": "loads"}

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
    style = _own_style() + margin_rules(outlook, run_sheets_of(outlook, found))
    script = _own_script()
    extra = {
        "version": __version__,
        "style": Markup(style),  # noqa: S704 - a file of this program; words of a plan are escaped strings in it
        "script": Markup(script),  # noqa: S704 - a file of this program, no word of a plan in it
        "policy": policy_for(style, script) + ("; connect-src 'self'" if served_to else ""),
        "served_to": served_to,
        "card": card_of(outlook),
        **pictures,
    }
    whole = _between_blocks().sub(
        lambda found: found[1] or "", render(outlook, "html", "index.html.j2", extra)
    )
    return re.sub(r"<bdi>([^<>]+)</bdi>", _apart_where_needed, whole)


def sheet_html(outlook: Outlook, sheet: Sheet, paper: str) -> str | None:
    """Write one sheet of the report for printing, without scripts.

    Parameters
    ----------
    sheet : str
        ``todo``, ``sheets``, ``labels`` or ``loads``.
    paper : str
        ``A4`` or ``letter``.

    Returns
    -------
    str or None
        An HTML file; None where there is nothing on the sheet.
    """
    found = agenda(outlook)
    parts = {**_paper_parts(outlook, found), "loads": load_pictures(outlook)}
    if sheet != "todo" and not parts["run_sheets" if sheet == "sheets" else sheet]:
        return None
    margins = margin_rules(outlook, run_sheets_of(outlook, found))
    style = f"{_own_style()}{margins}@page {{ size: {paper}; }}\n"
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
    return {
        "letters": animals,
        "crew": tuple(person for person in people if found.work_of(person.id)),
        "run_sheets": run_sheets_of(outlook, found),
        "labels": labels_of(outlook, found.openings),
    }


def _apart_where_needed(found: re.Match[str]) -> str:
    """Leave a text that runs from left to right, as the page does, without the element that keeps directions apart."""
    plain = found[1].isascii() or all(bidirectional(sign) in _PAGEWISE for sign in found[1])
    return found[1] if plain else found[0]


@cache
def _between_blocks() -> re.Pattern[str]:
    """Find the line ends at the edges of blocks, which no browser shows: some thousands a page."""
    block = (
        r"(?:li|ul|ol|p|div|section|details|summary|table|thead|tbody|tr|th|td|dl|dt|dd|h\d|nav|header|footer|main"
        r"|g|rect|path|title|text|symbol|pattern|defs)"
    )
    return re.compile(rf"(</?{block}(?: [^<>]*)?>)\n\s*(?=<)|(?<=>)\n\s*(?=</?{block}[ >])")


@cache
def _own_style() -> str:
    """Read the style without the spaces that no browser needs."""
    return _tight(_own_text("style.css"), (r" *([{;}])\s*|(?<=[:,]) ", r"\1"), (";}", "}"))


@cache
def _own_script() -> str:
    """Read the scripts without what says nothing to a browser: spaces around signs, ends of lines, repeated words."""
    return _tight(
        _own_text("script.js") + "\n" + _own_text("card.js"),
        (r" ?([=?:,;<>&|{}()*+!-]+) ?(?:(?<=[{;,(])\n)?|\n(?=})|(?<=})\n", r"\1"),
        (";}", "}"),
        (r"(?<![\w$])\((\w+)\)=>", r"\1=>"),
        (r"\bundefined\b", "void 0"),
        (r"\bInfinity\b", "1/0"),
        (r"\btrue\b", "!0"),
        (r"\bfalse\b", "!1"),
        names=True,
    )


def _tight(text: str, *rules: tuple[str, str], names: bool = False) -> str:
    """Leave out what patterns find, for what stands beside them; what stands in quotation marks stays as it is.

    With ``names`` those of a script become shorter too.
    """
    quoted: list[str] = []

    def aside(found: re.Match[str]) -> str:
        quoted.append(found[0])
        return f'"{len(quoted) - 1}"'

    text = re.sub(r'"(?:[^"\\\n]|\\.)*"|`[^`]*`', aside, text)
    for pattern, instead in rules:
        text = re.sub(pattern, instead, text)
    text = _named_together(text)
    if names:
        text = _named_shortly(text, " ".join(one for one in quoted if one.startswith("`")))
    return re.sub(r'"(\d+)"', lambda found: quoted[int(found[1])], text)


def _named_together(script: str) -> str:
    """Let values that are named one after the other share the word for it.

    >>> _named_together("const a=1;const b=c=>{const d=2;d()};const e=3;f();const g=4")
    'const a=1,b=c=>{const d=2;d()},e=3;f();const g=4'
    """
    parts: list[str] = []
    words, ended = (
        [""],
        "",
    )  # by which word what stands open at each depth names values; by which it did that just ended
    for part in filter(None, re.split(r"((?:const|let) (?=(?:\w+|\[[\w,]+\])=)|[][(){};])", script)):
        if part == ended:
            parts[-1:] = [","]
        else:
            parts.append(part)
        ended = words[-1] if part == ";" else ""
        if part in "([{":
            words.append("")
        elif part in ")]}":
            words.pop()
        elif part in ("const ", "let ", ";"):
            words[-1] = part.strip(";")
    return "".join(parts)


def _named_shortly(script: str, templates: str) -> str:
    """Give short names to values of our own that are nothing else: no key, no part of anything, in no template.

    >>> _named_shortly("const minutes=1,said=one=>one.said+minutes;said({minutes:2})", "")
    'const minutes=1,said=a=>a.said+minutes;said({minutes:2})'
    >>> _named_shortly("const minutes=later=>later+1;minutes(2)", "")
    'const a=b=>b+1;a(2)'
    """
    named = re.findall(r"(?:(?:const|let) |,)(\w+)(?:=(?!=)| of )", script) + re.findall(r"(\w+)=>", script)
    for several in re.findall(r"\(([^()]*)\)=>", script):
        named += re.findall(r"(?:^|,)(\w+)", several)
    other = {*re.findall(r"\.(\w+)", script), *re.findall(r"(\w+):", script), *re.findall(r"\w+", templates)}
    other.update(re.findall(r"[{,](\w+)(?=[,}])", script))
    for pattern in re.findall(r"(?<=[=(,:!&|?])/((?:[^/\n\\]|\\.)+)/", script):
        other.update(re.findall(r"\w+", pattern))
    words = Counter(re.findall(r"(?<![\w$.])[A-Za-z]\w*", script))
    long = sorted(
        {one for one in named if len(one) > 2} - other, key=lambda one: (-len(one) * words[one], one)
    )
    free = (
        one
        for one in map("".join, chain(product(ascii_letters), product(ascii_letters, ascii_letters)))
        if one not in words and one not in ("do", "if", "in")
    )
    short = dict(zip(long, free, strict=False))
    return re.sub(r"(?<![\w$.])[A-Za-z]\w*", lambda found: short.get(found[0], found[0]), script)


def _own_text(name: str) -> str:
    """Read a style or a script of our own, without the indents and the remarks that are there for who writes it."""
    lines = map(str.strip, (template_folder() / name).read_text(encoding="utf-8").splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))
