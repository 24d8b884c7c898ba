from __future__ import annotations

from pathlib import Path

import pytest
from jinja2 import UndefinedError

import moveplan
from moveplan.outputs.wording.templates import Target, environment, template_folder

HOSTILE = "<b>|\n# x\x00"


def rendered(target: Target, source: str, **names: object) -> str:
    return environment(target).from_string(source).render(**names)


@pytest.mark.parametrize(
    ("target", "expected"),
    [("html", "&lt;b&gt;|\n# x"), ("markdown", r"\<b\>\| \# x"), ("text", "<b>| # x")],
)
def test_a_value_is_escaped_for_its_target_once(target: Target, expected: str) -> None:
    macro = "{% macro show(x) %}{{ x }}{% endmacro %}"
    block = "{% set kept %}{{ value }}{% endset %}"

    assert rendered(target, "{{ value }}", value=HOSTILE) == expected
    assert rendered(target, macro + "{{ show(value) }}", value=HOSTILE) == expected
    assert rendered(target, block + "{{ kept }}", value=HOSTILE) == expected
    assert rendered(target, "{{ [value] | join(', ') }}", value=HOSTILE) == expected
    assert rendered(target, "{{ value | safe }}", value=HOSTILE) == HOSTILE


def test_the_template_itself_is_not_escaped() -> None:
    assert rendered("markdown", "# {{ n }} | <br>\n", n=3) == "# 3 | <br>\n"
    assert rendered("html", '<b title="{{ t }}">', t='"x"') == '<b title="&#34;x&#34;">'


@pytest.mark.parametrize("target", ["html", "markdown", "text"])
def test_a_name_that_does_not_exist_is_an_error(target: Target) -> None:
    with pytest.raises(UndefinedError):
        rendered(target, "{{ nobody }}")


@pytest.mark.parametrize("target", ["html", "markdown", "text"])
def test_none_is_an_error(target: Target) -> None:
    with pytest.raises(ValueError, match="a template printed a value that is None"):
        rendered(target, "{{ x }}", x=None)


def test_templates_stand_beside_the_package_in_a_checkout() -> None:
    assert template_folder() == Path(moveplan.__file__).parent.parent / "templates"
    assert template_folder().is_dir()


def test_templates_stand_inside_the_package_where_it_is_installed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside = tmp_path / "moveplan" / "templates"
    inside.mkdir(parents=True)
    (inside / "words.txt.j2").write_text("Grüße, {{ name }}\n", encoding="utf-8")
    monkeypatch.setattr(moveplan, "__file__", str(tmp_path / "moveplan" / "__init__.py"))

    assert template_folder() == inside
    assert environment("text").get_template("words.txt.j2").render(name="Ines") == "Grüße, Ines\n"
