"""One label for each container, with its number, what is in it, and by when it has to be opened."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from moveplan.outputs.agenda import agenda
from moveplan.outputs.labels import Label, labels_of
from moveplan.outputs.outlook import Outlook
from moveplan.outputs.page import page_html
from moveplan.practice.ledger import InUse, Ledger
from moveplan.quantities.containers.vessels import Held, Use, Vessel
from tests.outputs.scene import NUMBERS, ROUTES, moving_day
from tests.outputs.test_page import Page


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


def test_a_label_counts_from_the_lid_and_tells_the_time_in_the_vehicle_apart() -> None:
    words = Page(page_html(moving_day())).words
    assert "Open within 7 h 50 min of closing" in words
    assert "If it stays in the vehicle: within 6 h 10 min" in words
