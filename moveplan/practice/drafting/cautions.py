"""Dangers, the usual care, and whose word decides."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from functools import cache
from typing import Any

from moveplan.compiled import template_folder
from moveplan.kept import table_of
from moveplan.network.task import Task
from moveplan.practice.project import Caution
from moveplan.science.animals.livestock import Kind


@cache
def cautions() -> Mapping[str, Caution]:
    """Read the table of cautions."""
    return {name: Caution(name, row["text"], row["source"]) for name, row in _table().items()}


@cache
def _table() -> Mapping[str, Mapping[str, Any]]:
    return table_of(template_folder() / "cautions.toml")


def applying(names: Iterable[str], kinds: Collection[Kind]) -> tuple[str, ...]:
    """Keep the cautions that come with no animal, and those whose animal is there.

    Parameters
    ----------
    names : iterable of str
        Ids of cautions.
    kinds : collection of Kind
        Kinds of the animals that are there.

    Examples
    --------
    >>> applying(("glass", "zoanthids"), ())
    ('glass',)
    """
    return tuple(name for name in names if _applies(_table()[name], kinds))


def _applies(row: Mapping[str, Any], kinds: Collection[Kind]) -> bool:
    groups, rules = row.get("groups", ()), row.get("rules", ())
    if not groups and not rules:
        return True
    return any(kind.group in groups or set(kind.container) & set(rules) for kind in kinds)


def cautions_of(tasks: Iterable[Task]) -> tuple[Caution, ...]:
    """List the cautions that some task names, in the order of the table."""
    named = {caution for task in tasks for caution in task.cautions}
    return tuple(caution for name, caution in cautions().items() if name in named)
