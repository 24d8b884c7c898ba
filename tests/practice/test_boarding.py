"""Animals that wait at somebody else's tank: brought once it is open, fetched before it closes, if it takes them."""

from __future__ import annotations

import re
from datetime import date

from moveplan.practice.compose import project_of
from moveplan.practice.project import Project
from moveplan.times import local_day
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
