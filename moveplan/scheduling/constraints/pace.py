"""How fast the solver goes on a model: what its deterministic time is in seconds, and which models are too large."""

from __future__ import annotations

from moveplan.scheduling.state.model import Job, Model

OWN_TASKS_A_SECOND, MOVE_A_SECOND = 0.6, 0.21
"""Deterministic time that the solver counts in a second of one core, presolving aside; measured on small models. [-]"""
_INTERVALS_ALIKE, _INTERVALS_CHOSEN = 110.0, 36.0
"""Deterministic time a second, times intervals, on large models of own tasks: where each interval is there, and where
people are chosen, so that many are not. Measured on 120 to 976 intervals: 77 to 134, and 31 to 36. [1/s]"""
_WRITING_ALIKE_S, _WRITING_CHOSEN_S = 1.5e-5, 8e-4
"""What writing the model takes an interval; measured on 120 tasks with gear, and on 1,000 with people to choose. [s]"""
_LEAST_A_SECOND = 0.08
"""Deterministic time a second below which a model is so slow that the solver finds nothing in seconds; measured. [-]"""
PRESOLVE_S_A_VARIABLE = 1e-4
"""What presolving a move takes for each variable, and no deterministic time counts; measured on the examples. [s]"""


def intervals_of(model: Model) -> int:
    """Count the intervals that a model of own tasks will have: stretches of work on people and on gear."""
    return sum((len(job.pool) + len(job.gear)) * _times(job) for job in model.jobs)


def _times(job: Job) -> int:
    return job.task.repeats.times if job.task.repeats is not None else 1


def own_tasks_a_second(model: Model) -> float:
    """Deterministic time that the solver counts in a second on a model of own tasks."""
    most = _INTERVALS_CHOSEN if _people_chosen(model) else _INTERVALS_ALIKE
    return min(OWN_TASKS_A_SECOND, most / max(intervals_of(model), 1))


def _people_chosen(model: Model) -> bool:
    return any(len(job.pool) > job.options[0].count for job in model.jobs)


def writing_s(model: Model) -> float:
    """Tell what writing a model of own tasks takes.

    Returns
    -------
    float
        Seconds. [s]
    """
    return (_WRITING_CHOSEN_S if _people_chosen(model) else _WRITING_ALIKE_S) * intervals_of(model)


def worth_a_model(model: Model) -> bool:
    """Whether the solver can do something in seconds with all own tasks in one model."""
    return own_tasks_a_second(model) >= _LEAST_A_SECOND
