from __future__ import annotations

import sys
from functools import partial
from pathlib import Path

import pytest
from jinja2 import Environment, TemplateSyntaxError, UndefinedError

import moveplan
from moveplan.compiled import template_folder
from moveplan.outputs.wording import templates
from moveplan.outputs.wording.templates import Target, environment

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


@pytest.fixture
def template(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A template of its own; what is compiled from it may be kept."""
    monkeypatch.setattr(templates, "template_folder", lambda: tmp_path)
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", None)
    file = tmp_path / "one.txt.j2"
    file.write_text("1{{ x }}", encoding="utf-8")
    return file


def in_a_new_process(target: Target, monkeypatch: pytest.MonkeyPatch) -> str:
    """Fill the template in where nothing is kept but what is in files; what is new is kept in them."""
    monkeypatch.setattr(templates, "_COMPILED", {target: templates._compiled(target)})
    text = environment(target).get_template("one.txt.j2").render(x="<")
    templates._COMPILED[target].kept.save()
    return text


def test_what_was_compiled_is_read_again_until_the_text_or_the_settings_change(
    template: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert in_a_new_process("text", monkeypatch) == "1<"
    with monkeypatch.context() as kept:
        kept.setattr(Environment, "compile", None)
        assert in_a_new_process("text", monkeypatch) == "1<"
    assert in_a_new_process("html", monkeypatch) == "1&lt;"
    template.write_text("2{{ x }}", encoding="utf-8")
    assert in_a_new_process("text", monkeypatch) == "2<"
    monkeypatch.setattr(templates, "_Plain", partial(templates._Plain, variable_start_string="{{ x"))
    with pytest.raises(TemplateSyntaxError):
        in_a_new_process("text", monkeypatch)


def test_what_may_not_be_kept_is_compiled_each_time(template: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    beside = template.parent / "__pycache__"
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert in_a_new_process("text", monkeypatch) == "1<"
    assert not beside.exists()
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    beside.write_text("no folder")
    assert in_a_new_process("text", monkeypatch) == "1<"


def test_what_a_filter_prints_is_not_kept(template: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    template.write_text("{{ 2 | told }}", encoding="utf-8")
    printed = []
    for unit in ("mm", "in", "mm"):
        with monkeypatch.context() as anew:
            anew.setattr(templates, "_COMPILED", {"text": templates._compiled("text")})
            env = environment("text")
            env.filters["told"] = lambda value, unit=unit: f"{value} {unit}"
            printed.append(env.get_template("one.txt.j2").render())
            templates._COMPILED["text"].kept.save()
    assert printed == ["2 mm", "2 in", "2 mm"]


def test_what_the_template_itself_says_is_not_escaped_where_it_stands_in_braces() -> None:
    assert rendered("markdown", 'a{{ " " }}b{{ "*" }}') == "a b*"
