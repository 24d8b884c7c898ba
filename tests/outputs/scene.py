"""An invented move with its schedule, small enough to check by hand; all in it is made up."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

from moveplan.cost.summary import CostLine, CostSummary
from moveplan.errors import Problem
from moveplan.estimate import Estimate, Provenance
from moveplan.network.graph import Network
from moveplan.network.link import Hold, Link, Relation
from moveplan.network.task import Crew, Kind, Repeat, State, Task
from moveplan.outputs.outlook import Outlook, Verdict
from moveplan.plan.move import Assumption
from moveplan.practice.project import (
    Caution,
    Load,
    LoadItem,
    Moment,
    Project,
    Route,
    Stop,
    Water,
)
from moveplan.quantities.safe_time.safe_time import SafeTime
from moveplan.risk.summary import Percentiles, RegisterEntry, RiskSummary, StartBy
from moveplan.scheduling.dates.critical import Driver, Times
from moveplan.scheduling.problem import Gear, Person, SchedulingProblem
from moveplan.scheduling.problem import Vehicle as Wheels
from moveplan.scheduling.schedule import Aim, Engine, Placement, Schedule, Status
from moveplan.times import Interval
from tests.outputs.scene_plan import at, plan


def minutes(low: float, likely: float, high: float, basis: str = "scene") -> Estimate:
    return Estimate(low, likely, high, "min", basis)


@dataclass(frozen=True, slots=True)
class Row:
    """One line of scene.txt."""

    id: str
    title: str
    phase: str
    place: str
    kind: str
    start: int
    minutes: int
    people: tuple[str, ...]
    cautions: tuple[str, ...]
    steps: tuple[str, ...]


def _row(line: str) -> Row:
    key, title, phase, place, kind, start, length, people, cautions, steps = (
        "" if cell == "-" else cell for cell in line.split(" | ")
    )
    several = (tuple(filter(None, people.split(","))), tuple(filter(None, cautions.split(","))))
    begin = at(f"2027-{start}")
    return Row(
        key, title, phase, place, kind, begin, int(length), *several, tuple(filter(None, steps.split(" / ")))
    )


ROWS = tuple(
    _row(line) for line in Path(__file__).with_name("scene.txt").read_text(encoding="utf-8").splitlines()[1:]
)
VAN_TASKS = ("load-van", "drive-over", "return-van")


def _task(row: Row) -> Task:
    return Task(
        id=row.id,
        title=row.title,
        estimate=minutes(row.minutes * 0.75, row.minutes, row.minutes * 1.75, f"{row.minutes} min, invented"),
        kind=Kind(row.kind),
        phase=row.phase,
        place=row.place,
        place_after="quarry" if row.kind == "travel" else "",
        crew=Crew(len(row.people)) if row.people else None,
        vehicles=("van",) if row.id in VAN_TASKS else (),
        gear=(("tubs", 8),) if row.id == "fill-tubs" else (),
        day="moving-day" if row.phase == "moving-day" else "",
        repeats=Repeat(1440, 14, 720) if row.id == "test-water" else None,
        steps=row.steps,
        cautions=row.cautions,
        where="scene.yaml:40" if row.id == "book-van" else "",
    )


def _placement(row: Row) -> Placement:
    starts = [row.start + 1440 * number for number in range(14 if row.id == "test-water" else 1)]
    segments = tuple(Interval(start, start + row.minutes) for start in starts)
    vehicles = ("van",) if row.id in VAN_TASKS else ()
    return Placement(row.id, row.start, segments[-1].finish, segments, row.people, vehicles)


ROOM_MIN = 190.0
"""As long as any container of the scene stands in the room before it is carried out. [min]"""


def _safe(low: float, likely: float, high: float, limit: str, unpacking: str = "") -> SafeTime:
    extends = ("With pure oxygen over the water: about 4 h longer.",) if limit == "oxygen" else ()
    model = minutes(low, likely, high, "model of a closed bag")
    return SafeTime(model, limit, extends, unpacking, low - 100, ROOM_MIN)


NUMBERS = {
    "clowns": ("B1", "B2"),
    "tang": ("B3",),
    "hammers": ("T1", "T2", "T3", "T4", "T5"),
    "shrimp": ("B4", "B5"),
}
"""Of the containers of each group."""


def _route(
    group: str, name: str, count: int, container: str, safe: SafeTime, packed: str, freed: str
) -> Route:
    numbers = NUMBERS[group]
    start, off = Moment(packed, "start"), Moment("drive-over", "start")
    there, home = Moment("drive-over", "finish"), Moment(freed, "finish")
    return Route(
        group,
        name,
        count,
        (
            Stop("Mill Terrace", "Display reef", None, start),
            Stop("Mill Terrace", container, start, off, safe, numbers),
            Stop("Hired long van", container, off, there, safe, numbers),
            Stop("Quarry Rise", container, there, home, safe, numbers),
            Stop("Quarry Rise", "Display reef", home, None),
        ),
        allowance_min=55,
    )


ROUTES = (
    _route(
        "clowns",
        "Clownfish",
        2,
        "2 × 12 l bag",
        _safe(520, 700, 980, "oxygen", "Open the bag, no air stone in it."),
        "catch-fish",
        "release-fish",
    ),
    _route(
        "tang",
        "Yellow-finned tang",
        1,
        "1 × 25 l bag",
        _safe(470, 640, 900, "ammonia"),
        "catch-fish",
        "release-fish",
    ),
    _route(
        "hammers",
        "Hammer corals",
        5,
        "5 × 10 l tub",
        _safe(480, 600, 900, "temperature"),
        "pack-corals",
        "release-corals",
    ),
    _route(
        "shrimp",
        "Cleaner shrimp",
        2,
        "2 × 3 l bag",
        _safe(480, 720, 1440, "policy"),
        "pack-shrimp",
        "release-fish",
    ),
)


def _network() -> Network:
    tasks = tuple(_task(row) for row in ROWS)
    chain = [task.id for task in tasks if task.phase == "moving-day"]
    links = [
        Link("mix-water", "ripen-mix", why="The mix must dissolve first."),
        Link("ripen-mix", "fill-tubs", why="Fresh mix is caustic to gills."),
        Link("decide-eve", "fill-tubs", why="Nothing is unplugged before the decision."),
        Link(
            "catch-fish",
            "release-fish",
            Relation.STARTTOFINISH,
            None,
            415,
            "Safe time of the tang in its bag, less the allowance.",
        ),
        *(Link(one, other, min_gap_min=None, why="Trade order.") for one, other in pairwise(chain)),
    ]
    holds = (Hold("tubs", 8, "fill-tubs", "release-corals"),)
    return Network(tasks, tuple(links), holds, (("ready", "decide-eve"), ("settled", "release-fish")))


CAUTIONS = (
    Caution(
        "lifting",
        "Nobody lifts more than 25 kg alone, and nobody lifts a tank with water in it.",
        "HSE, Manual handling at work, INDG143",
    ),
    Caution(
        "electricity",
        "Unplug before hands go into the water; keep a drip loop and a residual-current device.",
        "Common practice, no source; the local wiring code decides.",
    ),
    Caution("glass", "Carry glass upright, with gloves, and never by the rim.", "Common practice, no source"),
    Caution(
        "floors", "A full tank is a heavy point load; ask somebody qualified.", "Local building code decides"
    ),
    Caution(
        "toxins",
        "Zoanthids may carry palytoxin: gloves, glasses, no scrubbing, no hot water.",
        "Hoffmann et al. (2008), Toxicon",
    ),
    Caution("stings", "Corals sting each other and you: wear gloves.", "Common practice, no source"),
    Caution("vehicle", "The vehicle's plate decides the load; strap everything.", "Vehicle's plate"),
)


def _project() -> Project:
    network = _network()
    start, horizon = at("2027-03-01 09:00"), at("2027-06-19 00:00")
    hours = (Interval(at("2027-03-01 09:00"), at("2027-06-18 22:00")),)
    return Project(
        plan=plan(),
        way="same-day",
        network=network,
        scheduling=SchedulingProblem(
            network=network,
            start=start,
            horizon=horizon,
            people=tuple(
                Person(key, name, hours)
                for key, name in (("una", "Una Harte"), ("per", "Per Olin"), ("cai", "Cai Moss"))
            ),
            vehicles=(
                Wheels(
                    "van",
                    "Hired long van",
                    (Interval(at("2027-05-22 07:00"), at("2027-05-23 11:00")),),
                    "mill",
                ),
            ),
            gear=(Gear("tubs", "Lidded 60 l tubs", 14),),
            drives=(("mill", "quarry", 50),),
        ),
        routes=ROUTES,
        loads=(
            Load(
                "van",
                1,
                (
                    LoadItem("Empty tank", 92.4, 1.2, 0.6, 0.55, True),
                    LoadItem("Stand", 55.0, 1.2, 0.6, 0.8),
                    LoadItem("Rock in 3 tubs", 61.2, 1.2, 0.8, 0.4),
                    LoadItem("Kept water in 5 tubs", 262.5, 1.6, 0.8, 0.4),
                    LoadItem("Animals in 2 insulated boxes", 41.1, 0.9, 0.6, 0.5, True, True),
                ),
            ),
        ),
        water=Water(
            kept=Estimate(190, 210, 230, "l", "60 % of the old water in 5 tubs"),
            new=Estimate(240, 260, 280, "l", "what is missing after the kept water"),
            spare=Estimate(40, 50, 60, "l", "one water change of a tenth", Provenance.ASSUMED),
            more=Estimate(0, 0, 0, "l", "nothing else takes salt water"),
            purified=Estimate(290, 310, 340, "l", "new and spare water"),
            salt=Estimate(11.2, 11.9, 12.8, "kg", "38 g for each litre of new and spare water"),
        ),
        quantities=(("Water in the whole system", Estimate(380, 394, 410, "l", "tank and sump less rock")),),
        gear_needed=(("tub", 16, 14), ("air-pump", 2, 4)),
        cautions=CAUTIONS,
        assumptions=(
            Assumption("systems.display.stand", "55 kg", "a stand of this size in chipboard"),
            Assumption("livestock.tang.temperament", "territorial", "usual for the kind"),
        ),
        findings=(
            Problem("the van is free for 26 h only", "scene.yaml:33 vehicles.van.hire", "hire it longer"),
        ),
    )


CRITICAL = {"fill-tubs", "switch-off", "pack-corals", "drive-over", "refill-display", "release-fish"}


def _room(row: Row) -> Times:
    room = 0 if row.id in CRITICAL else 120
    finish = row.start + row.minutes
    return Times(
        row.start,
        finish,
        row.start + room,
        finish + room,
        room,
        0,
        not room,
        Driver("person", resource="una"),
        0,
    )


def _line(item: str, group: str, quantity: str, unit: str, price: str, word: Provenance) -> CostLine:
    amount = (Decimal(quantity) * Decimal(price)).quantize(Decimal("0.01"))
    return CostLine(
        item,
        item.replace("-", " ").capitalize(),
        group,
        Decimal(quantity),
        unit,
        Decimal(price),
        amount,
        word,
        "invented price",
    )


def _cost() -> CostSummary:
    lines = (
        _line("salt", "water", "11.9", "kg", "3.20", Provenance.GIVEN),
        _line("van-hire", "vehicles", "2", "day", "95", Provenance.GIVEN),
        _line("oxygen", "livestock", "1", "cylinder", "38.50", Provenance.ASSUMED),
        _line("old-sand-sold", "income", "-10", "kg", "1.50", Provenance.ASSUMED),
    )
    return CostSummary("EUR", lines, sum((line.amount for line in lines), Decimal(0)), None, Decimal("61.00"))


REGISTER = (
    RegisterEntry(
        "van-breaks-down",
        "The van stops on the way with animals aboard",
        "The van does not start, or a warning light",
        0.03,
        Decimal(900),
        180,
        "Keep heating on, aerate tubs, ring the second driver.",
        "per",
        Provenance.ASSUMED,
        ("drive-over",),
    ),
    RegisterEntry(
        "tank-leaks",
        "The tank leaks after the move",
        "A wet paper under a joint",
        0.04,
        Decimal(850),
        1440,
        "Stop filling, keep the animals in tubs with heat and air.",
        "una",
        Provenance.ASSUMED,
        ("check-leaks",),
    ),
)


def risk(runs: int = 0) -> RiskSummary:
    """The register, and with runs the dates as well."""
    if not runs:
        return RiskSummary(0, 1, REGISTER)

    def quantiles(text: str) -> Percentiles:
        return Percentiles(at(text) - 60, at(text), at(text) + 90, at(text) + 240)

    return RiskSummary(
        runs,
        1,
        REGISTER,
        ready=quantiles("2027-05-21 18:30"),
        settled=quantiles("2027-05-22 16:45"),
        finish=quantiles("2027-06-05 19:00"),
        criticality=(("drive-over", 0.93), ("refill-display", 0.71)),
        over_limit=(("clowns", 0.0), ("tang", 0.031), ("hammers", 0.012), ("shrimp", 0.002)),
        start_by=(StartBy("make-water", at("2027-05-10 18:00"), 0.9),),
        hold_by=(StartBy("decide-eve", at("2027-05-21 20:40"), 0.9),),
    )


def moving_day() -> Outlook:
    """A plan that can be carried out."""
    placements = tuple(_placement(row) for row in ROWS)
    project = _project()
    last = max(placement.finish for placement in placements)
    makespan = last - project.scheduling.start
    return Outlook(
        project=project,
        now=project.plan.now,
        verdict=Verdict.OK,
        problems=(),
        schedule=Schedule(
            Status.FEASIBLE,
            Engine.SERIAL,
            placements,
            makespan,
            makespan - 300,
            (Aim("finish", makespan, makespan - 300, False),),
        ),
        times={row.id: _room(row) for row in ROWS},
        cost=_cost(),
        risk=risk(),
        states={"check-floor": State.COMPLETED},
        ways=("hold-over",),
    )


REASONS = (
    Problem(
        "The van is free from 08:00 until 11:00, and the work that needs it takes 5 h 40 min at least",
        "scene.yaml:33 vehicles.van.hire",
        "hire the van until 18:00; tried, it works",
    ),
    Problem("Loading takes two people who can lift, and only Per Olin can", "scene.yaml:25 people", ""),
)


def impossible() -> Outlook:
    """The same plan with demands that contradict each other."""
    outlook = moving_day()
    return replace(
        outlook,
        verdict=Verdict.CANNOT_BE_DONE,
        problems=REASONS,
        schedule=Schedule(Status.INFEASIBLE, Engine.EXACT, reasons=REASONS),
        times={},
        states={},
        cost=None,
        risk=None,
    )


def bare() -> Outlook:
    """Own tasks: no phases, places, animals, water, cost or risk."""
    outlook = moving_day()
    tasks = tuple(
        replace(task, phase="", place="", place_after="", vehicles=(), gear=(), cautions=(), day="")
        for task in outlook.project.network.tasks
    )
    network = Network(tasks, outlook.project.network.links)
    plan = replace(
        outlook.project.plan,
        purpose="own-tasks",
        dates=None,
        places=(),
        systems=(),
        livestock=(),
        contacts=(),
    )
    scheduling = replace(outlook.project.scheduling, network=network, vehicles=(), gear=(), drives=())
    return replace(
        outlook,
        project=Project(plan, "", network, scheduling),
        cost=None,
        risk=None,
        ways=(),
        states={},
    )
