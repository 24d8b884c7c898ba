"""Changes of the code that no test notices, and why that is right."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

from tests.mutation.mutants import Mutant

FILE = Path(__file__).parent / "known.toml"

Key = tuple[str, str, str, str]


@cache
def known() -> dict[Key, str]:
    """Give the reason of each change by module, line of code, and expression before and after."""
    rows = tomllib.loads(FILE.read_text("utf-8"))["change"]
    return {(row["module"], row["line"], row["before"], row["after"]): row["reason"] for row in rows}


def reason(mutant: Mutant) -> str:
    """Say why a change may stay unnoticed; empty where that is not known."""
    return known().get((mutant.path, mutant.text, mutant.before, mutant.after), "")
