"""Templates, compiled once: what was compiled is kept beside them as Python keeps compiled modules."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import Any

from jinja2 import BytecodeCache, Environment, Template, nodes
from jinja2.bccache import Bucket
from jinja2.compiler import CodeGenerator, Frame

import moveplan
from moveplan.kept import Kept


def template_folder() -> Path:
    """Find the templates: inside the package where it is installed, beside it in a checkout."""
    package = Path(moveplan.__file__).parent
    inside = package / "templates"
    return inside if inside.is_dir() else package.parent / "templates"


class _LateCode(CodeGenerator):
    """Leaves every filter to the moment of filling in, for they print the same number differently from plan to plan."""

    def _output_child_to_const(self, node: nodes.Expr, frame: Frame, finalize: Any) -> str:
        if isinstance(node, nodes.Filter) or node.find(nodes.Filter):
            raise nodes.Impossible
        return super()._output_child_to_const(node, frame, finalize)


class LateFilters(Environment):
    """Compiles templates so that nothing that its filters print is in what was compiled."""

    code_generator_class = _LateCode


class Compiled(BytecodeCache):
    """Gives what was compiled before, by this process or an earlier one, from the same text and by the same settings.

    Parameters
    ----------
    beside : callable
        Gives the path that the file of what is kept is named after.
    settings : object
        What templates are compiled by, beside their text; environments are :class:`LateFilters`.
    """

    def __init__(self, beside: Callable[[], Path], settings: object) -> None:
        self._beside, self._settings = beside, settings

    @cached_property
    def kept(self) -> Kept:
        """What was compiled so far."""
        return Kept(self._beside())

    def get_source_checksum(self, source: str) -> str:
        """Tell texts apart, and settings too."""
        return super().get_source_checksum(f"{self._settings} {source}")

    def load_bytecode(self, bucket: Bucket) -> None:
        """Give what was compiled from the same text before."""
        known = self.kept.get(bucket.key)
        if known is not None:
            bucket.bytecode_from_string(known)

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what was compiled."""
        self.kept.put(bucket.key, bucket.bytecode_to_string())

    def template(self, environment: Environment, text: str) -> Template:
        """Make a template of a text that has no name."""
        bucket = self.get_bucket(environment, text, None, text)
        if bucket.code is None:
            bucket.code = environment.compile(text)
            self.set_bucket(bucket)
        return Template.from_code(environment, bucket.code, environment.make_globals(None))
