"""What is worked out from the program's own files, kept beside them as Python keeps compiled modules."""

from __future__ import annotations

import atexit
import marshal
import sys
from contextlib import suppress
from functools import cache, cached_property
from importlib.util import cache_from_source
from pathlib import Path
from typing import Any

from moveplan.errors import OutputError


class Kept:
    """Values by name, in one file that is read when the first is asked for, and written at the end if any is new.

    Whoever puts a value in puts in what it was worked out from too, and takes it for nothing where that has changed.

    Parameters
    ----------
    beside : Path
        What the file is named after, as a compiled module after its source; it need not exist.
    """

    def __init__(self, beside: Path) -> None:
        self._file = Path(cache_from_source(str(beside)))

    @cached_property
    def _values(self) -> dict[str, bytes]:
        with suppress(OSError, EOFError, ValueError, TypeError):
            return dict(marshal.loads(self._file.read_bytes()))  # noqa: S302 - as safe as the modules beside it
        return {}

    def get(self, name: str) -> bytes | None:
        """Give what was kept under a name, by this process or an earlier one."""
        return self._values.get(name)

    def put(self, name: str, value: bytes) -> None:
        """Keep a value."""
        self._values[name] = value
        atexit.unregister(self.save)
        atexit.register(self.save)

    def save(self) -> None:
        """Write the file; where it may not be written, all is worked out anew the next time."""
        from moveplan.files import write_files

        if not sys.dont_write_bytecode:
            with suppress(OutputError):
                write_files({self._file: marshal.dumps(self._values)})


@cache
def _tables(folder: Path) -> Kept:
    return Kept(folder / "tables.toml")


def table_of(file: Path) -> dict[str, Any]:
    """Read a table of the program's own, as TOML; parsing takes fifty times longer than reading what was parsed.

    Parameters
    ----------
    file : Path
        It holds no dates or times.
    """
    text, kept = file.read_text("utf-8"), _tables(file.parent)
    known = kept.get(file.name)
    if known is not None:
        parsed, found = marshal.loads(known)  # noqa: S302 - as safe as the modules beside it
        if parsed == text:
            return dict(found)
    import tomllib

    table = tomllib.loads(text)
    kept.put(file.name, marshal.dumps((text, table)))
    return table
