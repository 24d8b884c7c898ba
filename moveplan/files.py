"""Writes several files so that all of them appear, or none: beside their place first, then moved into it."""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from moveplan.errors import OutputError


def write_files(outputs: Mapping[Path, bytes]) -> None:
    """Write all files or none.

    Missing folders are made. A file that holds the same bytes already is left alone. After an error or an
    interruption every file is as it was before, and nothing else is left.

    Parameters
    ----------
    outputs : Mapping of Path to bytes
        Content by place.

    Raises
    ------
    OutputError
        Where one of them cannot be written; the message names it and the reason.
    """
    work = _Work()
    try:
        for path in sorted(outputs):
            with _told_about(path):
                work.write_beside(path, outputs[path])
        for path in work.beside:
            with _told_about(path):
                work.move_into_place(path)
    except BaseException:
        work.undo()
        raise
    work.tidy()


def check_folder(folder: Path) -> None:
    """Find out whether files can be written to a folder, before the work whose result goes there.

    Parameters
    ----------
    folder : Path
        It need not exist; nothing of the attempt is left.

    Raises
    ------
    OutputError
        Where nothing can be written there; the message says why.
    """
    work = _Work()
    try:
        with _told_about(folder):
            work.write_beside(folder / "attempt", b"")
    finally:
        work.undo()


def read_file(path: Path) -> bytes | None:
    """Read a file that may be there from an earlier run.

    Parameters
    ----------
    path : Path
        Where it would be.

    Returns
    -------
    bytes or None
        None where there is no such file.

    Raises
    ------
    OutputError
        Where something is there that cannot be read.
    """
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None
    except (OSError, ValueError) as error:
        msg = f"{path} cannot be read: {_reason(error)}"
        raise OutputError(msg) from error


@dataclass(slots=True)
class _Work:
    """What has been done so far, so that it can be undone."""

    folders: list[Path] = field(default_factory=list)
    beside: dict[Path, Path] = field(default_factory=dict)
    kept: dict[Path, Path] = field(default_factory=dict)
    placed: list[Path] = field(default_factory=list)

    def write_beside(self, path: Path, content: bytes) -> None:
        self._make_folder(path.parent)
        if _in_the_way(path) and path.read_bytes() == content:
            return
        self.beside[path] = _free_name(path, "new")
        handle = os.open(self.beside[path], os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())

    def move_into_place(self, path: Path) -> None:
        if path.exists():
            shutil.copymode(path, self.beside[path])
            self.kept[path] = _free_name(path, "old")
            _keep(path, self.kept[path])
        self.placed.append(path)
        self.beside[path].replace(path)

    def undo(self) -> None:
        for path in reversed(self.placed):
            with contextlib.suppress(OSError):
                if path in self.kept:
                    self.kept[path].replace(path)
                elif not self.beside[path].exists():
                    path.unlink()
        for path in self.beside.values():
            with contextlib.suppress(OSError):
                path.unlink()
        self.tidy()
        for folder in reversed(self.folders):
            with contextlib.suppress(OSError):
                folder.rmdir()

    def tidy(self) -> None:
        for path in self.kept.values():
            with contextlib.suppress(OSError):
                path.unlink()

    def _make_folder(self, folder: Path) -> None:
        if folder.is_dir():
            return
        if folder.exists():
            msg = f"{folder} is a file, not a folder; choose another name; nothing was written"
            raise OutputError(msg)
        self._make_folder(folder.parent)
        folder.mkdir()
        self.folders.append(folder)


def _in_the_way(path: Path) -> bool:
    """Tell whether a plain file stands there that may be replaced; refuse anything else."""
    if path.is_symlink():
        msg = f"{path} is a symbolic link; remove it or choose another folder; nothing was written"
        raise OutputError(msg)
    if not path.exists():
        return False
    if not path.is_file():
        msg = f"{path} is not a plain file; move it away or choose another folder; nothing was written"
        raise OutputError(msg)
    if not os.access(path, os.W_OK):
        msg = f"{path} is write-protected; allow writing or choose another folder; nothing was written"
        raise OutputError(msg)
    return True


def _keep(path: Path, name: Path) -> None:
    """Keep the old content under another name, without a moment in which the file is missing."""
    try:
        os.link(path, name)
    except OSError:  # file systems without hard links
        shutil.copy2(path, name)


def _free_name(path: Path, purpose: str) -> Path:
    # The place's own name stays out of it: a name just short enough would become too long.
    return path.with_name(f".moveplan-{secrets.token_hex(8)}.{purpose}")


@contextlib.contextmanager
def _told_about(path: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, ValueError) as error:  # ValueError: a null character in the path
        msg = f"{path} cannot be written: {_reason(error)}; nothing was written"
        raise OutputError(msg) from error


def _reason(error: Exception) -> str:
    return (getattr(error, "strerror", None) or str(error)).lower()
