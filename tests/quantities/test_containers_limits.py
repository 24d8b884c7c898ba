"""Animals that no formula covers, and animals that eat each other, in containers."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from moveplan.errors import CannotBeDoneError
from moveplan.plan.livestock import Livestock
from moveplan.quantities.boxes import Surroundings
from moveplan.quantities.containers import pack
from moveplan.quantities.policy import Policy
from moveplan.quantities.travellers import Means, Travellers
from moveplan.science.livestock import endangers, kind_named

AROUND = Surroundings(25.0, 35.0, 20.0, 12.0, 1.5, 9.0, 24.0)
MEANS = Means(60.0, 12.0, 40.0, False, "metric", lambda key: f"plan.yaml:7 {key}")


def group(name: str, kind: str, size_cm: float, temperament: str = "peaceful") -> Travellers:
    animal = Livestock(name, name.title(), kind, 1, size_cm, None, temperament, "reef", Decimal(0))
    return Travellers(animal, kind_named(kind), 1)


def test_a_fish_beyond_every_formula_is_told_with_its_line_and_the_source() -> None:
    with pytest.raises(CannotBeDoneError) as caught:
        pack((group("whale", "tang", 100.0),), (), 0, AROUND, MEANS, Policy({}))
    assert str(caught.value) == (
        "plan.yaml:7 livestock.whale: Whale: fish mass g comes out as 20000, outside 0.01 to 10000 in which anything "
        "is known (masses for which Clarke and Johnston (1999) may be extrapolated); correct size or count, name "
        "larger tubs under gear, or let the animals travel with a specialist"
    )


def test_a_fish_too_large_for_a_bag_goes_into_a_tub() -> None:
    packed = pack((group("large", "tang", 35.0),), (), 0, AROUND, MEANS, Policy({}))
    assert packed["large"].gear == "tub"


@pytest.mark.parametrize("at", [0, 1, 3, 4])
def test_the_first_fish_beyond_every_formula_is_told_among_many(at: int) -> None:
    """In tubs each, for none of them shares; the one and those after it are of no formula."""
    sizes = [78.0 if number >= at else 12.0 for number in range(5)]
    groups = tuple(group(f"tang{number}", "tang", size, "territorial") for number, size in enumerate(sizes))
    with pytest.raises(CannotBeDoneError, match=rf"^plan.yaml:7 livestock.tang{at}: Tang{at}: biomass"):
        pack(groups, (), 0, AROUND, MEANS, Policy({}))


def test_fish_too_large_for_a_bag_go_into_tubs_and_the_others_into_bags() -> None:
    sizes = (8.0, 35.0, 9.0, 10.0, 36.0, 37.0, 11.0)
    groups = tuple(group(f"tang{number}", "tang", size) for number, size in enumerate(sizes))
    packed = pack(groups, (), 0, replace(AROUND, needed_h=1.0), MEANS, Policy({}))
    gear = [packed[one.livestock.id].gear for one in groups]
    assert gear == ["tub" if size > 30.0 else "bag" for size in sizes]


def test_a_hunter_never_shares_with_its_prey() -> None:
    hunter, prey = group("lion", "lionfish", 22.0), group("goby", "goby", 6.0)
    packed = pack((hunter, prey), (), 0, AROUND, MEANS, Policy({}))
    assert "goby" not in packed["lion"].shares_with
    assert "lion" not in packed["goby"].shares_with


@pytest.mark.parametrize("sizes", [(7.0, 9.0, 14.0), (7.0,), (13.0, 40.0), (40.0,), (6.0, 6.0, 14.0)])
def test_a_hunter_shares_only_where_nobody_is_short_enough_for_it(sizes: tuple[float, ...]) -> None:
    """Hunters of fish that would travel in company; whoever is short enough counts, of the same kind too."""
    sociable = replace(kind_named("lionfish"), container=())
    hunters = [
        replace(group(f"lion{number}", "lionfish", size), kind=sociable) for number, size in enumerate(sizes)
    ]
    gobies = [group(f"goby{number}", "goby", size) for number, size in enumerate((10.0, 4.0, 5.0, 4.5))]
    groups = (*gobies, *hunters)
    packed = pack(groups, (), 0, AROUND, replace(MEANS, bag_l=0.5), Policy({}))
    sharing = {one.livestock.id for one in groups if packed[one.livestock.id].shares_with}
    assert sharing == {one.livestock.id for one in groups if not _hunts_any(one, groups)}
    assert len(sharing) == 4 + sum(size < 8.0 for size in sizes)


def _hunts_any(hunter: Travellers, groups: tuple[Travellers, ...]) -> bool:
    return any(
        endangers(hunter.kind, hunter.livestock.size_cm, other.kind, other.livestock.size_cm)
        for other in groups
        if other is not hunter
    )
