"""Runs the command line in this process, as the tests of it do."""

from tests.cli.conftest import run

__all__ = ["run"]
