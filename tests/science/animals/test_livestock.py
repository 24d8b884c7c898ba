from __future__ import annotations

import pytest

from moveplan.science.animals.kind_names import UnknownKindError, kind_named
from moveplan.science.animals.livestock import (
    SMALL_FISH,
    ContainerRule,
    Feeding,
    Kind,
    OxygenModel,
    Temperament,
    endangers,
    kinds,
)
from moveplan.science.animals.respiration import fish_mass_g
from moveplan.science.tables import table

EVERY_KIND = pytest.mark.parametrize("kind", kinds().values(), ids=kinds())


def test_there_are_at_least_sixty_kinds() -> None:
    assert len(kinds()) >= 60


def test_the_trade_groups_asked_for_are_there() -> None:
    wanted = (
        "damsel, clownfish, tang, wrasse, angel, anthias, goby, blenny, dottyback, hawkfish, cardinal, "
        "foxface, trigger, lionfish, eel, mandarin, seahorse, cleaner shrimp, peppermint shrimp, snail, "
        "hermit, urchin, conch, starfish, clam, anemone, soft coral, large-polyp coral, small-polyp coral, "
        "zoanthid, gorgonian, sponge"
    )
    assert len({kind_named(name).id for name in wanted.split(", ")}) == 32


@EVERY_KIND
def test_every_row_is_sound(kind: Kind) -> None:
    groups = set(table("livestock")["groups"])
    assert kind.group in groups
    assert all(name in groups | set(kinds()) | {SMALL_FISH} for name in kind.endangers)
    assert kind.light in {"none", "low", "medium", "high"}
    assert kind.tolerance
    assert kind.source
    assert kind.scientific[0].isupper()
    assert 0.05 < fish_mass_g(kind.length_cm, kind.coefficient_a, kind.exponent_b) < 2000


@EVERY_KIND
def test_corals_are_reckoned_by_area_and_the_rest_by_mass(kind: Kind) -> None:
    if kind.oxygen is OxygenModel.CORAL:
        assert kind.area_factor > 0


@EVERY_KIND
def test_a_predator_travels_alone_and_says_whom_it_endangers(kind: Kind) -> None:
    if kind.temperament is Temperament.PREDATOR:
        assert ContainerRule.ALONE in kind.container
        assert kind.endangers


@EVERY_KIND
def test_feeding_fits_the_animal(kind: Kind) -> None:
    hunts_fish = SMALL_FISH in kind.endangers and kind.temperament is Temperament.PREDATOR
    if kind.group == "fish":
        assert kind.feeding not in {Feeding.FILTER, Feeding.NONE}
        assert not hunts_fish or kind.feeding is Feeding.LARGE_PREDATOR
    else:
        assert kind.feeding in {Feeding.FILTER, Feeding.NONE}
    if kind.oxygen is OxygenModel.CORAL:
        assert kind.feeding is Feeding.FILTER


def test_no_name_means_two_kinds() -> None:
    names: dict[str, str] = {}
    for kind in kinds().values():
        for name in {kind.id.replace("-", " "), kind.name.replace("-", " "), *kind.aliases}:
            assert names.setdefault(name.replace("-", " "), kind.id) == kind.id, name


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("clownfish", "clownfish"),
        ("Clowns", "clownfish"),
        ("TANGS", "tang"),
        ("small-polyp-coral", "small-polyp-coral"),
        ("small polyp stony corals", "small-polyp-coral"),
        ("gobies", "goby"),
        ("anthias", "anthias"),
        ("blennies", "blenny"),
        ("wrasses", "wrasse"),
        ("sea_stars", "starfish"),
        ("conchs", "conch"),
        ("conches", "conch"),
        ("Hippocampus", "seahorse"),
        ("  cleaner   shrimp ", "cleaner-shrimp"),
    ],
)
def test_a_kind_is_found_as_a_keeper_would_write_it(text: str, expected: str) -> None:
    assert kind_named(text).id == expected


