"""Style and scripts of our own, as short as a browser lets them be."""

from __future__ import annotations

import re
from functools import cache

from moveplan.compiled import template_folder
from moveplan.outputs.documents.short_names import short_names, with_names

_PUT_IN = re.compile(r"(?<=\$\{)[^{}]*(?=\})")
"""What a template string puts in; no other string of our own has such braces."""


@cache
def own_style() -> str:
    """Read the style without the spaces that no browser needs."""
    return _tight(_own_text("style.css"), (r" *([{;}])\s*|(?<=[:,]) ", r"\1"), (" ?> ?", ">"), (";}", "}"))


def paper_style() -> str:
    """Read what is added to the style of a sheet that only paper has."""
    return _own_text("paper.css")


@cache
def own_script() -> str:
    """Read the scripts without what says nothing to a browser: spaces around signs, ends of lines, repeated words."""
    return _tight(
        _own_text("script.js") + "\n" + _own_text("card.js"),
        (r" // .*", ""),
        (r" ?([=?:,;<>&|{}()*+!-]+) ?(?:(?<=[{;,(])\n)?|\n(?=})|(?<=})\n", r"\1"),
        (";}", "}"),
        (r"\b(return|of|in|case) (?=[\[\"])", r"\1"),
        (r"\bconst\b", "let"),
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
        short = short_names(text)
        text = with_names(text, short)
        quoted = [_PUT_IN.sub(lambda found: with_names(found[0], short), one) for one in quoted]
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


def _own_text(name: str) -> str:
    """Read a style or a script of our own, without the indents and the remarks that are there for who writes it."""
    lines = map(str.strip, (template_folder() / name).read_text(encoding="utf-8").splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))
