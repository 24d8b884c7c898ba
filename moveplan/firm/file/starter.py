"""A first firm file: the plans that lie beside it as its jobs, around a crew that is invented."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from uuid import uuid4

from moveplan.errors import PlanFileError
from moveplan.plan.move import Plan
from moveplan.planfile.reader import read_plan
from moveplan.times import to_local


@dataclass(frozen=True, slots=True)
class FirmStart:
    """What a first firm file says.

    Parameters
    ----------
    id, title, timezone, locale, country, currency, as_of : str
        As in the first of the plans; the id is new.
    jobs : tuple of str
        Plan files, from the folder of the firm file.
    """

    id: str
    title: str
    timezone: str
    locale: str
    country: str
    currency: str
    as_of: str
    jobs: tuple[str, ...]

    @classmethod
    def of(cls, plans: tuple[tuple[str, Plan], ...], title: str) -> FirmStart:
        """Take what all jobs share from the first of them.

        Parameters
        ----------
        plans : tuple of (str, Plan)
            Each with its file, from the folder of the firm file; at least one.
        title : str
            What to call it; empty: a usual word.
        """
        first = plans[0][1]
        as_of = to_local(first.now, first.zone).strftime("%Y-%m-%d %H:%M")
        jobs = tuple(name for name, _ in plans)
        return cls(
            str(uuid4()),
            title or "Our moves",
            first.zone.key,
            first.locale,
            first.country,
            first.currency,
            as_of,
            jobs,
        )


def plans_beside(path: Path) -> tuple[tuple[str, Plan], ...]:
    """Find the plans of moves beside a firm file, and in the folder ``jobs``; what is no sound plan is left out.

    Parameters
    ----------
    path : Path
        The firm file that is to be.
    """
    folder = path.parent
    found = []
    for file in (*sorted(folder.glob("*.yaml")), *sorted((folder / "jobs").glob("*.yaml"))):
        try:
            plan = read_plan(file) if file != path else None
        except PlanFileError:
            continue
        if plan is not None and plan.purpose != "own-tasks":
            found.append((file.relative_to(folder).as_posix(), plan))
    return tuple(found)
