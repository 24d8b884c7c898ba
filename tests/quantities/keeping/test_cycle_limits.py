"""A filter with far more animals than any carries: an answer from the end of the model, never a refusal."""

from __future__ import annotations

from moveplan.quantities.keeping.cycle import dip_after, step_time
from moveplan.quantities.keeping.gates import NitrogenGates

GATES = NitrogenGates(0.25, 1.0)


def test_loads_beyond_the_model_are_taken_as_its_end() -> None:
    assert dip_after(309.7, 25.5, 6.0, GATES) == dip_after(10.0, 25.5, 6.0, GATES)
    assert dip_after(9.0, 25.5, 6.0, GATES) != dip_after(10.0, 25.5, 6.0, GATES)
    assert step_time(1.5, 309.7, 25.5).high >= step_time(1.5, 1.0, 25.5).low
