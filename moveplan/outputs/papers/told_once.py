"""What stands in the list word for word more than once: where it is told first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from moveplan.outputs.agenda import Agenda, Line


@dataclass(frozen=True, slots=True)
class ToldOnce:
    """Where a page, which puts texts in again by its script, writes them out.

    Parameters
    ----------
    care : Mapping of str to Line
        The first line that calls for a caution, by the caution's id.
    steps : Mapping of str to Line
        The first line that has the very steps of a later one, by the id of the later task.
    """

    care: Mapping[str, Line]
    steps: Mapping[str, Line]

    @property
    def shared(self) -> frozenset[str]:
        """Ids of the tasks whose steps a later one has too."""
        return frozenset(line.task.id for line in self.steps.values())


def told_once(agenda: Agenda) -> ToldOnce:
    """Find what was told before, in the order of the list."""
    care: dict[str, Line] = {}
    first: dict[tuple[str, ...], Line] = {}
    steps: dict[str, Line] = {}
    for line in agenda.lines:
        for caution in line.task.cautions:
            care.setdefault(caution, line)
        before = first.setdefault(line.task.steps, line)
        if before is not line and line.task.steps:
            steps[line.task.id] = before
    return ToldOnce(care, steps)
