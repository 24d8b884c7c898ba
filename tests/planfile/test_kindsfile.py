"""Kinds of the keeper's own: what is read, that they rule what the table rules, and every message."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.plan.move import Plan
from moveplan.planfile import read_plan
from moveplan.quantities.assemble import facts_of
from moveplan.science.animals.livestock import kinds
from tests.docs.pages import blocks

NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
PLAN = """\
title: A move
timezone: Europe/Dublin
dates: {move-day: 2027-03-13}
places: {old: {}, new: {distance: 20 km}}
systems: {reef: {tank: {length: 120 cm, width: 60 cm, height: 55 cm}}}
kinds-file: kinds.toml
livestock: {one: {kind: orchid gobies, count: 2}, shrimp: {kind: cleaner-shrimp, count: 2}}
"""
ORCHID = '[orchid-goby]\nlike = "goby"\nlength = "5 cm"\n'


def brought(folder: Path, content: str, plan: str = PLAN) -> Plan:
    (folder / "kinds.toml").write_text(content, encoding="utf-8")
    (folder / "plan.yaml").write_text(plan, encoding="utf-8")
    return read_plan(folder / "plan.yaml", NOW)


def messages(folder: Path, content: str) -> list[str]:
    with pytest.raises(PlanFileError) as caught:
        brought(folder, content)
    mine = [str(one).replace(f"{folder}/", "") for one in caught.value.problems]
    return [one for one in mine if one.startswith("kinds.toml")]


def test_like_takes_over_what_is_not_said(tmp_path: Path) -> None:
    traits = brought(tmp_path, ORCHID).livestock[0].traits
    goby = kinds()["goby"]
    assert (traits.id, traits.name, traits.aliases, traits.length_cm) == (
        "orchid-goby",
        "orchid goby",
        (),
        5.0,
    )
    assert (traits.container, traits.feeding, traits.exponent_b) == (
        goby.container,
        goby.feeding,
        goby.exponent_b,
    )
    assert brought(tmp_path, ORCHID).livestock[0].size_cm == 5.0


def test_own_rules_decide_who_travels_together(tmp_path: Path) -> None:
    """Common practice, no source: an animal that eats another is not put into one container with it."""

    plan = PLAN.replace("shrimp: {kind: cleaner-shrimp", "chromis: {kind: chromis")

    def together(content: str) -> bool:
        facts = facts_of(brought(tmp_path, content, plan))
        vessels = [vessel for system in facts.systems for vessel in system.vessels]
        return any({"one", "chromis"} <= {held.id for held in vessel.holds} for vessel in vessels)

    assert together(ORCHID)
    assert not together(ORCHID + 'endangers = ["chromis"]\n')
    assert not together(ORCHID + 'container = ["alone", "dark"]\n')


def test_an_own_kind_comes_before_a_shipped_one(tmp_path: Path) -> None:
    content = ORCHID + '[cleaner-shrimp]\nlike = "cleaner-shrimp"\nlength_cm = 7.5\n'
    found = brought(tmp_path, content)
    assert found.livestock[1].size_cm == 7.5
    assert kinds()["cleaner-shrimp"].length_cm == 5.0


def test_near_names_know_own_kinds(tmp_path: Path) -> None:
    with pytest.raises(PlanFileError, match='did you mean "orchid goby"'):
        brought(tmp_path, ORCHID, PLAN.replace("orchid gobies", "orchid gobbies"))


def test_what_the_guide_shows_is_read(tmp_path: Path) -> None:
    (table,) = blocks("moveplan/guide/plan_file.md", "csv")
    (own,) = blocks("moveplan/guide/plan_file.md", "toml")
    (tmp_path / "animals.csv").write_text(table, encoding="utf-8")
    plan = re.sub("livestock:.*", "livestock-file: animals.csv", PLAN)
    found = brought(tmp_path, own, plan)
    assert [(one.id, one.kind, one.count) for one in found.livestock] == [
        ("clownfish", "clownfish", 2),
        ("frogspawn-on-the-left", "large-polyp-coral", 1),
        ("orchid-goby", "orchid-goby", 1),
    ]


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (
            "[a\n",
            [
                "kinds.toml:1: this is not TOML: expected ']' at the end of a table declaration; "
                'write for example three lines: [orchid-goby], like = "goby", length = "5 cm"'
            ],
        ),
        (
            '[a]\nlike = "gobyy"\n',
            ['kinds.toml:2 a.like: no kind of animal is called "gobyy"; did you mean "goby"?'],
        ),
        (
            '[a]\ngroup = "fish"\n',
            ['kinds.toml:1 a: length is missing; add for example: length = "5 cm", or like = "goby"'],
        ),
        (
            '[a]\nlength = "5 cm"\n',
            ['kinds.toml:1 a: group is missing; add for example: group = "fish", or like = "goby"'],
        ),
        (
            '[a]\nlike = "goby"\nlenght = "5 cm"\n',
            ['kinds.toml:3 a.lenght: no such key; did you mean "length"?'],
        ),
        (
            '[a]\nlike = "goby"\nlength = "5 m"\n',
            ['kinds.toml:3 a.length: "5 m" is more than 300 cm; write "300 cm" or less'],
        ),
        (
            '[a]\nlike = "goby"\nendangers = ["shrimps"]\ncontainer = "dark"\n',
            [
                'kinds.toml:3 a.endangers: "shrimps" is not known here; did you mean "shrimp"?',
                'kinds.toml:4 a.container: a list of texts belongs here; write for example container = ["jumps"]',
            ],
        ),
        (
            '[a]\nlike = "goby"\nname = 5\n',
            ['kinds.toml:3 a.name: a text belongs here; put it into quotation marks: name = "5"'],
        ),
        (
            "a = 1\n",
            [
                "kinds.toml:1 a: a value stands where a kind with its keys belongs; "
                'write for example three lines: [orchid-goby], like = "goby", length = "5 cm"'
            ],
        ),
    ],
)
def test_messages(tmp_path: Path, content: str, expected: list[str]) -> None:
    assert messages(tmp_path, content) == expected
