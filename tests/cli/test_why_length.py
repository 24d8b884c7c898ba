"""``why`` says of every task what two screens hold, and where the rest is."""

from __future__ import annotations

import pytest

from moveplan import pipeline
from moveplan.cli.terminal.paper import laid_out
from moveplan.cli.terminal.screen import print_why
from moveplan.scheduling.effort import Effort
from moveplan.stages.reading import Settings
from tests.cli.command import ROOT


@pytest.mark.parametrize("name", ["house_move", "several_systems"])
def test_two_screens_at_most(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    settings = Settings(effort=Effort(seconds=0.1, engine="serial"), runs=0)
    outlook = pipeline.outlook_of(ROOT / "examples" / f"{name}.yaml", settings)
    cut = 0
    for task in outlook.project.network.tasks:
        print_why(outlook, task.id, as_json=False)
        said = capsys.readouterr().out
        assert len(laid_out(said, 80).splitlines()) <= 48, task.id
        assert "\n\nWaits for\n" in said
        cut += "more reasons behind these" in said or "\n  and " in said
    assert cut
