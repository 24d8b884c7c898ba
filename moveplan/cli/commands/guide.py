"""``moveplan guide``: the pages of the guide, which travel with the program."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

import moveplan
from moveplan.errors import PlanFileError, Problem


def _folder() -> Path:
    return Path(moveplan.__file__).parent / "guide"


def page_names() -> list[str]:
    """Names of the pages of the guide."""
    return sorted(path.stem for path in _folder().glob("*.md"))


def _begun(begun: str) -> list[str]:
    return [name for name in page_names() if name.startswith(begun)]


Page = Annotated[
    str,
    typer.Argument(
        help="Which page; without one, they are listed.",
        metavar="PAGE",
        show_default=False,
        autocompletion=_begun,
    ),
]


def guide(page: Page = "") -> None:
    """Print a page of the guide, or list the pages.

    Example: moveplan guide phone
    """
    from moveplan.cli.terminal.paper import show_text

    show_text(_text(page) if page else _listed())


def _text(page: str) -> str:
    from moveplan.planfile.problems import unknown

    wanted = page.removesuffix(".md").replace("-", "_")
    if wanted not in page_names():
        message, remedy = unknown("page", page, page_names())
        raise PlanFileError((Problem(message.replace("; the plan has ", "; there are "), "", remedy),))
    return (_folder() / f"{wanted}.md").read_text("utf-8")


def _listed() -> str:
    """List each page with its heading."""
    names = page_names()
    width = max(map(len, names))
    rows = (f"  moveplan guide {name.ljust(width)}  {_heading(name)}\n" for name in names)
    return "".join(rows) + f"They are in {_folder()} too, with the pictures.\n"


def _heading(name: str) -> str:
    with (_folder() / f"{name}.md").open(encoding="utf-8") as page:
        return page.readline().lstrip("# ").strip()
