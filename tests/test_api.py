"""The program as a library: the same as the command line, typed, and as its page in the guide says."""

from __future__ import annotations

import contextlib
import inspect
import io
import json
from pathlib import Path

import pytest

from moveplan import api, pipeline
from moveplan.errors import PlanFileError
from tests.cli.command import FOOTBRIDGE, ended, process
from tests.docs.pages import ROOT, blocks

EXPORTED = {"Checked", "Loaded", "Planned", "check", "load", "plan", "write"}


@pytest.fixture
def footbridge(tmp_path: Path) -> Path:
    path = tmp_path / "plan.yaml"
    path.write_text(FOOTBRIDGE + "as-of: 2027-02-01 08:00\n", encoding="utf-8")
    return path


def test_it_gives_what_the_command_line_gives(footbridge: Path, tmp_path: Path) -> None:
    planned = api.plan(api.load(footbridge))
    assert planned.works
    files = api.write(planned, tmp_path / "ours")
    assert ended(process("build", footbridge, "--out", tmp_path / "theirs")).status == 0
    assert {file.name: file.read_bytes() for file in files} == {
        file.name: file.read_bytes() for file in (tmp_path / "theirs").iterdir()
    }
    assert json.loads((tmp_path / "ours" / "result.json").read_text("utf-8")) == json.loads(
        json.dumps(planned.data)
    )


def test_a_plan_file_that_is_wrong_is_told_with_each_problem(footbridge: Path) -> None:
    footbridge.write_text(FOOTBRIDGE.replace("3 h", "3 hourz"), encoding="utf-8")
    with pytest.raises(PlanFileError) as caught:
        api.load(footbridge)
    assert [problem.where for problem in caught.value.problems] == [f"{footbridge}:10 tasks.footing.duration"]


def test_check_makes_no_schedule(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_arguments: object) -> None:
        pytest.fail("it was scheduled")

    monkeypatch.setattr(pipeline, "schedule", never)
    loaded = api.load(ROOT / "examples" / "short_plan.yaml")
    checked = api.check(loaded)
    assert checked.fine
    low, likely, high, unit = checked.quantities["purified water"]
    assert low <= likely <= high
    assert unit == "l"
    assert {key for key, _value, _why in loaded.assumptions} >= {"systems.reef.sump"}


def test_what_is_promised_is_there_and_documented() -> None:
    assert set(api.__all__) == EXPORTED
    for name in EXPORTED:
        assert inspect.getdoc(getattr(api, name)), name
    for name in ("load", "check", "plan", "write"):
        signature = inspect.signature(getattr(api, name))
        assert all(one.annotation is not inspect.Parameter.empty for one in signature.parameters.values())
        (row,) = [
            line
            for line in (ROOT / "moveplan/guide/api.md").read_text("utf-8").splitlines()
            if f"`{name}(" in line
        ]
        assert all(parameter in row for parameter in signature.parameters)


def test_the_session_of_the_guide_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "my_move.yaml").write_text(
        (ROOT / "examples" / "short_plan.yaml").read_text("utf-8"), "utf-8"
    )
    monkeypatch.chdir(tmp_path)
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        for text in blocks("moveplan/guide/api.md", "python"):
            exec(compile(text, "api.md", "exec"), {})  # noqa: S102 - a page of this repository
    told = said.getvalue().splitlines()
    assert [line.partition(":")[0] for line in told[:2]] == ["Friday", "Saturday"]
    assert told[2].endswith(" files, first out/index.html")
    assert told[3].startswith("tang territorial ")


def test_the_session_of_the_guide_goes_on_where_no_day_works(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (ROOT / "examples" / "house_move.yaml").read_text("utf-8").replace("2027-03-13", "2027-06-05")
    lines = [
        line
        for line in text.splitlines(keepends=True)
        if not line.strip().startswith(("fall-back-day:", "access-from:", "keys-back:"))
    ]
    (tmp_path / "my_move.yaml").write_text("".join(lines), "utf-8")
    monkeypatch.chdir(tmp_path)
    exec(compile(next(iter(blocks("moveplan/guide/api.md", "python"))), "api.md", "exec"), {})  # noqa: S102
    told = capsys.readouterr().out.splitlines()
    assert [line for line in told if not line.startswith(" ")] == ["2027-06-04", "2027-06-05"]
    assert sum("vehicles.van.hire: " in line for line in told) == len(("2027-06-04", "2027-06-05"))
