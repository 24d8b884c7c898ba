"""Each number that has a name says its unit, and why it is what it is."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import moveplan

HOUSE = Path(moveplan.__file__).parent
UNIT = re.compile(r"\[[^\[\]]+\]")


def _is_number(value: ast.expr | None) -> bool:
    if isinstance(value, ast.BinOp):
        return _is_number(value.left) and _is_number(value.right)
    if isinstance(value, ast.UnaryOp):
        return _is_number(value.operand)
    if isinstance(value, ast.Tuple):
        return all(map(_is_number, value.elts))
    return isinstance(value, ast.Constant) and type(value.value) in (int, float)


def _numbers(tree: ast.Module) -> Iterator[tuple[str, str]]:
    """Names of numbers at the level of a module or a class, each with the text below it."""
    for body in [tree.body, *(one.body for one in ast.walk(tree) if isinstance(one, ast.ClassDef))]:
        for one, below in zip(body, [*body[1:], None], strict=True):
            if not isinstance(one, ast.Assign | ast.AnnAssign) or not _is_number(one.value):
                continue
            name = one.target if isinstance(one, ast.AnnAssign) else one.targets[0]
            if (text := ast.unparse(name)).isupper():
                says = isinstance(below, ast.Expr) and isinstance(below.value, ast.Constant)
                yield text, str(below.value.value) if says else ""  # type: ignore[union-attr]


def _wanting(source: str) -> list[str]:
    return [
        name
        for name, text in _numbers(ast.parse(source))
        if not UNIT.search(text) or len(UNIT.sub("", text).split()) < 3
    ]


def test_each_number_says_its_unit_and_its_reason() -> None:
    found = {
        str(path.relative_to(HOUSE)): names
        for path in sorted(HOUSE.rglob("*.py"))
        if (names := _wanting(path.read_text(encoding="utf-8")))
    }
    assert found == {}


@pytest.mark.parametrize(
    "source",
    [
        "_MOST = 5",
        "_LEAST, _MOST = 5, 6",
        'MOST = 2 * 60\n"""How many, and why so many."""',
        'MOST = -1\n"""[-]"""',
        'class A:\n    MOST: int = 4\n    """Litres [l]."""',
    ],
)
def test_a_number_without_unit_or_reason_is_found(source: str) -> None:
    assert len(_wanting(source)) == 1


def test_what_says_both_passes() -> None:
    assert _wanting('LONG_MIN = 60\n"""An hour is long; assumed. [min]"""\nmost = 3\nNAME = "x"') == []
