"""Folders that travel with the program: inside the package where it is installed, beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

import moveplan


def shipped(name: str) -> Path:
    """Find a folder that travels with the program.

    Parameters
    ----------
    name : str
        ``templates`` or ``examples``. [-]
    """
    package = Path(moveplan.__file__).parent
    inside = package / name
    return inside if inside.is_dir() else package.parent / name


def example_names() -> list[str]:
    """Names of the example plans."""
    return sorted(path.stem for path in shipped("examples").glob("*.yaml"))


FIRMS = {"firm": "firm/firm.yaml", "one_too_many": "firm/one_too_many.yaml"}
"""Example firms, each with the place of its file below the examples. [-]"""


def plan_path(named: Path) -> Path:
    """Take a plan file as it is named; where there is none, an example may be meant by its name.

    Parameters
    ----------
    named : Path
        As on the command line: a file, ``house_move``, ``house_move.yaml`` or ``examples/house_move.yaml``. [-]

    >>> plan_path(Path("house_move")).name
    'house_move.yaml'
    """
    if named.is_file() or named.parent not in (Path(), Path("examples")) or named.suffix not in ("", ".yaml"):
        return named
    if named.stem in FIRMS:
        return shipped("examples") / FIRMS[named.stem]
    return shipped("examples") / f"{named.stem}.yaml" if named.stem in example_names() else named
