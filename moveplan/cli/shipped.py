"""Folders that travel with the program: inside the package where it is installed, beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

import moveplan


def shipped(name: str) -> Path:
    """Find a folder that travels with the program.

    Parameters
    ----------
    name : str
        ``templates`` or ``examples``.
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
        As on the command line: a file, ``house_move``, ``house_move.yaml``, or the place of an example below
        ``examples``.

    >>> plan_path(Path("house_move")).name
    'house_move.yaml'
    >>> plan_path(Path("examples/firm/one_too_many.yaml")).is_file()
    True
    """
    folder, *further = named.parent.parts or ("examples",)
    if named.is_file() or not named.name or named.suffix not in ("", ".yaml"):
        return named
    if folder != "examples" or ".." in further:
        return named
    name = f"{named.stem}.yaml" if further else FIRMS.get(named.stem, f"{named.stem}.yaml")
    example = shipped("examples").joinpath(*further, name)
    return example if example.is_file() else named
