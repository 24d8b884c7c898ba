"""Groups that pass their safe time too often: the whole message, with enough digits to tell the two shares apart."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.risk.promise.over_limit import digits_apart, over_limit
from moveplan.risk.summary import RiskSummary
from tests.outputs.scene import moving_day

SCENE = moving_day()
TANG = SCENE.project.routes[1]


def said(chance: float) -> list[str]:
    found = RiskSummary(10_000, 1, (), over_limit=((TANG.livestock, chance),))
    return [problem.message for problem in over_limit(SCENE.project, found)]


def test_what_is_accepted_is_no_problem() -> None:
    assert said(0.05) == []


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.12, "12 % of the simulated days; the plan accepts 5 %"),
        (0.052, "5.2 % of the simulated days; the plan accepts 5.0 %"),
        (0.0501, "5.01 % of the simulated days; the plan accepts 5.00 %"),
    ],
)
def test_the_two_shares_never_look_the_same(chance: float, words: str) -> None:
    assert said(chance) == [f"{TANG.name}: the safe time is passed in {words}"]


def test_the_remedy_names_what_would_extend_it() -> None:
    found = RiskSummary(10_000, 1, (), over_limit=((TANG.livestock, 0.1),))
    plain = replace(SCENE.project, routes=(replace(TANG, stops=TANG.stops[:1]),))
    assert over_limit(plain, found)[0].remedy == "shorten the moving day"


def test_past_the_point_of_no_return_no_day_is_shortened_and_no_container_chosen() -> None:
    found = RiskSummary(10_000, 1, (), over_limit=((TANG.livestock, 0.1),))
    for project in (SCENE.project, replace(SCENE.project, routes=(replace(TANG, stops=TANG.stops[:1]),))):
        (problem,) = over_limit(project, found, late=True)
        assert problem.remedy.startswith(
            "let these out first; if that will be too late, take them to a running tank"
        )


def test_digits_end_somewhere() -> None:
    assert digits_apart(0.05, 0.05) == 6
