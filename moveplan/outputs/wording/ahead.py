"""Loads what writes the documents and compiles their templates ahead, a little at a time, while a solver works."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from importlib import import_module

from moveplan.compiled import template_folder
from moveplan.outputs.wording.documents import printer
from moveplan.outputs.wording.facts import facts_of
from moveplan.outputs.wording.templates import Target
from moveplan.practice.project import Project

_MODULES = (
    *(
        f"moveplan.outputs.{name}"
        for name in (
            "calendar.export",
            "documents.page",
            "documents.checklist",
            "documents.summary",
            "documents.shopping",
            "documents.printing",
            "data.table",
            "data.result",
        )
    ),
)
_TEMPLATES: tuple[tuple[Target, tuple[str, ...]], ...] = (
    ("html", ("index.html.j2", "parts/words.j2", "parts/first_aid.j2", "parts/*.html.j2")),
    ("markdown", ("checklist.md.j2", "summary.md.j2", "shopping.md.j2", "parts/words.j2", "parts/*.md.j2")),
    (
        "text",
        (
            "calendar/*.txt.j2",
            "parts/words.j2",
            "terminal/built.txt.j2",
            "terminal/found.txt.j2",
            "terminal/stake.txt.j2",
        ),
    ),
)


def getting_ready(project: Project) -> Callable[[], bool]:
    """Give what loads one module or compiles one template at each call, and tells whether there was one left.

    Parameters
    ----------
    project : Project
        Its printing functions are asked for by the templates.
    """
    pieces = _pieces(project)
    return lambda: next(pieces, None) is not None


def _pieces(project: Project) -> Iterator[str]:
    for module in _MODULES:
        import_module(module)
        yield module
    folder, facts = template_folder(), facts_of(project)
    for target, patterns in _TEMPLATES:
        compiler = printer(target, facts)
        for pattern in patterns:
            for file in sorted(folder.glob(pattern)):
                name = file.relative_to(folder).as_posix()
                compiler.get_template(name)
                yield name
