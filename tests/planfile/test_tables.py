"""Tables of animals and gear beside the plan: the same plan however they are written, and every message."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

import pytest

from moveplan.errors import PlanFileError
from moveplan.outputs.data.table import _safe as as_our_tables_write_it
from moveplan.plan.move import Plan
from moveplan.planfile import read_plan

NOW = datetime(2027, 1, 4, 9)  # noqa: DTZ001
PLAN = """\
title: A move
timezone: Europe/Dublin
dates: {move-day: 2027-03-13}
places: {old: {}, new: {distance: 20 km}}
systems: {reef: {tank: {length: 120 cm, width: 60 cm, height: 55 cm}}}
"""
WRITTEN = """\
livestock:
  clowns: {name: Clownfish, kind: clownfish, count: 2, size: 7.5 cm, value: 35}
  frog: {name: "Froschlaich-Koralle, grün", kind: bubble coral, count: 1, size: 12 cm}
gear:
  tubs: {name: Lidded tubs, kind: tub, count: 12, volume: 60 l}
"""
ANIMALS = (
    ("id", "name", "kind", "count", "size (cm)", "value"),
    ("clowns", "Clownfish", "clownfish", "2", "7.5", "35"),
    ("frog", "Froschlaich-Koralle, grün", "bubble coral", "1", "12", ""),
)
GEAR = (("ID", "Name", "Kind", "Count", "Volume"), ("tubs", "Lidded tubs", "tub", "12", "60 l"))
HOSTILE = (
    '=HYPERLINK("http://example.invalid")', "+1+1", "-2", "@SUM(A1)", "'quoted'", 'a "b" c', "two\nlines",
    "comma, semi; colon: #", "<b>&amp;</b>", "{{ 7 * 7 }}", "\N{RIGHT-TO-LEFT OVERRIDE}abc",
    "鰭 🐠", "yes", "12:30", "null", "~",
)  # fmt: skip


def as_csv(rows: Sequence[Sequence[str]], separator: str = ",", ends: str = "\r\n") -> str:
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=separator, lineterminator=ends).writerows(rows)
    return text.getvalue()


def tabled(folder: Path, animals: bytes, gear: bytes | None = None, more: str = "") -> Plan:
    (folder / "animals.csv").write_bytes(animals)
    named = "livestock-file: animals.csv\n"
    if gear is not None:
        (folder / "gear.csv").write_bytes(gear)
        named += "gear-file: gear.csv\n"
    (folder / "plan.yaml").write_text(PLAN + named + more, encoding="utf-8")
    return read_plan(folder / "plan.yaml", NOW)


def messages(folder: Path, animals: str, more: str = "") -> list[str]:
    with pytest.raises(PlanFileError) as caught:
        tabled(folder, animals.encode(), more=more)
    return [str(problem).replace(f"{folder}/", "") for problem in caught.value.problems]


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_a_table_says_the_same_as_the_plan(tmp_path: Path, separator: str, encoding: str, ends: str) -> None:
    """Separator, decimal comma, encoding and line ends change nothing."""
    rows = [list(row) for row in ANIMALS]
    if separator != ",":
        rows[1][4] = "7,5"
    animals = as_csv(rows, separator, ends).encode(encoding)
    found = tabled(tmp_path, animals, as_csv(GEAR, separator, ends).encode(encoding))
    (tmp_path / "whole.yaml").write_text(PLAN + WRITTEN, encoding="utf-8")
    whole = read_plan(tmp_path / "whole.yaml", NOW)
    assert found.livestock == whole.livestock
    assert found.gear == whole.gear
    guessed = [one.key for one in found.assumptions if one.key.endswith("-file")]
    assert guessed == (["livestock-file"] if encoding == "cp1252" else [])
    others = [one for one in found.assumptions if one.key not in ("id", *guessed)]
    assert others == [one for one in whole.assumptions if one.key != "id"]


def test_texts_stay_what_they_are(tmp_path: Path) -> None:
    """Nothing in a cell is computed or read as YAML, and a table as we write it comes back as it was."""
    rows = [("name", "kind"), *((text, "goby") for text in HOSTILE)]
    for written in (rows, [as_our_tables_write_it(row) for row in rows]):
        found = tabled(tmp_path, as_csv(written).encode())
        assert [one.name for one in found.livestock] == list(HOSTILE)


def test_ids_are_made_where_none_are_given(tmp_path: Path) -> None:
    found = tabled(tmp_path, "name,kind\nÉmile's goby,goby\n,goby\n,goby\n鰭,goby\n".encode())
    assert [one.id for one in found.livestock] == ["emile-s-goby", "goby", "goby-2", "livestock"]


def test_the_plan_comes_before_the_table(tmp_path: Path) -> None:
    own = "livestock: {clowns: {count: 5}, tang: {kind: tang}}\n"
    found = tabled(tmp_path, b"id,kind,count,size\nclowns,clownfish,2,3 in\n", more=own)
    assert [(one.id, one.kind, one.count, one.size_cm) for one in found.livestock] == [
        ("clowns", "clownfish", 5, 7.62),
        ("tang", "tang", 1, 15.0),
    ]


def test_a_change_reaches_what_stands_in_a_table(tmp_path: Path) -> None:
    tabled(tmp_path, b"id,kind,count\nclowns,clownfish,2\n")
    found = read_plan(tmp_path / "plan.yaml", NOW, changes=["livestock.clowns.count=4"])
    assert found.livestock[0].count == 4


def test_columns_have_units(tmp_path: Path) -> None:
    found = tabled(tmp_path, b"Kind,Size [in],Mass (g)\ngoby,2,3\ngoby,50 mm,\n")
    assert [(one.size_cm, one.mass_g) for one in found.livestock] == [(5.08, 3.0), (5.0, None)]


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("", ['animals.csv: the table is empty; begin with a row such as "name,kind,count,size"']),
        (
            "kind,cuont\ngoby,2\n",
            ['animals.csv:1: no such column: "cuont"; did you mean "count"?'],
        ),
        ("kind,kind\ngoby,tang\n", ["animals.csv:1 kind: two columns have this name; keep one"]),
        (
            "kind,count\ngobby,2\n\nchromsi,x\n",
            [
                'animals.csv:2 livestock.gobby.kind: no kind of animal is called "gobby"; did you mean "goby"?',
                'animals.csv:4 livestock.chromsi.count: "x" is not a whole number; write for example "2"',
                'animals.csv:4 livestock.chromsi.kind: no kind of animal is called "chromsi"; did you mean "chromis"?',
            ],
        ),
        (
            "name,count\nNemo,2\n",
            [
                'animals.csv:2 livestock.nemo: kind is missing; fill in the column "kind", for example "clownfish"'
            ],
        ),
        (
            'name,kind\n"Nemo,goby\nDory,tang\n',
            [
                "animals.csv:2: the table cannot be read on from here (unexpected end of data); "
                "look for a quotation mark that is not closed"
            ],
        ),
        (
            "kind,count\ngoby,1,2\n",
            [
                "animals.csv:2 livestock: the row has 3 cells, and the first row names 2; "
                "put a cell that holds a separator into quotation marks"
            ],
        ),
        (
            "id,kind\na b,goby\none,goby\none,tang\n",
            [
                'animals.csv:2 livestock.id: "a b" cannot be an id; '
                "use letters, digits, dots, dashes and underscores, beginning with a letter or digit",
                "animals.csv:4 livestock.one: written twice (first at line 3); keep one",
            ],
        ),
        (
            "kind,size\ngoby,5\n",
            ['animals.csv:2 livestock.goby.size: "5" has no unit; write "5 cm" or "5 in"'],
        ),
        (
            "kind,system\ngoby,rief\n",
            ['animals.csv:2 livestock.goby.system: there is no system "rief"; did you mean "reef"?'],
        ),
        (
            "kind,count,\ngoby,2,x\n",
            [
                "animals.csv:1: no such column: number 3, which has no name; "
                "the columns here are id, name, kind, count, "
                "size, mass, temperament, system, value, leaves, sick, boarded, wished, container"
            ],
        ),
    ],
)
def test_messages(tmp_path: Path, table: str, expected: list[str]) -> None:
    assert messages(tmp_path, table) == expected


def test_bytes_that_are_no_text(tmp_path: Path) -> None:
    for content, expected in (
        (b"kind\ngoby\x81\n", "animals.csv:2: byte 0x81 is not text; save the file as UTF-8"),
        (b"kind\ngoby\x00\n", "animals.csv:2: the line holds the control character U+0000; remove it"),
        (b"\xff\xfekind", "animals.csv:1: no such column"),
    ):
        with pytest.raises(PlanFileError) as caught:
            tabled(tmp_path, content)
        assert expected in str(caught.value.problems[0])


def test_a_table_that_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(f"{PLAN}livestock-file: none.csv\ngear-file: .\n", encoding="utf-8")
    with pytest.raises(PlanFileError) as caught:
        read_plan(tmp_path / "plan.yaml", NOW)
    assert [str(one).replace(f"{tmp_path}/", "") for one in caught.value.problems] == [
        "plan.yaml:6 livestock-file: there is no such file; look at the name and the folder",
        "plan.yaml:7 gear-file: this is not a plain file; name a CSV file",
    ]
