"""Small changes of a module that a good test notices."""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

_SWAPPED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.And: ast.Or,
    ast.Or: ast.And,
}
_OTHER_NAME = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil"}
_GREATER = 1.1
"""What a decimal number is multiplied by: a tenth more, which a check against a source has to see."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """A module with one small change.

    Parameters
    ----------
    path : str
        The module.
    line : int
        Where it is changed.
    text : str
        That line, as it stands there.
    before, after : str
        The expression before and after.
    code : str
        The whole module.
    """

    path: str
    line: int
    text: str
    before: str
    after: str
    code: str


def mutants_of(path: str, root: Path) -> Iterator[Mutant]:
    """Give every mutant of a module, in the order of its lines.

    Parameters
    ----------
    path : str
        The module.
    root : Path
        The folder from which it is named.
    """
    sound = (root / path).read_text("utf-8")
    tree, lines = ast.parse(sound), sound.splitlines()
    nodes = list(_worth_changing(tree))
    for position, node in enumerate(nodes):
        for change in _changes(node):
            trial = copy.deepcopy(tree)
            target = list(_worth_changing(trial))[position]
            before = ast.unparse(target)
            change(target)
            line = getattr(node, "lineno", 0)
            text = lines[line - 1].strip()
            yield Mutant(path, line, text, before, ast.unparse(target), ast.unparse(trial))


def _worth_changing(node: ast.AST) -> Iterator[ast.AST]:
    """Walk over what is carried out; types, messages and texts are left alone."""
    if isinstance(node, ast.JoinedStr | ast.Raise | ast.Import | ast.ImportFrom):
        return
    yield node
    for name, field in ast.iter_fields(node):
        if name not in {"annotation", "returns", "decorator_list", "slice_type"}:
            for inner in field if isinstance(field, list) else [field]:
                if isinstance(inner, ast.AST):
                    yield from _worth_changing(inner)


def _changes(node: ast.AST) -> Iterator[Callable[[ast.AST], None]]:
    match node:
        case ast.Compare(ops=ops):
            yield from (_swap_one(number) for number in range(len(ops)) if type(ops[number]) in _SWAPPED)
        case ast.BinOp() | ast.BoolOp() if type(node.op) in _SWAPPED:
            yield _swap
        case ast.Constant(value=bool()) | ast.Constant(value=int()) | ast.Constant(value=float()):
            yield _other_value
        case ast.Call(func=ast.Name(id=name)) if name in _OTHER_NAME:
            yield _other_call
        case ast.UnaryOp(op=ast.USub() | ast.Not()):
            yield _bare
        case ast.If() | ast.IfExp():
            yield _other_way


def _swap_one(number: int) -> Callable[[ast.AST], None]:
    def swap(node: ast.AST) -> None:
        assert isinstance(node, ast.Compare)
        node.ops[number] = _SWAPPED[type(node.ops[number])]()  # type: ignore[call-overload]

    return swap


def _swap(node: ast.AST) -> None:
    node.op = _SWAPPED[type(node.op)]()  # type: ignore[attr-defined]


def _other_value(node: ast.AST) -> None:
    assert isinstance(node, ast.Constant)
    value = node.value
    if isinstance(value, bool):
        node.value = not value
    elif isinstance(value, int):
        node.value = value + 1
    elif isinstance(value, float):
        node.value = value * _GREATER or 1.0


def _other_call(node: ast.AST) -> None:
    assert isinstance(node, ast.Call)
    assert isinstance(node.func, ast.Name)
    node.func.id = _OTHER_NAME[node.func.id]


def _bare(node: ast.AST) -> None:
    """Take a sign away, by putting the sign plus, or two nots, in its place."""
    assert isinstance(node, ast.UnaryOp)
    if isinstance(node.op, ast.USub):
        node.op = ast.UAdd()
    else:
        node.operand = ast.UnaryOp(ast.Not(), node.operand)


def _other_way(node: ast.AST) -> None:
    assert isinstance(node, ast.If | ast.IfExp)
    node.test = ast.UnaryOp(ast.Not(), node.test)
