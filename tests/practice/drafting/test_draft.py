from __future__ import annotations

import pytest

from moveplan.estimate import Estimate, Provenance
from moveplan.network.link import Relation
from moveplan.practice.drafting.draft import Draft
from moveplan.practice.drafting.task_parts import fixed, hands, lifters, on_grid, usual
from moveplan.practice.drafting.wording import Wording
from moveplan.quantities.assemble import facts_of
from tests.quantities.plans import plan_of


@pytest.fixture
def draft() -> Draft:
    plan = plan_of()
    facts = facts_of(plan)
    move = Draft(plan, facts, Wording(plan.units), legs=(facts,))
    move.phase("teardown")
    return move


def test_durations_are_rounded_to_the_nearest_five_minutes_all_three() -> None:
    found = on_grid(Estimate(0.2, 7.4, 12.5, "min", "why", Provenance.ASSUMED, "who"))
    assert (found.low, found.likely, found.high) == (5.0, 5.0, 15.0)
    assert (found.basis, found.provenance, found.source) == ("why", Provenance.ASSUMED, "who")
    assert on_grid(Estimate(0, 0, 0, "min", "nothing")).high == 0.0
    assert on_grid(Estimate(5.0000000001, 5.0000000001, 5.0000000001, "min", "noise")).likely == 5.0


def test_usual_and_fixed_durations_say_that_they_are_assumed() -> None:
    for value in (usual(1, 2, 3, "looking"), fixed(2, "a signature")):
        assert value.provenance is Provenance.ASSUMED
        assert value.source == "common practice, no source"
    assert fixed(2, "a signature").low == fixed(2, "a signature").high == 2


def test_crews() -> None:
    assert hands(2).skills == ()
    assert hands(2, "cares", "drives").skills == (("cares", 1), ("drives", 1))
    assert lifters(3).skills == (("lifts", 3),)


def test_a_task_takes_its_words_from_the_tables_and_its_id_from_verb_thing_and_system(draft: Draft) -> None:
    (system,) = draft.facts.systems
    task_id = draft.add("heaters-off", fixed(8, "plugs"), system=system, crew=hands(1), words={"off_too": []})
    task = draft.tasks[task_id]
    assert task_id == "heaters-off-reef"
    assert task.minutes == 10
    assert task.phase == draft.wording.phase("teardown")
    assert task.steps[-1].startswith("Done when ")
    assert task.crew == hands(1)
    assert draft.has("heaters-off-reef")
    assert not draft.has("heaters-off")


def test_a_link_takes_its_reason_from_the_tables(draft: Draft) -> None:
    (system,) = draft.facts.systems
    for key in ("heaters-off", "heaters-cool"):
        draft.add(key, fixed(5, "test"), system=system, words={"off_too": []})
    draft.link("heaters-off-reef", "heaters-cool-reef", relation=Relation.STARTTOSTART, gap=10, at_most=30)
    (link,) = draft.links
    assert (link.before, link.after) == ("heaters-off-reef", "heaters-cool-reef")
    assert (link.relation, link.min_gap_min, link.max_gap_min) == (Relation.STARTTOSTART, 10, 30)
    assert len(link.why) > 8


def test_a_chain_links_neighbours(draft: Draft) -> None:
    (system,) = draft.facts.systems
    for key in ("heaters-off", "heaters-cool", "draw-keep-water"):
        draft.add(key, fixed(5, "test"), system=system, words={"drawn_first": False, "off_too": []})
    draft.chain("heaters-off-reef", "heaters-cool-reef", "draw-keep-water-reef")
    assert [(link.before, link.after) for link in draft.links] == [
        ("heaters-off-reef", "heaters-cool-reef"),
        ("heaters-cool-reef", "draw-keep-water-reef"),
    ]


def test_a_task_without_words_and_a_link_without_a_reason_are_refused(draft: Draft) -> None:
    (system,) = draft.facts.systems
    with pytest.raises(KeyError):
        draft.add("juggle", fixed(5, "test"))
    draft.add("heaters-off", fixed(5, "test"), system=system, words={"off_too": []})
    draft.add("sand-out", fixed(5, "test"), system=system, words={"sand_words": "kept"})
    with pytest.raises(KeyError):
        draft.link("heaters-off-reef", "sand-out-reef")


def test_what_practice_assumes_is_noted(draft: Draft) -> None:
    draft.assume("people.mia.cares", "yes", "she keeps the tank")
    assert [(one.key, one.value, one.why) for one in draft.assumptions] == [
        ("people.mia.cares", "yes", "she keeps the tank")
    ]
