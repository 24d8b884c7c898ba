"""Entries under ``risks:`` say something, and do not gainsay themselves."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.planfile.checks.words import at
from moveplan.planfile.draft import Draft
from moveplan.planfile.problems import Fault, listed
from moveplan.planfile.schema.risks import STRIKE


def risks_say_something(draft: Draft) -> Iterator[Fault]:
    """Refuse entries without a key, and keys beside ``strike``."""
    for risk_id, entry in (draft.entry.risks or {}).items():
        node = draft.node("risks", risk_id)
        if node is None or not isinstance(node.value, dict):
            continue
        others = [key for key in node.value if key != STRIKE]
        if not node.value and not node.broken:
            yield at(draft, ("risks", risk_id), "says nothing", f'write "{STRIKE}", or what changes')
        elif entry.strike and others:
            message = f"the entry is taken out, and yet has {listed(others)}"
            yield at(draft, ("risks", risk_id, STRIKE), message, 'write "no", or take the other keys out')
