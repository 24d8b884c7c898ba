"""Stops of several jobs within each other: whoever goes to another client in between has two visits, not one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from moveplan.firm.placing.traces import Stop, Trace, together


def untangled(traces: Iterable[Trace]) -> list[Trace]:
    """Part every stop where somebody is at another job in between."""
    rows = list(traces)
    return [
        replace(
            trace,
            people={
                who: tuple(part for stop in stops for part in _parts(stop, _others(rows, trace, who)))
                for who, stops in trace.people.items()
            },
        )
        for trace in rows
    ]


def _others(rows: Iterable[Trace], own: Trace, who: str) -> list[Stop]:
    return [
        part
        for trace in rows
        if trace is not own
        for stop in trace.people.get(who, ())
        for part in (stop.parts or (stop,))
    ]


def _parts(stop: Stop, others: Sequence[Stop]) -> Iterator[Stop]:
    within = [one for one in others if stop.start < one.finish and one.start < stop.finish]
    if stop.moving or not within or not stop.parts:
        yield stop
        return
    whole = stop.parts[0]
    for part in stop.parts[1:]:
        if any(whole.start <= one.start < part.start for one in within):
            yield whole
            whole = part
        else:
            whole = together(whole, part)
    yield whole
