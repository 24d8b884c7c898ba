"""A register as it is once some measures are taken."""

from __future__ import annotations

from moveplan.risk.register.changes import Register, ranked, with_measures


def taken(register: Register, measures: tuple[str, ...]) -> Register:
    return ranked(tuple(with_measures(entry, measures) for entry in register))
