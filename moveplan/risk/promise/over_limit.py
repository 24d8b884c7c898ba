"""Groups of animals that pass their safe time more often than the plan accepts."""

from __future__ import annotations

from moveplan.errors import Problem
from moveplan.practice.project import Project
from moveplan.risk.register.words import problem_words
from moveplan.risk.summary import RiskSummary

_MOST_DIGITS = 6
"""Most digits behind the point of a share, to tell two shares apart. [-]"""


def over_limit(project: Project, risk: RiskSummary, *, late: bool = False) -> tuple[Problem, ...]:
    """Say which groups those are, and what would help.

    Parameters
    ----------
    project : Project
        Its plan says which chance is accepted.
    late : bool
        Whether the point of no return is passed: no container and no day can be chosen any more.
    """
    chances, accepted = dict(risk.over_limit), project.plan.safe_time_risk
    return tuple(
        _problem(
            project,
            route.livestock,
            route.name,
            chances[route.livestock],
            problem_words("over-limit-late") if late else _remedy(project, risk, route.livestock),
        )
        for route in project.routes
        if chances.get(route.livestock, 0.0) > accepted
    )


def _problem(project: Project, livestock: str, name: str, chance: float, remedy: str) -> Problem:
    accepted = project.plan.safe_time_risk
    digits = max(digits_apart(chance, accepted), digits_as_written(accepted))
    message = problem_words(
        "over-limit",
        animals=name,
        chance=percent(chance, digits),
        accepted=percent(accepted, digits),
    )
    return Problem(message, project.plan.where(f"livestock.{livestock}"), remedy)


def _remedy(project: Project, risk: RiskSummary, livestock: str) -> str:
    """Go against the risk that mostly lies behind it, if one does."""
    breaks = risk.promise.breaks if risk.promise else ()
    roots = (root for one in breaks if (one.what, one.id) == ("safe-time", livestock) for root in one.roots)
    root = next((root for root in roots if root.what == "risk"), None)
    if root is None:
        return _longer(project, livestock)
    event = next(entry.event for entry in risk.register if entry.id == root.id)
    return problem_words("over-limit-behind", event=event, share=percent(root.share, 0))


def _longer(project: Project, livestock: str) -> str:
    route = next(one for one in project.routes if one.livestock == livestock)
    extends = tuple(dict.fromkeys(way for stop in route.stops if stop.safe for way in stop.safe.extends))
    kind = "over-limit-longer" if extends else "over-limit-shorter"
    return problem_words(kind, ways="; ".join(extends))


def digits_apart(one: float, other: float) -> int:
    """Tell how many digits a percentage needs so that two shares do not look the same.

    >>> digits_apart(0.052, 0.05)
    1
    """
    return next(
        (digits for digits in range(_MOST_DIGITS) if percent(one, digits) != percent(other, digits)),
        _MOST_DIGITS,
    )


def digits_as_written(share: float) -> int:
    """Tell how many digits a percentage needs to say what somebody wrote, and not 0 % for a half.

    >>> digits_as_written(0.05), digits_as_written(0.005)
    (0, 1)
    """
    return next(
        (digits for digits in range(_MOST_DIGITS) if abs(round(100 * share, digits) - 100 * share) < 1e-9),
        _MOST_DIGITS,
    )


def percent(share: float, digits: int) -> str:
    """Write a share as a percentage.

    >>> percent(0.052, 1)
    '5.2 %'
    """
    return f"{100 * share:.{digits}f} %"
