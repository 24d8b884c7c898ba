from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from moveplan.cli.commands.build import print_built
from moveplan.errors import OutputError
from moveplan.outputs.documents import printing
from moveplan.outputs.documents.printing import find_browser, paper_of, printed
from moveplan.pipeline import Settings
from moveplan.stages.written import Target, write
from tests.outputs.scene import bare, impossible, moving_day

WRITES = 'for word in "$@"; do case $word in --print-to-pdf=*) target=${word#*=};; esac; done'


def _browser(folder: Path, script: str) -> Path:
    """A program with a browser's name that does what the script says with the name of the PDF in ``target``."""
    program = folder / "chromium"
    program.write_text(f"#!/bin/sh\n{WRITES}\n{script}\n")
    program.chmod(0o755)
    return program


@pytest.mark.parametrize(
    ("country", "locale", "paper"),
    [
        ("IE", "en_IE", "A4"),
        ("US", "en_GB", "letter"),
        ("", "en_US", "letter"),
        ("", "es-MX", "letter"),
        ("", "de_DE", "A4"),
        ("", "en", "A4"),
        ("ie", "en_US", "A4"),
    ],
)
def test_the_paper_is_that_of_the_country_else_of_the_locale(country: str, locale: str, paper: str) -> None:
    plan = replace(moving_day().project.plan, country=country, locale=locale)
    assert paper_of(plan) == paper


def test_every_sheet_is_printed_in_a_profile_of_its_own_without_a_network(tmp_path: Path) -> None:
    browser = _browser(tmp_path, 'printf "%%PDF-1.4 %s" "$*" > "$target"')
    files = printed(moving_day(), browser)
    assert list(files) == [
        "checklist.pdf",
        "run-sheets.pdf",
        "labels.pdf",
        "load-plan.pdf",
        "shopping-list.pdf",
    ]
    profiles = set()
    for data in files.values():
        words = data.decode()
        assert "--host-resolver-rules=MAP * ~NOTFOUND" in words
        profiles.add(words.partition("--user-data-dir=")[2].partition(" ")[0])
    assert len(profiles) == 5
    assert not any(Path(profile).exists() for profile in profiles)


def test_what_has_nothing_on_it_or_cannot_be_followed_is_not_printed(tmp_path: Path) -> None:
    browser = _browser(tmp_path, 'printf "%%PDF-1.4" > "$target"')
    assert printed(impossible(), browser) == {}
    assert "labels.pdf" not in printed(bare(), browser)


@pytest.mark.parametrize(
    ("script", "message"),
    [
        ("exit 1", "checklist.pdf cannot be printed: {} printed nothing (no such file or directory)"),
        ('echo no > "$target"', "checklist.pdf cannot be printed: {} wrote no PDF"),
        ("exec sleep 20", "checklist.pdf cannot be printed: {} took longer than 0.3 s"),
    ],
)
def test_a_browser_that_does_not_print_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, script: str, message: str
) -> None:
    monkeypatch.setattr(printing, "LONGEST_S", 0.3)
    browser = _browser(tmp_path, script)
    with pytest.raises(OutputError) as caught:
        printed(moving_day(), browser)
    assert str(caught.value) == f"{message.format(browser)}; nothing was written; build without --pdf"


def test_where_no_browser_is_installed_it_says_so_and_writes_the_rest(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path / "nothing"))
    (tmp_path / "labels.pdf").write_bytes(b"%PDF-1.4 of yesterday")
    assert find_browser() is None
    built = write(moving_day(), Target(tmp_path), Settings(pdf=True))
    assert [path.name for path in tmp_path.glob("*.pdf")] == ["labels.pdf"]
    print_built(built)
    lines = capsys.readouterr().out.splitlines()
    assert (
        "  no PDF was printed: no Chromium is installed (chromium, chromium-browser or google-chrome on the "
        "search path); the page prints the same sheets from any browser"
    ) in lines
    assert f"  {tmp_path / 'labels.pdf'} is of an earlier build and out of date" in lines


def test_a_browser_that_fails_leaves_every_file_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _browser(tmp_path, "exit 1")
    monkeypatch.setenv("PATH", str(tmp_path), prepend=":")
    folder = tmp_path / "out"
    with pytest.raises(OutputError):
        write(moving_day(), Target(folder), Settings(pdf=True))
    assert not folder.exists()
