"""Every example of the repository is read."""

from pathlib import Path

import pytest

from moveplan.planfile import read_plan

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_example_is_read(path: Path) -> None:
    plan = read_plan(path)
    assert plan.systems
    assert plan.livestock
    assert plan.lines["title"] > 0


def test_there_are_examples() -> None:
    assert len(EXAMPLES) >= 3
