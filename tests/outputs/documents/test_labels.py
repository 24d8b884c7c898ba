"""One label for each container, with its number, what is in it, and by when it has to be opened."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

from moveplan.outputs.agenda import agenda
from moveplan.outputs.documents.labels import Label, alike, labels_of
from moveplan.outputs.documents.page import page_html
from moveplan.outputs.outlook import Outlook
from moveplan.plan.livestock import Livestock
from moveplan.practice.ledger.entries import InUse, Ledger
from moveplan.quantities.containers.vessels import Held, Use, Vessel
from moveplan.science.animals.livestock import endangers, kinds
from moveplan.times import Interval
from tests.outputs.documents.test_page import Page
from tests.outputs.scene import NUMBERS, ROUTES, moving_day


def labels(outlook: Outlook) -> tuple[Label, ...]:
    return labels_of(outlook, agenda(outlook).openings)


def with_vessels(*vessels: Vessel) -> Outlook:
    outlook = moving_day()
    used = tuple(InUse(vessel, "catch-fish", "release-fish") for vessel in vessels)
    return replace(outlook, project=replace(outlook.project, ledger=Ledger(containers=used)))


def vessel(number: str, use: Use, *holds: Held) -> Vessel:
    return Vessel(number, "tub", "tubs", use, "display", 60.0, 14.0, 3.0, holds)


def test_every_container_of_every_group_has_exactly_one_label() -> None:
    numbers = Counter(one.number for one in labels(moving_day()))
    assert numbers == Counter(number for several in NUMBERS.values() for number in several)


def test_what_is_heavy_says_what_it_weighs() -> None:
    heavy = vessel("T9", Use.ROCK, Held("rock"))
    light, box = (replace(heavy, number=name, water_l=1.0) for name in ("T8", "X1"))
    box = replace(box, water_l=14.0, holds=(Held("container", "B1"),))
    weighs = {one.number: one.weighs_kg for one in labels(with_vessels(heavy, light, box))}
    assert [weighs[name] for name in ("T9", "T8", "X1")] == [17.0, 0.0, 0.0]  # 14 l of sea water and 3 kg


def test_neighbours_that_differ_in_their_number_alone_are_gathered() -> None:
    old = [vessel(number, Use.OLD_WATER, Held("old-water")) for number in ("T8", "T9", "T10", "T11")]
    rock, last = vessel("T12", Use.ROCK, Held("rock")), vessel("T13", Use.OLD_WATER, Held("old-water"))
    every = labels(with_vessels(*old, rock, last))
    runs = alike(every)
    assert [label for first, others in runs for label in (first, *others)] == list(every)
    lifeless = [[one.number for one in (first, *others)] for first, others in runs if not first.inside]
    assert lifeless == [["T8", "T9"], ["T10", "T11"], ["T12"], ["T13"]]


def test_a_label_says_how_many_are_in_this_container_and_not_in_the_group() -> None:
    held = (Held("livestock", "hammers", 2), Held("livestock", "hammers", 1))
    outlook = with_vessels(vessel("T1", Use.CORALS, held[0]), vessel("T2", Use.CORALS, held[1]))
    inside = {one.number: one.inside for one in labels(outlook)}
    assert (inside["T1"], inside["T2"]) == ((("Hammer corals", 2),), (("Hammer corals", 1),))


def test_rock_and_water_have_labels_too() -> None:
    outlook = with_vessels(
        vessel("T9", Use.ROCK, Held("rock")), vessel("C1", Use.NEW_WATER, Held("new-water"))
    )
    assert [(one.number, one.use) for one in labels(outlook) if not one.inside] == [
        ("T9", "rock"),
        ("C1", "new-water"),
    ]


def test_a_box_of_bags_says_which_bags_stand_in_it() -> None:
    box = vessel("X1", Use.BAGS, Held("container", "B1"), Held("container", "B2"))
    assert [one.bags for one in labels(with_vessels(box)) if one.number == "X1"] == [("B1", "B2")]


def test_those_who_share_a_container_share_its_label_and_the_shortest_time_counts() -> None:
    clowns, tang = ROUTES[0], ROUTES[1]
    shared = tuple(
        replace(route, stops=tuple(replace(stop, numbers=("X1",)) for stop in route.stops))
        for route in (clowns, tang)
    )
    outlook = moving_day()
    (label,) = labels(replace(outlook, project=replace(outlook.project, routes=shared)))
    assert label.inside == (("Clownfish", 2), ("Yellow-finned tang", 1))
    assert label.opening is not None
    assert label.opening.stay.safe.estimate.low == 470
    assert label.hurts == ("spines",)


def test_who_comes_later_goes_to_those_inside_and_is_opened_with_them() -> None:
    """The tang may stay for 470 min and the clownfish for 520 min, but these are in an hour earlier."""
    outlook = moving_day()
    by_group = {one.dated.route.livestock: one for one in agenda(outlook).openings}
    first, second = by_group["clowns"], by_group["tang"]
    hour_later = Interval(first.stay.span.start + 60, first.stay.span.finish + 60)
    next_day = Interval(first.stay.span.start + 1440, first.stay.span.finish + 1440)
    for span, count in ((hour_later, 1), (next_day, 2)):
        shared = (
            replace(first, stay=replace(first.stay, numbers=("X1",))),
            replace(second, stay=replace(second.stay, numbers=("X1",), span=span)),
        )
        found = labels_of(outlook, shared)
        assert [one.number for one in found] == ["X1"] * count
        assert found[0].opening is not None
        assert found[0].opening.dated.route.livestock == "clowns"


def test_a_label_counts_from_the_lid_and_tells_the_time_in_the_vehicle_apart() -> None:
    words = Page(page_html(moving_day())).words
    assert "Open within 7 h 50 min of closing" in words
    assert "If it stays in the vehicle: within 6 h 10 min" in words


def test_a_label_tells_its_mass_in_both_systems_of_units() -> None:
    heavy = replace(vessel("T9", Use.ROCK, Held("rock")), water_l=14.0)
    words = Page(page_html(with_vessels(heavy))).words
    assert re.search(r"\b17 kg \(37\.5 lb\)", words)


def test_a_label_says_who_may_not_share_it_and_where_it_goes() -> None:
    """A lionfish eats small fish and shrimp: nobody of those shares its container."""
    outlook = moving_day()
    animals = tuple(
        replace(one, kind="lionfish") if one.id == "tang" else one for one in outlook.project.plan.livestock
    )
    project = replace(outlook.project, plan=replace(outlook.project.plan, livestock=animals))
    outlook = replace(outlook, project=project)
    mixed = {one.id: one for one in outlook.project.plan.livestock}
    for label in labels(outlook):
        if label.opening is None:
            continue
        assert label.goes_to == "Quarry Rise"
        own = mixed[label.opening.dated.route.livestock]
        others = [one for one in mixed.values() if one.id != own.id]
        harmed = {one.name for one in others if _harm(own, one) or _harm(one, own)}
        assert set(label.apart) == harmed
    assert any(label.apart for label in labels(outlook))


def _harm(one: Livestock, other: Livestock) -> bool:
    return endangers(kinds()[one.kind], one.size_cm, kinds()[other.kind], other.size_cm)


def test_what_holds_no_animal_goes_where_it_is_emptied() -> None:
    outlook = with_vessels(vessel("T9", Use.ROCK, Held("rock")))
    (label,) = [one for one in labels(outlook) if one.number == "T9"]
    assert label.goes_to == "Quarry Rise"
