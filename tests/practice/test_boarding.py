"""Animals that wait at somebody else's tank: brought once it is open, fetched before it closes, if it takes them."""

from __future__ import annotations

import re
from datetime import date

import pytest

from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from moveplan.times import local_day
from tests.examples import project as example
from tests.quantities.plans import edited

BOARDED = (
    ("  new: {name: Vale Road", "  shop: {distance: 5 km}\n  new: {name: Vale Road"),
    ("people:\n", "boarding:\n  quay: {name: Quay shop, place: shop, volume: 300 l, BOARDS}\npeople:\n"),
    ("count: 10, size: 2 cm", "count: 10, size: 2 cm, boarded: quay"),
)


def boarded(keys: str) -> Project:
    plan = edited(*((old, new.replace("BOARDS", keys)) for old, new in BOARDED))
    return project_of(plan, steps=False)


def test_nobody_is_brought_before_a_place_opens_or_fetched_after_it_closes() -> None:
    project = boarded("from: 2027-03-01, until: 2027-04-30")
    tasks = {task.id: task for task in project.network.tasks}
    zone = project.plan.zone
    assert tasks["board-out-quay"].not_before == local_day(date(2027, 3, 1), zone).start
    assert tasks["board-back-quay"].finish_by == local_day(date(2027, 4, 30), zone).finish
    assert tasks["board-back-quay"].where.endswith("boarding.quay.until")
    always = {task.id: task for task in boarded("cost: 4 per day").network.tasks}
    assert always["board-out-quay"].not_before is None
    assert always["board-back-quay"].finish_by is None


def test_a_place_that_does_not_take_them_is_said_and_what_it_says_works() -> None:
    (problem,) = boarded("takes: [corals, fish]").unsafe
    assert problem.message == "Quay shop takes corals and fish, and Snails would be boarded there"
    assert re.fullmatch(r"plan\.yaml:\d+ boarding\.quay\.takes", problem.where)
    written = re.search(r'write "(takes: .*)"', problem.remedy)
    assert written is not None
    assert boarded(written[1]).unsafe == ()


def test_who_is_boarded_has_a_last_meal_in_the_window_of_its_sort() -> None:
    """Clownfish are ordinary feeders, 20 to 36 h; anthias pick plankton all day, 12 to 24; a tenth of it inside."""
    sorts = (("clownfish", "last-feed", 20, 36, 96), ("anthias", "last-feed-small", 12, 24, 72))
    for kind, key, least, greatest, room in sorts:
        own = ("kind: clownfish, count: 2", f"kind: {kind}, count: 2, boarded: quay")
        project = project_of(edited(*((old, new.replace("BOARDS", "")) for old, new in BOARDED), own))
        tasks = {task.id: task for task in project.network.tasks}
        meal = tasks[f"{key}-boarded-quay"]
        assert f"caught {least} to {greatest} h later" in meal.steps[0]
        gaps = [
            (link.min_gap_min, link.max_gap_min)
            for link in project.network.links
            if (link.before, link.after) == (meal.id, "board-out-quay")
        ]
        assert gaps == [(least * 60 + room, None), (None, greatest * 60 - room + 10)]
        back = tasks["board-back-quay"].steps[0]
        assert back == (
            f"Quay shop gives 2 × Clownfish the last meal {least} to {greatest} h before that: say when you come."
        )
        (told,) = (
            link
            for link in project.network.links
            if (link.before, link.after) == ("ready-for-boarders-quay", "board-back-quay")
        )
        assert told.min_gap_min == least * 60 + room


def test_what_makes_up_for_the_water_of_boarders_is_mixed_at_their_tank_the_day_before() -> None:
    """Every litre that is poured into the tank comes out of a bin that an earlier task filled."""
    project = boarded("cost: 4 per day")
    (into,) = (
        one for one in project.ledger.pours if one.task == "board-out-quay" and one.target == "system:reef"
    )
    (mixed,) = (
        one
        for one in project.ledger.pours
        if one.task == "mix-afresh-quay-reef" and one.target == into.source
    )
    assert mixed.litres == pytest.approx(into.litres)
    tasks = {task.id: task for task in project.network.tasks}
    assert tasks["mix-afresh-quay-reef"].place == tasks["board-out-quay"].place == "old"
    (gap,) = (
        link.min_gap_min
        for link in project.network.links
        if (link.before, link.after) == ("mix-afresh-quay-reef", "board-out-quay") and link.max_gap_min
    )
    assert gap is not None
    assert gap >= 12 * 60


def test_where_the_water_unit_stands_elsewhere_the_water_for_boarders_is_fetched() -> None:
    tasks = {task.id: task for task in example("service_firm_office_tank").network.tasks}
    (fetched,) = (task for key, task in tasks.items() if key.startswith("fetch-afresh-"))
    assert fetched.place == "old-office"
    assert "Rope Wharf" in fetched.steps[0]
    (mixed,) = (task for key, task in tasks.items() if key.startswith("mix-afresh-tidewell"))
    bins = re.findall(r"into (M\d+)", mixed.steps[0])
    assert bins, mixed.steps
    storage = next(task for key, task in tasks.items() if key.startswith("fill-bin"))
    assert not set(bins) & set(re.findall(r"M\d+", storage.title))


def test_a_trap_is_not_closed_for_a_day() -> None:
    """Whoever feeds in the morning leaves it open; it is closed in the evening, or when the animals leave."""
    tasks = {task.id: task for task in example("service_firm_office_tank").network.tasks}
    meal = next(task for key, task in tasks.items() if key.startswith("last-feed-small-boarded"))
    assert "The trap stays tied open." in " ".join(meal.steps)
    assert "closed on them now" in tasks["board-out-tidewell"].steps[0]
