"""Finds and loads the templates that hold the wording of every document."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Literal

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Undefined
from markupsafe import Markup

from moveplan.compiled import Compiled, LateFilters, template_folder
from moveplan.outputs.wording.escape import clean, escape_markdown, one_line

Target = Literal["html", "markdown", "text"]


def _html(value: object) -> str:
    """Print a value; a float is a coordinate, and whole ones need no decimals."""
    return str(value).removesuffix(".0") if isinstance(value, float) else clean(str(value))


def _markdown(value: object) -> str:
    return Markup(escape_markdown(str(value)))  # noqa: S704 - escaped for its target just here


def _text(value: object) -> str:
    return Markup(one_line(str(value)))  # noqa: S704 - plain text has nothing to escape


_PRINTED_AS: dict[Target, Callable[[object], str]] = {"html": _html, "markdown": _markdown, "text": _text}


_Plain = partial(
    LateFilters,
    autoescape=True,  # for Markdown and text the finaliser has marked values as escaped already
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    keep_trailing_newline=True,
    optimized=False,  # each template is filled once or twice: folding its constants takes longer than it saves
    auto_reload=False,
)
"""What all environments share."""


def _compiled(target: Target) -> Compiled:
    return Compiled(lambda: template_folder() / f"{target}.j2", _Plain)


_COMPILED: dict[Target, Compiled] = {target: _compiled(target) for target in _PRINTED_AS}


def _finaliser(printed_as: Callable[[object], str]) -> Callable[[object], object]:
    def finalise(value: object) -> object:
        if isinstance(value, (Markup, Undefined)):
            return value
        if value is None:
            msg = "a template printed a value that is None"
            raise ValueError(msg)
        return printed_as(value)

    return finalise


def environment(target: Target) -> Environment:
    r"""Make a template environment that escapes every printed value for its target.

    A name that does not exist, and a value of None, are errors. What a macro, a call block or a ``set`` block
    gives is already escaped and is printed as it is; so is a value marked ``safe``. Never glue a safe piece
    to plan text with ``~``: print the two one after the other.

    Parameters
    ----------
    target : str
        ``html`` (values escaped for text and quoted attributes), ``markdown`` (a value is one line that opens
        nothing) or ``text`` (a value is one line without control characters).

    Returns
    -------
    jinja2.Environment
        Several of one target share what they compile.

    Examples
    --------
    >>> print(environment("markdown").from_string("# {{ title }}").render(title="A | B"))
    # A \| B
    """
    return _Plain(
        loader=FileSystemLoader(template_folder(), encoding="utf-8"),
        finalize=_finaliser(_PRINTED_AS[target]),
        bytecode_cache=_COMPILED[target],
    )
