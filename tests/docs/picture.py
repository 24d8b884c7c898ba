"""The one picture of the pages: the whereabouts of an example, cut out of its page and made a file of its own."""

from __future__ import annotations

import re
from html import escape, unescape
from pathlib import Path

ROOT = Path(__file__).parents[2]
PICTURE = "moveplan/guide/whereabouts.svg"
PLAN, PLAN_OUT = "examples/house_move.yaml", "out/house_move"
_DRAWING = re.compile(
    r'<section id="animals".*?(<svg [^>]*viewBox="0 0 ([0-9.]+) ([0-9.]+)".*?</svg>)', re.DOTALL
)
_PLACES = re.compile(r'<ol class="places">(.*?)</ol>', re.DOTALL)
_PLACE = re.compile(r"<li>([^<]*)")
_RIBBON = re.compile(r'<a class="(ribbon [a-z0-9-]+)"[^>]*>')
_TITLE = re.compile(r"<title>([A-Z]+: .*?)</title>")
_MEMBER = re.compile(r"(?:^|\. )([A-Z]{1,2}): ([^;<]*)")
_ROOTS = re.compile(
    r"^:root \{.*?^\}$|^@media \(prefers-color-scheme: dark\) \{.*?^\}$", re.DOTALL | re.MULTILINE
)
_RULES = re.compile(r"^\.(?:hours|lane|ribbon|move|along|slant)\b(?!.*:hover)(?!-name).*$", re.MULTILINE)
_NOW = re.compile(r"<(\w+)[^<>]*\bnow-line\b[^<>]*?(?:/>|>[^<]*</\1>)")
_COLUMNS, _ROW, _TOP = 2, 18, 14


def whereabouts(page: str) -> str:
    """Make a file of its own of the first picture of a page.

    Parameters
    ----------
    page : str
        The page that ``build`` has written.

    Returns
    -------
    str
        SVG with its style inside, and a key of the places and letters below.
    """
    found = _DRAWING.search(page)
    if found is None:
        msg = "the page shows no whereabouts"
        raise ValueError(msg)
    drawing, width, height = found[1], float(found[2]), float(found[3])
    places = _PLACES.search(page)
    names = (
        [(str(number), unescape(name)) for number, name in enumerate(_PLACE.findall(places[1]), 1)]
        if places
        else []
    )
    members = [member for title in _TITLE.findall(drawing) for member in _MEMBER.findall(title)]
    names += sorted((letter, unescape(name)) for letter, name in members)
    rows = -(-len(names) // _COLUMNS)
    whole = height + _TOP + rows * _ROW
    inside = drawing.partition(">")[2].removesuffix("</svg>")
    inside = _RIBBON.sub(r'<g class="\1">', inside).replace("</a>", "</g>")
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{whole}" '
            f'viewBox="0 0 {width} {whole}">',
            "<title>Where every animal of the example is on the moving day</title>",
            f"<style>\n{_style()}\n</style>",
            '<defs><pattern id="slant" width="7" height="7" patternUnits="userSpaceOnUse" '
            'patternTransform="rotate(45)"><path class="slant" d="M0 0V7"/></pattern></defs>',
            '<rect class="ground" width="100%" height="100%"/>',
            "\n".join(line for line in _NOW.sub("", inside).splitlines() if line.strip()),
            *_key(names, width, height + _TOP),
            "</svg>\n",
        )
    )


def _key(names: list[tuple[str, str]], width: float, top: float) -> list[str]:
    rows = -(-len(names) // _COLUMNS)
    return [
        f'<text class="key" x="{round(14 + position // rows * width / _COLUMNS)}" '
        f'y="{top + position % rows * _ROW}"><tspan font-weight="700">{letter}</tspan>  {escape(name)}</text>'
        for position, (letter, name) in enumerate(names)
    ]


def _style() -> str:
    css = (ROOT / "templates" / "style.css").read_text("utf-8")
    own = (
        "svg { font: 13px system-ui, sans-serif; fill: var(--ink); }",
        ".ground { fill: var(--sheet); }",
    )
    return "\n".join((*_ROOTS.findall(css), *own, *(rule[0] for rule in _RULES.finditer(css))))
