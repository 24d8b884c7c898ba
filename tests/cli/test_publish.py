"""``build --publish`` and ``--invite``: calendars to subscribe to, and invitations to mail."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

import icalendar
import vobject

from tests.cli.command import QUICK, ROOT, Run

SHORT = (ROOT / "examples" / "short_plan.yaml").read_text("utf-8")


def test_calendars_are_published_under_names_that_stay_and_tell_nothing(run: Run, tmp_path: Path) -> None:
    plan, shared = tmp_path / "plan.yaml", tmp_path / "shared"
    plan.write_text(SHORT, encoding="utf-8")
    command = ("build", plan, "--out", tmp_path / "out", "--publish", shared, *QUICK)
    ran = run(*command)
    assert ran.status == 0, ran.out + ran.err
    links = dict(re.findall(r"to subscribe to, for (\w+): (\S+)", ran.out))
    assert set(links) == {"Mara", "Joel"}
    assert {str(path) for path in shared.iterdir()} == set(links.values())
    for name, path in links.items():
        data = Path(path).read_bytes()
        assert re.fullmatch(r"[\w-]{24}\.ics", Path(path).name)
        assert data.count(b"\r\nREFRESH-INTERVAL;VALUE=DURATION:PT6H\r\n") == 1
        own = tmp_path / "out" / ("calendar.ics" if name == "Mara" else "calendar-joel.ics")
        assert data.replace(b"REFRESH-INTERVAL;VALUE=DURATION:PT6H\r\n", b"") == own.read_bytes()
        whole = icalendar.Calendar.from_ical(data)
        assert whole.decoded("REFRESH-INTERVAL") == timedelta(hours=6)
        assert vobject.readOne(data.decode()).contents["vevent"]
    assert run(*command).status == 0
    assert {str(path) for path in shared.iterdir()} == set(links.values())
    plan.with_suffix(".crew-secret").unlink()
    run(*command)
    assert len(list(shared.iterdir())) == 4


def test_build_names_what_is_to_be_mailed_and_names_nothing_twice(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    text = SHORT
    command = ("build", path, "--out", tmp_path / "out", "--invite", *QUICK)
    path.write_text(text, encoding="utf-8")
    assert run(*command).status == 2
    for who in ("mara", "joel"):
        text = text.replace(f"  {who}: {{", f"  {who}: {{email: {who}@example.net, ", 1)
    path.write_text(text, encoding="utf-8")
    first = run(*command)
    assert first.status == 0, first.out + first.err
    told = [line for line in first.out.splitlines() if "to mail to Joel, joel@example.net: " in line]
    files = sorted((tmp_path / "out" / "invitations" / "joel").iterdir())
    assert sorted(line.partition("net: ")[2] for line in told) == [str(file) for file in files] != []
    assert "to mail to" not in run(*command).out


def test_the_command_of_the_guide_writes_invitations_of_an_example(run: Run, tmp_path: Path) -> None:
    page = (ROOT / "moveplan" / "guide" / "calendar.md").read_text("utf-8")
    assert "    moveplan build small_tank_move --out out/small_tank_move --invite\n" in page
    ran = run("build", "small_tank_move", "--out", tmp_path / "out", "--invite", *QUICK)
    assert ran.status == 0, ran.err
    files = sorted((tmp_path / "out" / "invitations" / "milo").iterdir())
    assert files
    assert ran.out.count("to mail to Milo Sayer, milo@example.org: ") == len(files)
    assert "no invitation for" not in ran.out
    assert b"METHOD:REQUEST" in files[0].read_bytes()
