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
