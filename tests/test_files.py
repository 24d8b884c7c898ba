from __future__ import annotations

import errno
import os
import resource
import stat
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from moveplan.errors import OutputError
from moveplan.files import check_folder, read_file, write_files


def listing(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@contextmanager
def small_files_only() -> Iterator[None]:
    """A real limit of the system that ends a write half-way, as a full disk does.

    It holds for the whole process, so it must be over before the test runner writes its own log.
    """
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (10_000, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def failing_at(call: int, real: Callable[..., Any], error: BaseException) -> Callable[..., Any]:
    """The real function until its n-th call, which fails."""
    calls = iter(range(1, 1000))

    def function(*args: Any, **kwargs: Any) -> Any:
        if next(calls) == call:
            raise error
        return real(*args, **kwargs)

    return function


def test_writes_all_and_leaves_nothing_else(tmp_path: Path) -> None:
    out = tmp_path / "out" / "deep"

    write_files({out / "b.txt": b"two\r\n", out / "a.txt": b"one", tmp_path / "c.txt": b""})

    assert listing(tmp_path) == {"out/deep/a.txt": b"one", "out/deep/b.txt": b"two\r\n", "c.txt": b""}


def test_a_new_file_has_the_usual_permissions_and_an_old_one_keeps_its_own(tmp_path: Path) -> None:
    old_umask = os.umask(0o022)
    try:
        (tmp_path / "old").write_bytes(b"1")
        (tmp_path / "old").chmod(0o600)
        write_files({tmp_path / "old": b"2", tmp_path / "new": b"2"})
    finally:
        os.umask(old_umask)

    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o644
    assert stat.S_IMODE((tmp_path / "old").stat().st_mode) == 0o600


def test_the_same_bytes_leave_the_file_alone(tmp_path: Path) -> None:
    write_files({tmp_path / "a": b"same"})
    before = (tmp_path / "a").stat()

    write_files({tmp_path / "a": b"same"})

    after = (tmp_path / "a").stat()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


def test_a_symbolic_link_in_the_way_is_refused(tmp_path: Path) -> None:
    (tmp_path / "precious").write_bytes(b"mine")
    (tmp_path / "b").symlink_to(tmp_path / "precious")

    with pytest.raises(OutputError) as caught:
        write_files({tmp_path / "a": b"1", tmp_path / "b": b"2"})

    assert str(caught.value) == (
        f"{tmp_path}/b is a symbolic link; remove it or choose another folder; nothing was written"
    )
    assert caught.value.exit_status == 3
    assert listing(tmp_path) == {"b": b"mine", "precious": b"mine"}


def test_a_folder_in_the_way_is_refused(tmp_path: Path) -> None:
    (tmp_path / "b").mkdir()

    with pytest.raises(OutputError) as caught:
        write_files({tmp_path / "a": b"1", tmp_path / "b": b"2"})

    assert str(caught.value) == (
        f"{tmp_path}/b is not a plain file; move it away or choose another folder; nothing was written"
    )
    assert listing(tmp_path) == {}


def test_a_file_where_a_folder_is_needed(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"")

    with pytest.raises(OutputError) as caught:
        write_files({tmp_path / "out" / "a": b"1"})

    assert (
        str(caught.value)
        == f"{tmp_path}/out is a file, not a folder; choose another name; nothing was written"
    )


def test_a_name_that_is_too_long(tmp_path: Path) -> None:
    name = "x" * 300

    with pytest.raises(OutputError) as caught:
        write_files({tmp_path / "new" / name: b"1"})

    assert (
        str(caught.value)
        == f"{tmp_path}/new/{name} cannot be written: file name too long; nothing was written"
    )
    assert not (tmp_path / "new").exists()


def test_a_null_character_in_the_path(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="cannot be written: embedded null"):
        write_files({tmp_path / "a\0b": b"1"})


def test_a_write_that_ends_half_way_leaves_the_old_files(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"old")

    with small_files_only(), pytest.raises(OutputError) as caught:
        write_files({tmp_path / "a": b"new", tmp_path / "b": bytes(1_000_000), tmp_path / "sub" / "c": b"3"})

    assert str(caught.value) == f"{tmp_path}/b cannot be written: file too large; nothing was written"
    assert listing(tmp_path) == {"a": b"old"}
    assert not (tmp_path / "sub").exists()


def test_a_full_disk_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    full = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    monkeypatch.setattr(os, "fsync", failing_at(2, os.fsync, full))

    with pytest.raises(OutputError) as caught:
        write_files({tmp_path / "a": b"1", tmp_path / "b": b"2"})

    assert (
        str(caught.value) == f"{tmp_path}/b cannot be written: no space left on device; nothing was written"
    )
    assert listing(tmp_path) == {}


def test_no_permission_to_write_in_the_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    denied = PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    monkeypatch.setattr(os, "open", failing_at(1, os.open, denied))

    with pytest.raises(OutputError) as caught:
        write_files({tmp_path / "a": b"1"})

    assert str(caught.value) == f"{tmp_path}/a cannot be written: permission denied; nothing was written"


def test_a_write_protected_file_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a").write_bytes(b"old")
    monkeypatch.setattr(os, "access", lambda *_: False)

    with pytest.raises(OutputError) as caught:
        write_files({tmp_path / "a": b"new"})

    assert str(caught.value) == (
        f"{tmp_path}/a is write-protected; allow writing or choose another folder; nothing was written"
    )
    assert listing(tmp_path) == {"a": b"old"}


@pytest.mark.parametrize("call", [1, 2, 3])
@pytest.mark.parametrize("error", [OSError(errno.EIO, "Input/output error"), KeyboardInterrupt()])
def test_a_move_that_fails_puts_everything_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: int, error: BaseException
) -> None:
    (tmp_path / "a").write_bytes(b"old a")
    (tmp_path / "c").write_bytes(b"old c")
    expected = OutputError if isinstance(error, OSError) else KeyboardInterrupt
    monkeypatch.setattr(Path, "replace", failing_at(call, Path.replace, error))

    with pytest.raises(expected):
        write_files({tmp_path / "a": b"1", tmp_path / "b": b"2", tmp_path / "c": b"3"})

    assert listing(tmp_path) == {"a": b"old a", "c": b"old c"}


def test_file_systems_without_hard_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a").write_bytes(b"old")
    monkeypatch.setattr(os, "link", failing_at(1, os.link, OSError(errno.EPERM, "no links")))
    monkeypatch.setattr(
        Path, "replace", failing_at(2, Path.replace, OSError(errno.EIO, "Input/output error"))
    )

    with pytest.raises(OutputError):
        write_files({tmp_path / "a": b"1", tmp_path / "b": b"2"})

    assert listing(tmp_path) == {"a": b"old"}


def test_reads_what_is_there(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"1")

    assert read_file(tmp_path / "a") == b"1"
    assert read_file(tmp_path / "b") is None
    with pytest.raises(OutputError) as caught:
        read_file(tmp_path)
    assert str(caught.value) == f"{tmp_path} cannot be read: is a directory"


def test_a_folder_that_takes_files_is_left_as_it_was(tmp_path: Path) -> None:
    check_folder(tmp_path / "new" / "deep")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told_before_the_work(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"in the way")
    with pytest.raises(OutputError) as caught:
        check_folder(tmp_path / "file" / "out")
    assert (
        str(caught.value)
        == f"{tmp_path}/file is a file, not a folder; choose another name; nothing was written"
    )
    assert (tmp_path / "file").read_bytes() == b"in the way"
