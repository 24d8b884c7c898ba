"""A constraint model being written, each variable with the value it has in the schedule known so far."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from moveplan.scheduling.constraints.library import cp_model

Range = tuple[int, int]


class Draft:
    """Variables, their hints, and whether the model asks for more than the problem does.

    ``restricted`` is set where a rule of the model is stricter than the problem: then it finds schedules but
    proves nothing. ``same_crew`` is set where recurring care is to be done by the same people each time: what is
    proven holds given that.
    """

    def __init__(self) -> None:
        self.cp = cp_model.CpModel()
        self.known: list[tuple[Any, int]] = []
        self.hinted = True
        self.restricted = False
        self.same_crew = False

    def number(self, ranges: Sequence[Range], name: str, value: int | None) -> Any:
        """Make an integer variable within some ranges."""
        variable = self.cp.new_int_var_from_domain(cp_model.Domain.from_intervals(ranges), name)
        return self._known(variable, value)

    def literal(self, name: str, value: bool | None) -> Any:
        """Make a yes-or-no variable."""
        return self._known(self.cp.new_bool_var(name), None if value is None else int(value))

    def _known(self, variable: Any, value: int | None) -> Any:
        if value is None:
            self.hinted = False
        else:
            self.known.append((variable, value))
        return variable

    def within(self, expression: Any, ranges: Sequence[Range], literals: Sequence[Any]) -> None:
        """Keep an expression within some ranges wherever all literals hold; without ranges they cannot."""
        if not ranges:
            self.cp.add_bool_or([literal.negated() for literal in literals])
            return
        domain = cp_model.Domain.from_intervals(ranges)
        self.cp.add_linear_expression_in_domain(expression, domain).only_enforce_if(*literals)

    def at_most(self, expression: Any, most: int) -> None:
        """Keep an aim from growing; one that is a plain number is kept anyway."""
        if not isinstance(expression, int):
            self.cp.add(expression <= most)

    def hint(self) -> None:
        """Tell the solver all known values."""
        self.cp.clear_hints()  # type: ignore[no-untyped-call]
        for variable, value in self.known:
            self.cp.add_hint(variable, value)

    def learn(self, solver: cp_model.CpSolver) -> None:
        """Take the values of a solution as the known ones."""
        self.known = [(variable, solver.value(variable)) for variable, _ in self.known]
