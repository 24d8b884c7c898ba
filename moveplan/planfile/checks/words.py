"""Faults at a key path of a draft."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.near import nearest
from moveplan.planfile.draft import Draft
from moveplan.planfile.fill.head import purpose_of
from moveplan.planfile.problems import Fault, unknown
from moveplan.planfile.shapes import keys_at
from moveplan.planfile.wording import missing_key


def at(draft: Draft, path: tuple[str, ...], message: str, remedy: str = "") -> Fault:
    """Word a fault at a key path, or at the nearest block above it."""
    return Fault(draft.line(*path), path, message, remedy)


def absent(draft: Draft, path: tuple[str, ...], name: str, example: str) -> Iterator[Fault]:
    """Word a key that is missing, unless something is wrong with it or it is misspelt."""
    holder = draft.node(*path)
    if holder is None or draft.has(*path, name) or not isinstance(holder.value, dict):
        return
    known = keys_at(path)
    if not any(key not in known and nearest(key, known) == name for key in holder.value):
        yield missing_key(holder, path, name, example)


def not_there(draft: Draft, path: tuple[str, ...], thing: str, section: str, name: str) -> Iterator[Fault]:
    """Word a reference to an entry that a section does not have."""
    known = draft.ids(section)
    if name not in known:
        message, remedy = unknown(thing, name, known)
        yield at(draft, path, message, remedy)


def purpose(draft: Draft) -> str:
    """Purpose of the plan; empty where the one that is written is wrong."""
    if draft.entry.purpose is None and draft.has("purpose"):
        return ""
    return draft.entry.purpose or purpose_of(draft.entry).text
