"""The usual register, what the plan changes in it, and every message about wrong changes."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from moveplan.compiled import template_folder
from moveplan.errors import PlanFileError
from moveplan.estimate import Provenance
from moveplan.plan.risks import PossibleMeasure, RiskChange
from moveplan.practice.project import Project
from moveplan.risk.assess import risk_summary
from moveplan.risk.register.changes import with_measures
from moveplan.risk.register.default import table
from moveplan.risk.register.ranked import check_risks, offers, register_of
from moveplan.risk.register.words import measure_words, risk_words
from moveplan.risk.summary import RegisterEntry
from tests.examples import scheduled
from tests.outputs.scene import moving_day
from tests.risk.measures import taken

SCENE = moving_day()
LINES = {"risks.fog": 50, "risks.fish-fight": 51, "risks.fog.tasks": 52}


def project_with(*changes: RiskChange) -> Project:
    plan = replace(SCENE.project.plan, risks=changes, lines=LINES)
    return replace(SCENE.project, plan=plan)


def entries(*changes: RiskChange) -> dict[str, RegisterEntry]:
    return {entry.id: entry for entry in register_of(project_with(*changes), SCENE.schedule)}


def refusal(*changes: RiskChange) -> str:
    with pytest.raises(PlanFileError) as caught:
        check_risks(project_with(*changes))
    return str(caught.value)


def test_it_is_ranked_by_expected_loss() -> None:
    register = register_of(*scheduled("house_move"))
    losses = [entry.expected_loss for entry in register]
    assert losses == sorted(losses, reverse=True)
    assert len(register) >= 15


def test_every_entry_is_assumed_and_answered_by_somebody() -> None:
    project, schedule = scheduled("house_move")
    people = {person.id for person in project.plan.people}
    for entry in register_of(project, schedule):
        assert entry.provenance is Provenance.ASSUMED
        assert entry.who in people
        assert entry.tasks
        assert 0 < entry.probability < 1


def test_what_does_not_travel_cannot_suffer() -> None:
    assert "fish-not-caught" in entries()
    fishless = replace(
        SCENE.project, routes=tuple(route for route in SCENE.project.routes if route.livestock == "hammers")
    )
    found = {entry.id for entry in register_of(fishless, SCENE.schedule)}
    assert "fish-not-caught" not in found
    assert "fish-fight" not in found


def test_the_loss_is_a_share_of_what_the_animals_are_worth() -> None:
    """Two clownfish of 35 and a tang of 120 are fish: 5 % of 190; the corals do not count."""
    assert entries()["fish-fight"].cost == Decimal("9.50")


def test_who_is_at_the_task_answers() -> None:
    assert entries()["road-closed"].who in SCENE.schedule.of("drive-over").people


def test_own_tasks_have_no_usual_register() -> None:
    own = replace(SCENE.project, way="")
    assert register_of(own, SCENE.schedule) == ()


def test_an_entry_is_struck() -> None:
    assert "fish-fight" not in entries(RiskChange("fish-fight", strike=True))


def test_an_entry_is_changed() -> None:
    found = entries(RiskChange("fish-fight", probability=0.5, cost=Decimal(100)))["fish-fight"]
    assert (found.probability, found.cost, found.provenance) == (0.5, Decimal("100.00"), Provenance.GIVEN)
    assert found.expected_loss == Decimal("50.00")
    assert found.event == "Fish fight after release"


def test_only_words_changed_leaves_the_numbers_assumed() -> None:
    found = entries(RiskChange("fish-fight", response="Wait."))["fish-fight"]
    assert (found.response, found.provenance) == ("Wait.", Provenance.ASSUMED)


def test_an_entry_is_added() -> None:
    fog = RiskChange("fog", event="Fog", probability=0.1, delay_min=40, who="per", tasks=("drive-over",))
    found = entries(fog)["fog"]
    assert (found.delay_min, found.tasks, found.provenance) == (40, ("drive-over",), Provenance.GIVEN)


def test_a_measure_is_taken() -> None:
    usual = entries()["air-pump-stops"]
    found = entries(RiskChange("air-pump-stops", measures=("second-air-pump",)))["air-pump-stops"]
    assert abs(found.cost - usual.cost / 10) <= Decimal("0.01")
    assert usual.cost > 0
    assert found.measures[0].taken


def test_a_measure_counts_once() -> None:
    once = with_measures(entries()["air-pump-stops"], ("second-air-pump",))
    assert with_measures(once, ("second-air-pump",)) == once


def test_what_a_measure_saves_is_what_taking_it_saves() -> None:
    for entry in register_of(*scheduled("house_move")):
        for measure in entry.measures:
            after = with_measures(entry, (measure.id,))
            saved = entry.expected_loss - after.expected_loss
            assert abs(saved - entry.lowers_by(measure)) <= Decimal("0.02")


def test_measures_are_offered_by_the_delay_they_spare_and_then_by_money() -> None:
    """Animals and the promise come before money: a day later costs them more than a few euros."""
    register = register_of(SCENE.project, SCENE.schedule)
    found = offers(register, {task.id for task in SCENE.project.network.tasks if task.day})
    gains = [(one.spares_min, one.saves - one.measure.cost) for one in found]
    assert gains == sorted(gains, reverse=True)
    assert gains[0][0] > 0
    assert len(found) == sum(len(entry.measures) for entry in register)
    left = offers(taken(register, ("second-air-pump",)))
    assert {one.measure.id for one in found} - {one.measure.id for one in left} == {"second-air-pump"}


def test_taking_measures_ranks_anew() -> None:
    register = register_of(*scheduled("house_move"))
    losses = [entry.expected_loss for entry in taken(register, ("second-air-pump", "dry-fit-of-seals"))]
    assert losses == sorted(losses, reverse=True)


FOG = RiskChange("fog", event="Fog", probability=0.1, tasks=("drive-over",))


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (
            RiskChange("fish-figth", strike=True),
            'scene.yaml risks.fish-figth: there is no risk "fish-figth" in the register of this plan; name one of'
            " its entries, the nearest: fish-fight, fish-not-caught; or give event, probability and"
            " tasks of a new one",
        ),
        (
            RiskChange("fog", event="Fog", probability=0.1, delay_min=30),
            'scene.yaml:50 risks.fog: the risk fog names no task; add "tasks" with the ids of the tasks it strikes;'
            " moveplan show --json lists them",
        ),
        (
            replace(FOG, tasks=("drive-ovr",)),
            'scene.yaml:52 risks.fog.tasks: the risk fog names the task "drive-ovr", which the plan does not have;'
            " name one of the plan's tasks, the nearest: drive-over",
        ),
        (
            replace(FOG, tasks=("xyzzy",)),
            'scene.yaml:52 risks.fog.tasks: the risk fog names the task "xyzzy", which the plan does not have;'
            " name one of the plan's tasks, moveplan show lists them",
        ),
        (
            RiskChange("xyzzy", strike=True),
            'scene.yaml risks.xyzzy: there is no risk "xyzzy" in the register of this plan; name one of its entries,'
            " result.json of a build lists them; or give event, probability and tasks of a new one",
        ),
        (
            replace(FOG, who="perr"),
            'scene.yaml:50 risks.fog.who: the risk fog is answered by "perr", who is not in the plan; name one of'
            " una, per, cai",
        ),
        (
            RiskChange("fish-fight", measures=("mirror",)),
            'scene.yaml:51 risks.fish-fight.measures: the risk fish-fight has no measure "mirror"; name one of'
            " clear-box-in-the-tank",
        ),
        (
            replace(FOG, measures=("mirror",)),
            'scene.yaml:50 risks.fog.measures: the risk fog has no measure "mirror"; describe it under'
            " possible-measures, or take the line out",
        ),
        (
            replace(FOG, possible_measures=(PossibleMeasure("lamps", probability_left=0.5),)),
            "scene.yaml:50 risks.fog.possible-measures.lamps: the measure lamps is new, and does not say what it"
            ' is; add "text"',
        ),
        (
            replace(FOG, possible_measures=(PossibleMeasure("lamps", "Fog lamps", Decimal(60)),)),
            "scene.yaml:50 risks.fog.possible-measures.lamps: the measure lamps lowers nothing; add for example"
            ' "probability-left: 50 %"',
        ),
    ],
    ids=[
        "unknown",
        "no-task",
        "task",
        "task far",
        "unknown far",
        "person",
        "measure",
        "no-measure",
        "measure-text",
        "measure-idle",
    ],
)
def test_wrong_changes_are_said_in_full(change: RiskChange, message: str) -> None:
    assert refusal(change) == message


def test_sound_changes_are_let_through() -> None:
    lamps = PossibleMeasure("lamps", "Fog lamps", Decimal(60), probability_left=0.5)
    check_risks(project_with(replace(FOG, possible_measures=(lamps,), measures=("lamps",))))


def test_the_beginning_of_an_id_names_all_tasks_that_begin_so() -> None:
    check_risks(project_with(replace(FOG, tasks=("drive",))))
    assert entries(replace(FOG, tasks=("drive",)))["fog"].tasks == ("drive-over",)
    assert entries(replace(FOG, tasks=("drive-over", "drive")))["fog"].tasks == ("drive-over",)


def test_a_measure_of_the_keepers_own_is_taken() -> None:
    lamps = PossibleMeasure("lamps", "Fog lamps", Decimal(60), probability_left=0.5, delay_left=0.5)
    change = replace(FOG, cost=Decimal(80), delay_min=60, possible_measures=(lamps,))
    offered = entries(change)["fog"]
    assert offered.lowers_by(offered.measures[0]) == Decimal("4.00")
    assert offered.measures[0].provenance is Provenance.GIVEN
    taken_on = entries(replace(change, measures=("lamps",)))["fog"]
    assert (taken_on.probability, taken_on.delay_min, taken_on.measures[0].taken) == (0.05, 30, True)


def test_a_measure_of_the_register_gets_another_price() -> None:
    pump = PossibleMeasure("second-air-pump", cost=Decimal("24.50"))
    found = entries(RiskChange("air-pump-stops", possible_measures=(pump,)))["air-pump-stops"]
    usual = entries()["air-pump-stops"]
    assert found.measures == (replace(usual.measures[0], cost=Decimal("24.50"), provenance=Provenance.GIVEN),)
    assert found.provenance is Provenance.ASSUMED


def test_what_the_simulation_tells_is_reworded_or_struck() -> None:
    late = RiskChange("hire-window-missed", response="Ring the yard.", who="per")
    check_risks(project_with(late, RiskChange("safe-time-passed", strike=True)))
    project = project_with(late, RiskChange("safe-time-passed", strike=True))
    usual = {entry.id: entry for entry in risk_summary(SCENE.project, SCENE.schedule, runs=200).register}
    found = {entry.id: entry for entry in risk_summary(project, SCENE.schedule, runs=200).register}
    assert set(usual) - set(found) == {"safe-time-passed"}
    assert found["hire-window-missed"] == replace(
        usual["hire-window-missed"], response="Ring the yard.", who="per"
    )


def test_computed_figures_cannot_be_given() -> None:
    assert refusal(RiskChange("water-not-ready", probability=0.1)) == (
        "scene.yaml risks.water-not-ready: the figures of the risk water-not-ready come out of the simulation;"
        ' change event, trigger, response, who or measures, or write "strike"'
    )


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (
            RiskChange("hire-window-missed", measures=("second-van",)),
            'the risk hire-window-missed has no measure "second-van"; name one of hire-that-may-be-put-off',
        ),
        (
            RiskChange(
                "hire-window-missed",
                possible_measures=(PossibleMeasure("hire-that-may-be-put-off", cost_left=0.5),),
            ),
            "what the measure hire-that-may-be-put-off leaves is counted in the simulated runs; change its text or"
            " cost, or describe a measure of your own",
        ),
        (
            RiskChange(
                "safe-time-passed", possible_measures=(PossibleMeasure("bath", "A bath", Decimal(3)),)
            ),
            'the measure bath lowers nothing; add for example "probability-left: 50 %"',
        ),
        (
            RiskChange("keys-back-missed", measures=("keys-a-week-later",)),
            "the risk keys-back-missed does not arise in this plan, so that no measure against it can be taken; take"
            " the entry out",
        ),
    ],
)
def test_measures_against_what_is_simulated_are_checked(change: RiskChange, sentence: str) -> None:
    assert sentence in refusal(change)


def test_a_counted_measure_may_get_another_price() -> None:
    dearer = PossibleMeasure("hire-that-may-be-put-off", cost=Decimal(99))
    check_risks(project_with(RiskChange("hire-window-missed", possible_measures=(dearer,))))


def test_a_risk_whose_tasks_are_behind_has_passed() -> None:
    project = project_with(FOG, RiskChange("fish-not-caught", probability=0.5))
    ahead = replace(
        project.network,
        tasks=tuple(task for task in project.network.tasks if task.id not in {"drive-over", "catch-fish"}),
    )
    left = {entry.id for entry in register_of(replace(project, network=ahead), SCENE.schedule)}
    assert not left & {"fog", "fish-not-caught"}
    assert {"fog", "fish-not-caught"} <= {entry.id for entry in register_of(project, SCENE.schedule)}


def rows() -> list[Mapping[str, Any]]:
    return [*table("register").values(), *table("computed").values()]


def test_every_risk_has_a_measure_that_lowers_something() -> None:
    for row in rows():
        assert row["measures"]
        for one in row["measures"]:
            lefts = [one.get(left, 1.0) for left in ("probability", "cost_left", "delay")]
            assert one.get("grace_days") or min(lefts) < 1
            assert all(0 <= left <= 1 for left in lefts)


def test_every_row_of_the_tables_has_words() -> None:
    measures = [one["id"] for row in rows() for one in row["measures"]]
    for risk in (*table("register"), *table("computed")):
        assert all(risk_words(risk))
    assert all(measure_words(measure) for measure in measures)
    assert len(set(measures)) == len(measures)


def test_no_words_are_left_over() -> None:
    words = tomllib.loads((template_folder() / "risks.toml").read_text("utf-8"))
    assert set(words["risks"]) == set(table("register"))
    assert set(words["computed"]) == set(table("computed"))
    measures = {one["id"] for row in rows() for one in row["measures"]}
    assert set(words["measures"]) == measures


def test_the_tables_keep_their_ranges() -> None:
    for row in table("register").values():
        assert 0 < row["probability"] < 1
        assert row["delay_min"] >= 0
        assert Decimal(row["cost"]) >= 0
        assert 0 <= row["share"] <= 1
    for row in table("causes").values():
        assert 0 < row["share"] < 1
    for row in table("holds").values():
        assert 0 <= row["fails"] < 1
