"""Words and phrases that must not stand where people read: inverted, odd, or a solver's.

The list is the rule by examples: subject first, verb second, everyday words. What programs print in the pages is
made elsewhere and read there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from moveplan.cli.app import app
from tests.docs.pages import BLOCK, GUIDE, MADE, ROOT

NOT_SAID = (
    r"moveplan log\b(?!` is called)",
    r"as then\b",
    r"falls? out\b",
    r"\bthe eve\b",
    r"\byardstick\b",
    r"\bthe clock serves\b",
    r"strikes? from\b",
    r"schedules nothing",
    r"sets the ways",
    r"played through",
    r"hang together",
    r"nothing .* ring",
    r"\blet no(thing| calendar)",
    r"a date that others set",
    r"without a word\b",
    r"\bFEASIBLE\b|\bOPTIMAL\b|\bINFEASIBLE\b",
    r"engine (exact|serial)",
    r"\bit is not shown to be\b",
    r"way out:",
    r"kept from being earlier",
    r"as the plan stands",
    r"at the price of every",
    r"with the skill\b",
    r"\bbill by its lines\b",
    r"\bno hands but\b",
    r"moves the finish by",
    r"the facts allow",
    r"\bsomeone keeps\b",
    r"print the version and leave",
    r"the same of the new tank",
    r"go on from this",
    r"of an? usual machine",
    r"\bis to be had\b|\bnot to be had\b",
    r"\bwho has not\b",
    r"\bbelongs into\b",
    r"\bno ill animal without\b",
    r"\bdraws damp\b",
    r"look every animal",
    r"\btalk the day\b",
    r"not a promise of it",
    r"looking back weighs",
    r"last meter reading belongs",
    r"\bare under way\"|under way$",
    r"\b(sheet|paper|event|calendar|file|token|label|one)s? an? (person|evening|event|container|vehicle|moving day)\b",
    r"\btold apart\b",
    r"\bmay so\b",
    r"\bpurpose a litre\b",
    r"\bwanted of\b",
    r"\bmissed least\b",
    r"\bthe evening before the last\b",
    r"as long as you do not",
    r"already taken off",
    r"the same bytes\b",
    r"fault to report|please report",
    r"\bpairs? of hands\b",
    r"\bstands on the drive\b|\bon the drive of\b",
    r"\breckoned with\b",
    r"what ends it:",
)
"""Patterns, in any case. Each was found in a text of this program by somebody who read it twice."""


def texts() -> Iterator[tuple[str, str]]:
    """Give every text that people read, by where it stands."""
    for page in ("README.md", *GUIDE):
        text = (ROOT / page).read_text("utf-8")
        yield page, BLOCK.sub("", MADE.sub("", text))
    for file in sorted((ROOT / "templates").rglob("*.*")):
        if file.suffix in (".j2", ".toml", ".txt", ".md"):
            yield (
                str(file.relative_to(ROOT)),
                re.sub(r"\{#.*?#\}|\{%.*?%\}", "", file.read_text("utf-8"), flags=re.DOTALL),
            )
    shown = [name for name, command in typer.main.get_group(app).commands.items() if not command.hidden]
    for command in ("", *shown):
        said = CliRunner().invoke(app, [*filter(None, [command]), "--help"], terminal_width=10_000).stdout
        yield f"moveplan {command} --help", said


TEXTS = list(texts())


@pytest.mark.parametrize(("where", "text"), TEXTS, ids=[where for where, _text in TEXTS])
def test_no_word_that_has_to_be_read_twice(where: str, text: str) -> None:
    found = [
        f"{where}:{text.count(chr(10), 0, one.start()) + 1}: {one[0]}"
        for pattern in NOT_SAID
        for one in re.finditer(pattern, text, re.IGNORECASE | re.MULTILINE)
    ]
    assert found == []


def test_the_list_would_find_what_it_names() -> None:
    said = "In the guide: the first stays the yardstick, and it says as then. Print the version and leave."
    assert sum(bool(re.search(pattern, said, re.IGNORECASE)) for pattern in NOT_SAID) == 3
    assert (ROOT / Path("README.md")).is_file()
