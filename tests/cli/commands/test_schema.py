"""``moveplan schema``, and the copy of its tables in README."""

from __future__ import annotations

import json
import re

import pytest

from moveplan.planfile.editor import plan_schema
from moveplan.planfile.reference import reference_table
from tests.cli.command import ROOT, Run

SECTION = re.compile(
    r"<!-- plan-file reference: begin -->\n(.*?)<!-- (?:plan-file reference: )?end -->", re.DOTALL
)


def test_schema_is_printed_as_json(run: Run) -> None:
    ran = run("schema")
    assert (ran.status, ran.err) == (0, "")
    assert json.loads(ran.out) == plan_schema()


def test_tables_are_printed_as_markdown(run: Run) -> None:
    ran = run("schema", "--table")
    assert (ran.status, ran.err, ran.out) == (0, "", reference_table())


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_the_reference_in_the_pages_is_the_one_printed(page: str) -> None:
    file = ROOT / page
    text = file.read_text("utf-8") if file.exists() else ""
    copies = [copy.strip() for copy in SECTION.findall(text)]
    assert copies in ([], [reference_table().strip()])
