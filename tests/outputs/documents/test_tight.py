from __future__ import annotations

from collections.abc import Callable

import html5lib  # type: ignore[import-untyped]
import pytest

from moveplan.outputs.documents.page import page_html
from moveplan.outputs.documents.tight import tight
from moveplan.outputs.outlook import Outlook
from moveplan.pipeline import Settings, judge
from tests.examples import NAMES, scheduled
from tests.outputs.documents.test_page import PAGES
from tests.outputs.figures.test_filters import outlook as ripening

PLANNED = [name for name in NAMES if name != "impossible_dates"]


def _written_out(text: str) -> str:
    """The page that the parser of the HTML Standard makes of a text, with every end and every quotation mark."""
    whole = html5lib.serialize(
        html5lib.parse(text),
        omit_optional_tags=False,
        quote_attr_values="always",
        minimize_boolean_attributes=False,
    )
    assert isinstance(whole, str)
    return whole


@pytest.mark.parametrize("made", [*PAGES.values(), ripening], ids=[*PAGES, "ripening"])
def test_in_fewer_signs_it_is_the_same_page_without_a_parse_error(made: Callable[[], Outlook]) -> None:
    page = page_html(made())
    short = tight(page)
    parser = html5lib.HTMLParser()
    parser.parse(short)
    assert parser.errors == []
    assert _written_out(short) == _written_out(page)
    assert len(short) < len(page)


@pytest.mark.parametrize(
    "text",
    [
        "<p>1</p>words",
        '<p>1</p><a href="b">2</a>',
        "<ul><li>1</li></ul>",
        "<div><p>1</p></div>",
        "<dl><div><dt>1</dt><dd>2</dd></div><dt>3</dt><dd><p>4</p></dd></dl>",
        "<table><thead><tr><th>1</th></tr></thead><tbody><tr><th>2</th><td><p>3</p></td></tr></tbody></table>",
        '<select><optgroup label="a b"><option value="">1</option></optgroup><option>2</option></select>',
        '<svg viewBox="0 0 1 1"><use href="#a"/><g class="b"/><text x="1">2</text></svg>',
        '<p title="a=b" lang="en" id="a&#39;b">&#39;&lt;&#34;</p>',
        '<p>1</p><script>a="<p>1</p><p id=\\"b\\">"</script><textarea>\n<p>1</p><p>2</p>&#39;</textarea>',
        '<svg viewBox="0 0 1 1"><path d="M0 0h1"/><rect x="1" width="9.09%"/><use href="#a/b"/></svg>',
        '<style>a[b="c"]>d{}</style><details><summary>1</summary><p>2</p></details>',
    ],
)
def test_what_the_standard_does_not_let_out_stays(text: str) -> None:
    page = f"<!DOCTYPE html><html><head><title>t</title></head><body>{text}</body></html>"
    assert _written_out(tight(page)) == _written_out(page)


def test_a_value_before_a_slash_is_kept_apart_from_it_by_a_space() -> None:
    assert (
        tight('<svg><rect x="1" y="2"/><path d="M0 0"/></svg>')
        == '<svg><rect x=1 y=2 /><path d="M0 0"/></svg>'
    )


@pytest.mark.parametrize("name", PLANNED)
def test_the_page_of_every_example_is_small(name: str) -> None:
    """Up to 220 tasks with steps, links, run sheets, labels and the crew's card: a page to be sent by mail."""
    page = tight(page_html(judge(*scheduled(name), Settings(runs=200))))
    assert len(page.encode()) <= (400_000 if name == "house_move" else 450_000)
