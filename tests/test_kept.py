from __future__ import annotations

import sys
import tomllib
from pathlib import Path

import pytest

from moveplan import kept
from moveplan.kept import Kept, table_of


@pytest.fixture
def table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A table of its own; what is made of it may be kept."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", None)
    file = tmp_path / "one.toml"
    file.write_text("x = 1\n", encoding="utf-8")
    return file


def in_a_new_process(file: Path) -> object:
    """Read the table where nothing is known but what is in files; what is new is kept in them."""
    kept._tables.cache_clear()
    found = table_of(file)
    kept._tables(file.parent).save()
    return found


def test_a_table_is_parsed_again_only_where_its_text_has_changed(
    table: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert in_a_new_process(table) == {"x": 1}
    with monkeypatch.context() as known:
        known.setattr(tomllib, "loads", None)
        assert in_a_new_process(table) == {"x": 1}
    table.write_text("x = [2]\n", encoding="utf-8")
    assert in_a_new_process(table) == {"x": [2]}
    assert table_of(table) is not table_of(table)


@pytest.mark.parametrize("broken", [b"", b"x", b"\x00" * 40, b"i\x01\x00\x00\x00"])
def test_what_cannot_be_read_is_made_anew(table: Path, broken: bytes) -> None:
    in_a_new_process(table)
    (file,) = (table.parent / "__pycache__").iterdir()
    file.write_bytes(broken)

    assert in_a_new_process(table) == {"x": 1}
    assert Kept(table.parent / "tables.toml").get("one.toml")
