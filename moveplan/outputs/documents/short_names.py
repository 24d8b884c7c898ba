"""Short names for the variables of our own scripts: a browser needs no words in them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import chain, product
from string import ascii_letters

_TOKEN = re.compile(
    r'[A-Za-z_$][\w$]*|"\d+"'
    r"|(?<=[=>(,:!&|?])/(?:[^/\n\\\[]|\\.|\[(?:[^\]\\]|\\.)*\])+/[a-z]*"
    r"|\d[\w.]*|\.\.\.|=>|\s+|.",
    re.DOTALL,
)
"""A word, a string that was set aside, a pattern, a number, or a sign."""
_OPENS_OBJECT = frozenset(("(", ",", "=", ":", "[", "?", "&", "|", "return", "const", "let", "of", "..."))
"""What stands before a brace that holds keys, and not statements."""
_LETTERS = frozenset(ascii_letters + "_$")
"""What a word begins with."""
_WORDS = frozenset(("async", "do", "if", "in", "of"))
"""Words of the language that are as short as a name, or may be one."""


def short_names(script: str) -> dict[str, str]:
    """Choose a short name for each variable that a script declares, the shortest for what it names most often.

    Parameters
    ----------
    script : str
        ECMAScript whose strings were set aside: ``"0"``, ``"1"`` and so on stand for them.

    >>> short_names("let minutes=1,said=one=>one.said+minutes+page;said({minutes})")
    {'minutes': 'a', 'said': 'b', 'one': 'c'}
    """
    signs = _TOKEN.findall(script)
    named = Counter(signs[at] for at, _ in _variables(signs))
    declared = dict.fromkeys(name for name in _declared(signs) if name not in _WORDS)
    taken = {*signs} | _WORDS
    free = (
        name
        for name in map("".join, chain(product(ascii_letters), product(ascii_letters, ascii_letters)))
        if name not in taken
    )
    often = sorted(declared, key=lambda name: -named[name])
    return dict(zip(often, free, strict=False))


def with_names(script: str, names: dict[str, str]) -> str:
    """Call the variables of a script by other names; keys and properties keep theirs.

    >>> with_names("let {minutes,at:{said}}=one;f({minutes,said:one.minutes})", {"minutes": "a", "said": "b"})
    'let {minutes:a,at:{said:b}}=one;f({minutes:a,said:one.minutes})'
    """
    signs = _TOKEN.findall(script)
    for at, keyed in list(_variables(signs)):
        name = signs[at]
        if name in names:
            signs[at] = f"{name}:{names[name]}" if keyed else names[name]
    return "".join(signs)


def _variables(signs: Sequence[str]) -> Iterator[tuple[int, bool]]:
    """Find each word that names a variable, and whether it is the key of the same name too."""
    seen = [at for at, sign in enumerate(signs) if not sign.isspace()]
    inside: list[str] = []
    before = ""
    for at, following in zip(seen, [*seen[1:], -1], strict=True):
        sign, after = signs[at], signs[following] if following >= 0 else ""
        if sign[0] in _LETTERS:
            if before != ".":
                at_key = inside[-1:] == ["key"] and before in ("{", ",")
                if not (at_key and after == ":"):
                    yield at, at_key and after in (",", "}", "=")
        elif sign in ("(", "[", "{"):
            inside.append("key" if sign == "{" and before in _OPENS_OBJECT else sign)
        elif sign in (")", "]", "}"):
            inside.pop()
        before = sign


def _declared(signs: Sequence[str]) -> Iterator[str]:
    """Name what is declared: after ``const`` and ``let``, as what a function takes, or of a list of both."""
    whole = "".join(signs)
    yield from re.findall(r"(?:(?:const|let) |,)(\w+)(?:=(?!=)| of )", whole)
    yield from re.findall(r"(?<![\w$.])(\w+)=>", whole)
    for at, sign in enumerate(signs):
        if sign == "=>" and signs[at - 1] == ")":
            yield from _taken(signs, _opening(signs, at - 1))
        elif sign in ("const", "let"):
            first = next(k for k in range(at + 1, len(signs)) if not signs[k].isspace())
            if signs[first] in ("{", "["):
                yield from _taken(signs, first)


def _opening(signs: Sequence[str], end: int) -> int:
    """Find the bracket that one closes."""
    deep = 0
    for at in range(end, -1, -1):
        deep += (signs[at] in (")", "]", "}")) - (signs[at] in ("(", "[", "{"))
        if not deep:
            return at
    msg = f"nothing opens what sign {end} closes"
    raise ValueError(msg)


def _taken(signs: Sequence[str], first: int) -> Iterator[str]:
    """Name what stands in the brackets of a pattern, without the values for what is not given."""
    deep, value_at = 0, 0
    for at in range(first, len(signs)):
        sign = signs[at]
        if sign in ("(", "[", "{"):
            deep += 1
        elif sign in (")", "]", "}"):
            value_at = value_at if deep > value_at else 0
            deep -= 1
            if not deep:
                return
        elif sign == "=" and not value_at:
            value_at = deep
        elif sign == "," and deep == value_at:
            value_at = 0
        elif not value_at and sign[0] in _LETTERS and signs[at + 1] != ":":
            yield sign
