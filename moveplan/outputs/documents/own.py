"""Style and scripts of our own, as short as a browser lets them be."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from itertools import chain, product
from string import ascii_letters

from moveplan.compiled import template_folder


@cache
def own_style() -> str:
    """Read the style without the spaces that no browser needs."""
    return _tight(_own_text("style.css"), (r" *([{;}])\s*|(?<=[:,]) ", r"\1"), (";}", "}"))


def paper_style() -> str:
    """Read what is added to the style of a sheet that only paper has."""
    return _own_text("paper.css")


@cache
def own_script() -> str:
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
