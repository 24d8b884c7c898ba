"""The risk register of a project: the usual entries, what the plan changes, ranked by expected loss."""

from __future__ import annotations

from moveplan.practice.project import Project
from moveplan.risk.changes import Register, changed, ranked, with_measures
from moveplan.risk.default import default_register
from moveplan.scheduling.schedule import Schedule


def register_of(project: Project, schedule: Schedule) -> Register:
    """Make the register of a scheduled project.

    Parameters
    ----------
    project : Project
        Its way, tasks, animals and people. [-]
    schedule : Schedule
        Who is at a task answers its risks. [-]

    Returns
    -------
    tuple of RegisterEntry
        Ranked by expected loss; entries that only a simulation can give are not among them. [-]

    Raises
    ------
    PlanFileError
        Where the plan's changes name what there is not.
    """
    return ranked(changed(project, default_register(project, schedule)))


def taken(register: Register, measures: tuple[str, ...]) -> Register:
    """Reckon a register as if some measures had been taken, ranked anew.

    Parameters
    ----------
    register : tuple of RegisterEntry
        As it stands. [-]
    measures : tuple of str
        Ids of measures. [-]
    """
    return ranked(tuple(with_measures(entry, measures) for entry in register))
