"""By when each moving day is over for its animals and for each person, against the runs themselves."""

from __future__ import annotations

import numpy as np
import pytest

from moveplan.outputs.agenda import agenda
from moveplan.outputs.papers.answers import answers_of
from moveplan.outputs.papers.run_sheets import run_sheets_of
from moveplan.practice.project import Project
from moveplan.risk.prepared.compile import prepare
from moveplan.risk.register.ranked import register_of
from moveplan.risk.runs.outcome import Outcome
from moveplan.risk.runs.simulate import Chunk, Simulation
from moveplan.scheduling.schedule import Schedule
from moveplan.stages.judged import judge
from moveplan.stages.reading import Settings
from moveplan.times import to_local
from tests.examples import scheduled

RUNS = 400


def chunk_of(project: Project, schedule: Schedule) -> Chunk:
    ready = prepare(project, schedule, register_of(project, schedule))
    spare = len(Outcome(ready).containers.groups)
    (chunk,) = Simulation(ready.net, ready.tables, ready.loading, 1, spare).chunks(RUNS)
    return chunk


@pytest.mark.parametrize("name", ["house_move", "service_firm_office_tank"])
def test_each_is_free_when_the_runs_have_them_free(name: str) -> None:
    project, schedule = scheduled(name)
    outlook = judge(project, schedule, Settings(runs=RUNS))
    chunk, start = chunk_of(project, schedule), project.scheduling.start
    (day,) = {
        to_local(placed.start, project.plan.zone).date()
        for task, placed in zip(project.network.tasks, schedule.placements, strict=True)
        if task.day
    }
    sheets = run_sheets_of(outlook, agenda(outlook))
    assert sheets
    for sheet in sheets:
        assert sheet.end is not None
        tied = [
            at
            for at, (task, placed) in enumerate(zip(project.network.tasks, schedule.placements, strict=True))
            if task.day and sheet.person.id in placed.people and not task.repeats
        ]
        latest = np.sort(chunk.finishes[tied].max(axis=0))
        for told, share in ((sheet.end.likely, 0.5), (sheet.end.promised, project.plan.confidence)):
            assert told >= start + int(latest[int(share * RUNS) - 1])
    every = answers_of(outlook, agenda(outlook)).ends[0]
    animals = outlook.end(day, "")
    assert every is not None
    assert animals is not None
    assert every.likely >= animals.likely
    assert every.promised >= max(sheet.end.promised for sheet in sheets if sheet.end)


def test_who_waits_elsewhere_is_told_apart() -> None:
    """Boarded animals come home weeks later; those that go over on the day are home on that day."""
    project, schedule = scheduled("service_firm_office_tank")
    outlook = judge(project, schedule, Settings(runs=RUNS))
    (end,) = outlook.apart()
    assert end.day == to_local(end.likely, project.plan.zone).date()
    assert end.promised < outlook.likely()["settled"]
    assert judge(*scheduled("house_move"), Settings(runs=RUNS)).apart() == ()


def test_two_moving_days_have_two_ends() -> None:
    outlook = judge(*scheduled("house_move_with_gap"), Settings(runs=RUNS))
    (first,) = outlook.apart()
    assert first.promised < outlook.likely()["settled"]
    ends = answers_of(outlook, agenda(outlook)).ends
    assert [one.day == first.day for one in ends if one] == [True, False]
