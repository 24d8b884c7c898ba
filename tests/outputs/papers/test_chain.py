from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from moveplan.outputs.agenda import agenda
from moveplan.outputs.papers.chain import Waiting, waiting
from tests.outputs.scene import impossible, moving_day


def _waiting() -> Waiting:
    found = waiting(moving_day(), agenda(moving_day()))
    assert found is not None
    return found


def test_every_link_of_the_network_stands_at_the_task_that_waits() -> None:
    numbers = {line.task.id: line.number for line in agenda(moving_day()).lines}
    told = {(number, row.line.number) for row in _waiting().rows for number, _ in row.waits_for}
    links = moving_day().project.network.links
    assert told == {(numbers[link.before], numbers[link.after]) for link in links}


def test_a_chain_runs_in_order_of_time_to_its_milestone_and_stays_on_its_day() -> None:
    outlook = moving_day()
    chains = _waiting().chains
    assert [chain.milestone for chain in chains] == [name for name, _ in outlook.project.network.milestones]
    for chain, (_, last) in zip(chains, outlook.project.network.milestones, strict=True):
        steps = [step for _, own in chain.stretches for step in own]
        assert steps[-1].line.task.id == last
        assert steps[0].before is None
        assert len({step.line.day for step in steps}) == 1
        for one, other in pairwise(steps):
            assert other.before == one.line
            assert one.line.number < other.line.number


def test_a_chain_goes_by_time_and_not_by_numbers_that_were_told_before() -> None:
    outlook = moving_day()
    network = outlook.project.network
    tied = replace(network, links=tuple(replace(link, min_gap_min=0) for link in network.links))
    outlook = replace(outlook, project=replace(outlook.project, network=tied))
    lines = agenda(outlook).lines
    numbers = {line.task.id: len(lines) - at for at, line in enumerate(lines)}
    chains = []
    for one in (outlook, replace(outlook, numbers=numbers)):
        found = waiting(one, agenda(one))
        assert found is not None
        chains.append([step.line.task.id for _, own in found.chains[-1].stretches for step in own])
    assert chains[0] == chains[1]
    assert len(chains[0]) > 9


def test_stretches_change_where_the_place_changes() -> None:
    for chain in _waiting().chains:
        places = [place for place, _ in chain.stretches]
        assert all(one != other for one, other in pairwise(places))
        assert all(step.line.task.place == place for place, steps in chain.stretches for step in steps)


def test_without_a_schedule_nothing_waits() -> None:
    assert waiting(impossible(), agenda(impossible())) is None
