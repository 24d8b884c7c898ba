"""Animals that no formula covers, and animals that eat each other, in containers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from moveplan.errors import CannotBeDoneError
from moveplan.quantities.containers.travellers import Travellers
from moveplan.science.animals.kind_names import kind_named
from moveplan.science.animals.livestock import endangers
from tests.quantities.plans import group, packed


def test_a_fish_beyond_every_formula_is_told_with_its_line_and_the_source() -> None:
    with pytest.raises(CannotBeDoneError) as caught:
        packed(group("whale", "tang", 100.0))
    assert str(caught.value) == (
        "plan.yaml:7 livestock.whale: Whale: fish mass g comes out as 20000, outside 0.01 to 10000 in which anything "
        "is known (masses for which Clarke and Johnston (1999) may be extrapolated); correct size or count, name "
        "larger tubs under gear, or let the animals travel with a specialist"
    )


def test_a_fish_too_large_for_a_bag_goes_into_something_open() -> None:
    assert packed(group("large", "tang", 35.0))["large"].gear in ("tub", "box")


@pytest.mark.parametrize("at", [0, 1, 3, 4])
def test_the_first_fish_beyond_every_formula_is_told_among_many(at: int) -> None:
    """In tubs each, for none of them shares; the one and those after it are of no formula."""
    sizes = [78.0 if number >= at else 12.0 for number in range(5)]
    groups = tuple(
        group(f"tang{number}", "tang", size, temperament="territorial") for number, size in enumerate(sizes)
    )
    with pytest.raises(CannotBeDoneError, match=rf"^plan.yaml:7 livestock.tang{at}: Tang{at}: biomass"):
        packed(*groups)


def test_a_hunter_never_shares_with_its_prey() -> None:
    hunter, prey = group("lion", "lionfish", 22.0), group("goby", "goby", 6.0)
    found = packed(hunter, prey)
    assert "goby" not in found["lion"].shares_with
    assert "lion" not in found["goby"].shares_with


@pytest.mark.parametrize("sizes", [(7.0, 9.0, 14.0), (7.0,), (13.0, 40.0), (40.0,), (6.0, 6.0, 14.0)])
def test_a_hunter_shares_only_where_nobody_is_short_enough_for_it(sizes: tuple[float, ...]) -> None:
    """Hunters of fish that would travel in company; whoever is short enough counts, of the same kind too."""
    sociable = replace(kind_named("lionfish"), container=())
    hunters = [
        replace(group(f"lion{number}", "lionfish", size), kind=sociable) for number, size in enumerate(sizes)
    ]
    gobies = [group(f"goby{number}", "goby", size) for number, size in enumerate((10.0, 4.0, 5.0, 4.5))]
    groups = (*gobies, *hunters)
    found = packed(*groups)
    sharing = {one.livestock.id for one in groups if found[one.livestock.id].shares_with}
    assert sharing == {one.livestock.id for one in groups if not _hunts_any(one, groups)}
    assert len(sharing) == 4 + sum(size < 8.0 for size in sizes)


def _hunts_any(hunter: Travellers, groups: tuple[Travellers, ...]) -> bool:
    return any(
        endangers(hunter.kind, hunter.livestock.size_cm, other.kind, other.livestock.size_cm)
        for other in groups
        if other is not hunter
    )
