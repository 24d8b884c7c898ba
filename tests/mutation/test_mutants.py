"""The changes that mutation testing makes."""

from __future__ import annotations

from pathlib import Path

from tests.mutation.known import known, reason
from tests.mutation.mutants import Mutant, mutants_of

ROOT = Path(__file__).parents[2]
MODULE = '''
"""A module of 3 lines."""
def price(count: int = 2, rate: float = 1.5) -> float:
    """Give a price."""
    if count < 0 or not rate:
        raise ValueError("1 < 2")
    return min(count * rate, -10)
'''


def test_each_mutant_is_one_change_of_what_is_carried_out(tmp_path: Path) -> None:
    (tmp_path / "module.py").write_text(MODULE, "utf-8")
    found = list(mutants_of("module.py", tmp_path))
    assert {(one.before, one.after) for one in found if one.line != 5} == {
        ("2", "3"),
        ("1.5", "1.6500000000000001"),
        ("min(count * rate, -10)", "max(count * rate, -10)"),
        ("count * rate", "count / rate"),
        ("-10", "+10"),
        ("10", "11"),
    }
    assert {one.after for one in found if one.line == 5 and "raise" not in one.after} == {
        "count < 0 and (not rate)",
        "count <= 0",
        "1",
        "not not rate",
    }
    assert len({one.code for one in found}) == len(found)
    for one in found:
        compile(one.code, one.path, "exec")


def test_each_known_change_is_one_of_a_line_that_stands_there() -> None:
    for module, line, before, after in known():
        stands = {text.strip() for text in (ROOT / module).read_text("utf-8").splitlines()}
        assert line in stands, f"{module} has no such line any more: {line}"
        assert before != after


def test_a_change_is_known_by_its_line_and_not_by_where_that_stands(tmp_path: Path) -> None:
    (module, line, before, after), why = next(iter(known().items()))
    assert reason(Mutant(module, 7, line, before, after, "")) == why
    assert not reason(Mutant(module, 7, f"{line} ", before, after, ""))
