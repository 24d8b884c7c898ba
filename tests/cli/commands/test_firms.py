"""The commands on a firm file, as whole runs: exit statuses, files, the same bytes twice."""

from __future__ import annotations

import json
from pathlib import Path

from moveplan.firm.file.reader import read_firm
from tests.cli.command import QUICK, Run
from tests.firm.firms import copied

ONE_JOB = ("  - {plan: jobs/late_call.yaml, day: 2027-05-08}\n", "")


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_build_writes_the_same_bytes_twice_whatever_the_number_of_processes(run: Run, tmp_path: Path) -> None:
    path = copied(tmp_path, ONE_JOB)
    first = run("build", path, "--out", tmp_path / "one", "--jobs", "1", *QUICK)
    second = run("build", path, "--out", tmp_path / "two", "--jobs", "2", *QUICK)
    assert (first.status, second.status) == (0, 0), first.err
    one, two = contents(tmp_path / "one"), contents(tmp_path / "two")
    assert one == two
    wanted = {
        "index.html",
        "result.json",
        "gear.md",
        "quotes.md",
        "stock.md",
        "real.md",
        "vehicles/van-one.ics",
        "people/ruth.md",
        "people/ruth.ics",
        "vehicles/van-one.md",
    }
    wanted |= {
        f"jobs/garden_flat/{name}" for name in ("index.html", "checklist.md", "client.html", "result.json")
    }
    assert wanted <= set(one)


def test_options_of_one_plan_are_refused_and_not_left_out(run: Run, tmp_path: Path) -> None:
    ran = run("build", copied(tmp_path), "--out", tmp_path / "out", "--pdf", "--todos")
    assert ran.status == 2
    assert "--todos, --pdf: for one plan only" in ran.err
    assert not (tmp_path / "out").exists()


def test_a_job_too_many_ends_with_status_1_and_says_what_would_help(run: Run, tmp_path: Path) -> None:
    ran = run("build", copied(tmp_path), "--out", tmp_path / "out", *QUICK)
    assert ran.status == 1
    assert "job late_call has no day" in ran.out
    assert "if garden_flat gives up 2027-05-08 for" in ran.out
    data = json.loads((tmp_path / "out" / "result.json").read_text("utf-8"))
    assert data["status"] == "cannot-be-done"
    late = next(job for job in data["jobs"] if job["id"] == "late_call")
    assert late["days_that_do"]
    assert late["asks"][0]["price"] == 150.0
    assert "late_call" in (tmp_path / "out" / "index.html").read_text("utf-8")
    assert not (tmp_path / "out" / "jobs" / "late_call").exists()


def test_two_promises_that_cannot_both_be_kept_are_told_with_both_lines(run: Run, tmp_path: Path) -> None:
    path = copied(
        tmp_path, ("late_call.yaml, day: 2027-05-08}", "late_call.yaml, day: 2027-05-08, promised: yes}")
    )
    ran = run("show", path, *QUICK)
    assert ran.status == 1
    assert f"{path}:47 jobs.late_call" in ran.out
    assert f"cannot be kept together with what is promised to garden_flat ({path}:46" in ran.out


def test_check_lists_jobs_and_what_is_assumed(run: Run, tmp_path: Path) -> None:
    path = copied(tmp_path)
    ran = run("check", path)
    assert ran.status == 0
    assert "garden_flat: Garden flat reef, Saturday" in ran.out
    data = json.loads(run("check", path, "--json").out)
    assert [job["id"] for job in data["jobs"]] == ["garden_flat", "late_call"]
    assert run("check", path, "--quiet").out == ""


