"""Dangers, the usual care, and whose word decides."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache

from moveplan.network.task import Task
from moveplan.practice.project import Caution
from moveplan.practice.wording import templates_folder


@cache
def cautions() -> Mapping[str, Caution]:
    """Read the table of cautions."""
    table = tomllib.loads((templates_folder() / "cautions.toml").read_text("utf-8"))
    return {name: Caution(name, row["text"], row["source"]) for name, row in table.items()}


def cautions_of(tasks: Iterable[Task]) -> tuple[Caution, ...]:
    """List the cautions that some task names, in the order of the table."""
    named = {caution for task in tasks for caution in task.cautions}
    return tuple(caution for name, caution in cautions().items() if name in named)
