"""Every example, built with the usual effort: everybody has as many events as promised."""

from __future__ import annotations

from pathlib import Path

import pytest

from moveplan import pipeline
from moveplan.outputs.calendar.options import CalendarOptions
from tests import examples
from tests.outputs.calendar import few


@pytest.mark.parametrize("name", examples.NAMES)
def test_everybody_has_as_many_events_as_promised(name: str, tmp_path: Path) -> None:
    """About 25 of whoever leads and who lives where animals stand, 1 to 4 of a helper."""
    settings = pipeline.Settings(calendar=CalendarOptions(every_task=False))
    pipeline.build(examples.EXAMPLES / f"{name}.yaml", tmp_path, settings)
    plan = examples.plan(name)
    if not (tmp_path / "calendar.ics").exists():  # nothing to follow
        return
    assert plan.leads is not None
    at_home = few.household(plan.leads.id, (one.id for one in plan.people if one.place))
    counts = few.counted(tmp_path, plan.leads.id)
    days = few.moving_days(tmp_path)
    assert list(few.too_many(counts, at_home, days, few.NOT_YET.get(name))) == []
