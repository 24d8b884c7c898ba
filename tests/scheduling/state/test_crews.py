from __future__ import annotations

from itertools import islice
from math import comb

from moveplan.network.graph import Network
from moveplan.network.task import Crew
from moveplan.scheduling.problem import Person, SchedulingProblem
from moveplan.scheduling.state.crews import MOST_CREWS, crews
from moveplan.scheduling.state.model import Model, model_of
from tests.network.builders import task
from tests.scheduling.instances import DAY, day, hours


def _model(people: int, count: int, skilled: int) -> Model:
    """A task for a crew, one of whom drives, and people of whom the last few can."""
    drive = task("drive", 60, crew=Crew(count, (("drives", 1),)))
    able = [("drives",) if n >= people - skilled else () for n in range(people)]
    everybody = tuple(Person(f"p{n}", f"P{n}", (hours(0, 9, 12),), able[n]) for n in range(people))
    return model_of(SchedulingProblem(Network((drive,)), 0, DAY, (day(0),), people=everybody))


def test_each_crew_is_named_once_and_all_are() -> None:
    model = _model(5, 2, 2)
    found = list(crews(model, model.jobs[0], 2, range(5), lambda at: (at,)))
    assert len(found) == len(set(found)) == comb(5, 2) - comb(3, 2)


def test_a_pool_too_large_to_try_all_still_yields_a_skilled_crew() -> None:
    model = _model(40, 3, 1)
    found = list(islice(crews(model, model.jobs[0], 3, range(40), lambda at: (at,)), MOST_CREWS + 1))
    assert found == [(0, 1, 39)] or (0, 1, 39) in found
    assert all(39 in crew for crew in found)