def test_somebody_in_the_files_of_two_firms_is_told_with_both_lines(run: Run, tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
    one = copied(tmp_path / "one", ONE_JOB)
    two = copied(tmp_path / "two", ("b202", "b203"), ONE_JOB)
    ran = run("check", one, two, "--quiet")
    assert ran.status == 1
    assert f"{one}:24 people.ruth: Ruth Ansty is in" in ran.out
    assert f"({two}:24 people.ruth); both may send them on 2027-05-08" in ran.out
    assert 'write the days of the one under "away:" of the other' in " ".join(ran.out.split())
    for who in ("ruth", "owen", "jun", "petra", "sol"):
        assert run("record", two, "out", who, "2027-05-08").status == 0
    ran = run("check", one, two)
    assert ran.status == 0, ran.out
    assert "no moving day of the two meets" in " ".join(ran.out.split())
    assert run("check", one, two, "--quiet").out == ""


def test_a_broken_job_ends_check_with_status_2(run: Run, tmp_path: Path) -> None:
    path = copied(tmp_path, ("jobs/late_call.yaml", "jobs/no_such_plan.yaml"))
    ran = run("check", path)
    assert ran.status == 2
    assert "no_such_plan.yaml" in ran.err


def test_out_and_back_are_recorded(run: Run, tmp_path: Path) -> None:
    path = copied(tmp_path)
    ran = run("record", path, "out", "Sol", "2027-05-08")
    assert (ran.status, ran.out.partition(";")[0]) == (0, "sol: not there on 2027-05-08")
    assert run("record", path, "out", "nobody", "2027-05-08").status == 2
    assert run("record", path, "back", "Sol", "2027-05-08").status == 0
    lines = (tmp_path / "one_too_many.journal.jsonl").read_text("utf-8").splitlines()
    assert ["out" in json.loads(line) for line in lines] == [True, False]


def test_nobody_is_recorded_as_out_where_the_last_build_cannot_be_read(run: Run, tmp_path: Path) -> None:
    path = copied(tmp_path)
    (tmp_path / "built").mkdir()
    own = {"id": read_firm(path).id, "purpose": "firm"}
    parts: list[dict[str, object]] = [
        {},
        {"jobs": [{"id": "garden_flat", "day": "2027-05-08"}], "people": []},
        {"jobs": [], "people": [3]},
    ]
    broken = [json.dumps(own | part) for part in parts]
    for text in (None, "[]", '{"id": "another", "purpose": "firm"}', *broken):
        if text is not None:
            (tmp_path / "built" / "result.json").write_text(text, "utf-8")
        ran = run("record", path, "out", "sol", "2027-05-08", "--built", tmp_path / "built")
        assert ran.status == 2
        assert "build" in ran.err
        assert "not there on" not in ran.out
        assert run("record", path, "accept", "--built", tmp_path / "built").status == 2
    assert not list(tmp_path.glob("*.jsonl"))


def test_kilometres_of_a_job_are_recorded_for_a_firm_and_refused_for_a_plan(run: Run, tmp_path: Path) -> None:
    path = copied(tmp_path)
    ran = run("record", path, "drove", "garden_flat", "212 km")
    assert (ran.status, ran.out.partition(";")[0]) == (0, "garden_flat: 212 km")
    assert run("record", path, "drove", "garden", "212 km").status == 2
    ran = run("record", tmp_path / "jobs" / "garden_flat.yaml", "drove", "garden_flat", "212 km")
    assert ran.status == 2
    assert "for a firm file only" in ran.err


def test_new_writes_a_firm_file_that_can_be_checked(run: Run, tmp_path: Path) -> None:
    copied(tmp_path)
    path = tmp_path / "mine.yaml"
    ran = run("new", path, "--firm", "--title", "Our June")
    assert ran.status == 0, ran.err
    checked = run("check", path)
    assert checked.status == 0, checked.err
    assert "Our June: 7 jobs" in checked.out
    assert run("new", path, "--firm").status != 0
    (tmp_path / "empty").mkdir()
    assert run("new", tmp_path / "empty" / "firm.yaml", "--firm").status == 2


def test_the_schema_of_a_firm_file_is_printed(run: Run) -> None:
    ran = run("schema", "--firm")
    assert ran.status == 0
    assert json.loads(ran.out)["required"][:2] == ["title", "purpose"]