NAMES_OF_THE_TRADE = {
    "clownfish": "ocellaris, ocellaris clownfish, perculas, tomato clownfish",
    "tang": "purple tang, kole tang, convict tang, powder blue tang, sailfin tangs",
    "palette-tang": "hippo tang, regal tangs",
    "wrasse": "melanurus wrasse, yellow coris wrasse",
    "six-line-wrasse": "sixline, six-line",
    "dwarf-angelfish": "flame angel, coral beauties, bicolor angelfish",
    "butterflyfish": "copperband, copperband butterflies",
    "shrimp-goby": "yellow watchman goby",
    "blenny": "midas blenny, starry blennies",
    "basslet": "royal gramma, royal grammas",
    "cardinalfish": "banggai cardinalfish, pajama cardinals",
    "mandarin": "mandarin goby, scooter blenny",
    "snail": "clean-up crew, cleanup crew, CUC, nerite snails",
    "turbo-snail": "astraea, mexican turbo",
    "hermit-crab": "blue leg hermits, scarlet hermit crab",
    "giant-clam": "derasa clam, maxima, squamosa clams",
    "anemone": "bubble tip, BTA, bubble-tip anemones, RBTA, rock flower anemones",
    "large-polyp-coral": "frogspawn, frogspawn coral, duncan, duncan coral, chalice, chalices, hammer, torches, acans, "
    "candy canes, trumpet coral, favia, goniopora, blastos, scolymia, elegance coral, euphyllia",
    "small-polyp-coral": "acros, montis, birdsnest, bird's nest coral, stylophora, SPS frags, digitata",
    "leather-coral": "toadstools, toadstool leather, cabbage leather",
    "soft-coral": "pulsing xenia, kenya trees, clove polyps",
    "mushroom-coral": "discosoma, rhodactis, ricordea florida",
    "zoanthid": "zoas, palys, button polyps",
}
"""Common English names, as hobbyists write them (recalled)."""


@pytest.mark.parametrize(
    ("text", "expected"),
    [(name, kind) for kind, names in NAMES_OF_THE_TRADE.items() for name in names.split(", ")],
)
def test_names_that_hobbyists_use_are_known(text: str, expected: str) -> None:
    assert kind_named(text).id == expected


def test_an_unknown_kind_names_the_nearest() -> None:
    with pytest.raises(UnknownKindError) as caught:
        kind_named("clwnfsh")
    assert (
        str(caught.value) == 'no kind of animal is called "clwnfsh"; did you mean "clownfish" or "clingfish"?'
    )
    assert caught.value.nearest == ("clownfish", "clingfish")


def test_a_hopeless_name_gets_no_suggestion() -> None:
    with pytest.raises(UnknownKindError) as caught:
        kind_named("bicycle pump")
    assert str(caught.value) == 'no kind of animal is called "bicycle pump"'


@pytest.mark.parametrize(
    ("hunter", "hunter_cm", "other", "other_cm", "expected"),
    [
        ("lionfish", 20.0, "goby", 6.0, True),
        ("lionfish", 20.0, "tang", 15.0, False),
        ("lionfish", 8.0, "cleaner shrimp", 5.0, True),
        ("hermit crab", 2.5, "turbo snail", 4.0, True),
        ("harlequin shrimp", 4.0, "starfish", 15.0, True),
        ("cardinalfish", 7.0, "cleaner shrimp", 5.0, False),
    ],
)
def test_who_endangers_whom(
    hunter: str, hunter_cm: float, other: str, other_cm: float, expected: bool
) -> None:
    assert endangers(kind_named(hunter), hunter_cm, kind_named(other), other_cm) is expected


def test_zoanthids_and_venomous_animals_carry_their_warning() -> None:
    assert ContainerRule.TOXIN in kind_named("zoanthid").container
    assert ContainerRule.STINGS in kind_named("lionfish").container
    assert ContainerRule.SPINES in kind_named("long-spined urchin").container


def test_a_word_out_of_names_leads_to_what_has_it() -> None:
    """What hobbyists call it is part of the alias under which a kind is known."""
    for word, offered in (("elegances", "elegance coral"), ("candy", "candy cane")):
        with pytest.raises(UnknownKindError) as caught:
            kind_named(word)
        assert caught.value.nearest == (offered,)
        assert kind_named(offered).name == "large-polyp stony coral"


@pytest.mark.parametrize(
    ("text", "offered", "kind"),
    [
        ("unicorn", "unicornfish", "tang"),
        ("zebrasoma flavescen", "Zebrasoma flavescens", "yellow-tang"),
        ("peppermnt shrimp", "peppermint shrimp", "peppermint-shrimp"),
    ],
)
def test_what_is_offered_is_a_name_like_the_own_and_is_known(text: str, offered: str, kind: str) -> None:
    with pytest.raises(UnknownKindError) as caught:
        kind_named(text)
    assert caught.value.nearest == (offered,)
    assert kind_named(offered).id == kind
