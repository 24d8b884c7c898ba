"""Values as documents show them: dates in the plan's zone and locale, quantities in the keeper's units."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from babel import Locale, UnknownLocaleError

from moveplan.outputs.printed.brief import LONG, brief
from moveplan.outputs.printed.dates import Dates
from moveplan.outputs.printed.money import Money
from moveplan.outputs.printed.quantities import Quantities
from moveplan.outputs.wording.names import Names
from moveplan.practice.project import Project

_QUOTED = re.compile(r"(\"[^\"]*\")")
"""What is to be written into a plan file stands between such quotes, in the words of the file."""

_MONEY = re.compile(r"\b\d+\.\d\d(?= a day, | in all\b)")
"""An amount in the plan's currency, which the ways out know no name of."""


@dataclass(frozen=True, slots=True)
class Facts(Dates, Quantities, Money):
    """Prints the values of one project."""

    def spoken(self, text: str) -> str:
        """Tell a sentence of the program's own in the keeper's units and currency, and dates as people say them.

        What stands between straight quotes is to be written into the plan file and stays as it is.
        """
        return "".join(
            part if part.startswith('"') else self.with_dates(self.in_units(self._with_money(part)))
            for part in _QUOTED.split(text)
        )

    def _with_money(self, text: str) -> str:
        return _MONEY.sub(lambda found: self.price(Decimal(found[0])).removesuffix(".00"), text)

    def in_brief(self, text: str) -> str:
        """Shorten the long names of the plan in a line of the program's own; the list has them whole."""
        plan = self.project.plan
        named = (plan.people, plan.vehicles, plan.systems, plan.places, plan.livestock, plan.gear)
        for name in sorted({one.name for group in named for one in group if len(one.name) > LONG}, key=len)[
            ::-1
        ]:
            text = text.replace(name, brief(name))
        return text

    def filters(self) -> dict[str, Callable[..., Any]]:
        """Give the printing functions by the names that templates use."""
        names = (
            "day calendar_day short_day month_day clock full_hour moment stamp span amount spread duration nearly "
            "within roughly mass both_masses dimension temperature other_temperature volume both_volumes numbers money "
            "price number share odds kept about gain by until by_on in_units as_written spoken in_brief billed"
        )
        own = {name: getattr(self, name) for name in names.split()}
        return own | Names(self.project).filters() | {"brief": brief}


def facts_of(project: Project) -> Facts:
    """Set up the printing of one project; an unknown locale is printed in British English.

    Parameters
    ----------
    project : Project
        What is to be printed.
    """
    name = project.plan.locale.replace("-", "_")
    try:
        return Facts(project, Locale.parse(name))
    except (UnknownLocaleError, ValueError):
        return Facts(project, Locale("en", "GB"))
