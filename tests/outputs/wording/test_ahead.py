"""Templates are compiled ahead, one at a time, and none of a build is left out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import jinja2
import pytest

from moveplan.kept import Kept
from moveplan.outputs.calendar.export import calendar_bytes
from moveplan.outputs.calendar.options import CalendarOptions
from moveplan.outputs.documents.checklist import checklist_md
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.documents.shopping import shopping_md
from moveplan.outputs.documents.summary import summary_md
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.wording import templates
from moveplan.outputs.wording.ahead import _MODULES, getting_ready
from tests.outputs.scene import impossible, moving_day, risk


@pytest.fixture
def compiled(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> list[str]:
    """Names of the templates that are compiled, in order, where none is compiled yet."""
    for compiled in templates._COMPILED.values():
        monkeypatch.setattr(compiled, "kept", Kept(tmp_path / "nothing"))
    names: list[str] = []
    compile_one = jinja2.Environment.compile

    def told(self: jinja2.Environment, source: Any, name: Any = None, *rest: Any, **named: Any) -> Any:
        if name is not None:
            names.append(name)
        return compile_one(self, source, name, *rest, **named)

    monkeypatch.setattr(jinja2.Environment, "compile", told)
    return names


def documents(outlook: Outlook) -> None:
    for document in (page_html, checklist_md, summary_md, shopping_md):
        document(outlook)
    if outlook.schedule.placements:
        calendar_bytes(outlook, None, CalendarOptions())


@pytest.mark.parametrize("outlook", [replace(moving_day(), risk=risk(10000)), impossible()])
def test_nothing_is_left_to_compile_for_the_documents(compiled: list[str], outlook: Outlook) -> None:
    piece = getting_ready(outlook.project)
    while piece():
        pass
    ahead = list(compiled)
    documents(outlook)
    assert ahead
    assert compiled == ahead


def test_one_call_loads_one_module_or_compiles_one_template(compiled: list[str]) -> None:
    piece = getting_ready(moving_day().project)
    for _ in _MODULES:
        assert piece()
    for calls in range(1, 4):
        assert len(compiled) == calls - 1
        assert piece()
