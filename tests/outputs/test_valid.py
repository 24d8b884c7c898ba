from __future__ import annotations

import html5lib  # type: ignore[import-untyped]
import pytest

from moveplan.outputs.documents.page import page_html, sheet_html
from moveplan.outputs.documents.printing import SHEETS
from tests.outputs.documents.test_page import PAGES
from tests.outputs.figures.test_filters import outlook as ripening
from tests.outputs.scene import moving_day


def _errors(text: str) -> list[str]:
    """What the parser of the HTML Standard has to complain about."""
    parser = html5lib.HTMLParser()
    parser.parse(text)
    return [f"{place}: {name} {values}" for place, name, values in parser.errors]


@pytest.mark.parametrize("name", PAGES)
def test_the_page_has_no_parse_error_of_the_html_standard(name: str) -> None:
    assert _errors(page_html(PAGES[name]())) == []


def test_the_page_of_a_ripening_filter_has_none() -> None:
    assert _errors(page_html(ripening())) == []


@pytest.mark.parametrize("sheet", SHEETS)
def test_printed_sheets_have_none(sheet: str) -> None:
    found = {key: sheet_html(moving_day(), key, "A4") for key in SHEETS}
    text = found[next(key for key in SHEETS if key == sheet)]
    assert text is not None
    assert _errors(text) == []
