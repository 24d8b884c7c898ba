"""How long a firm takes, by the number of its jobs: ``python -m tests.benchmarks.bench_firm [JOBS...]``.

First the choice of days alone, on moving days like those measured on the example firm; then, for the numbers that are
asked for, the whole way but the writing, with copies of the example's jobs. Seconds are those of the processor: other
work on the machine does not count, and what ``--jobs`` would do side by side is added up.
"""

from __future__ import annotations

import random
import re
import sys
import tempfile
import time
from collections.abc import Iterable
from datetime import date, timedelta
from pathlib import Path

from moveplan.firm.days.choose import can_be, chosen
from moveplan.firm.days.question import Hand, Question, Wanted, Wheels
from moveplan.firm.dispatch import outlook_of
from moveplan.firm.placing.hearts import Heart
from moveplan.scheduling.effort import Effort
from moveplan.stages.reading import Settings

EXAMPLES = Path(__file__).parents[2] / "examples" / "firm"
FIRST = date(2027, 5, 3)
HOUR = 60
SIZES = (6, 12, 25, 50, 100)
"""Numbers of jobs for the choice of days. [-]"""


def say(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def question(jobs: int, seed: int = 1) -> Question:
    """Make up a firm that has enough people for its jobs, a third of which are promised.

    Parameters
    ----------
    jobs : int
        How many.
    seed : int
        Of what is made up.
    """
    draw = random.Random(seed)
    people = 5 if jobs < 25 else 8
    span = max(3 * jobs, 18) // (1 if people == 5 else 2)
    hands = tuple(Hand(f"p{n}", leads=n < 3, drives=n % 4 != 3, rest_min=11 * HOUR) for n in range(people))
    days = [FIRST + timedelta(days=n) for n in range(span)]
    promised = draw.sample(days, jobs // 3)
    wanted = []
    for n in range(jobs):
        heart = Heart(
            f"j{n}",
            3,
            1,
            6 * HOUR,
            draw.randint(18, 21) * HOUR,
            (("tubs", draw.randint(3, 5), -12 * HOUR, 58 * HOUR),),
            ((-5, 70.0), (2, 7.0)),
        )
        if n < len(promised):
            wanted.append(Wanted(heart, (promised[n],), promised[n], promised=True))
        else:
            begin = draw.randrange(0, max(span - 18, 1))
            own = tuple(days[begin : begin + 18])
            wanted.append(Wanted(heart, own, draw.choice((None, draw.choice(own)))))
    return Question(tuple(wanted), hands, (Wheels("v0"), Wheels("v1")), {"tubs": 16}, (190.0, 400.0))


def days_curve(sizes: Iterable[int] = SIZES) -> None:
    """Print status, cost, bound and seconds of the choice of days for each number of jobs.

    The last column is what it takes to tell whether all promised days can be kept, as is asked for each other day of a
    job that does not fit, and for each promised job where some contradict each other.
    """
    say("jobs  engine  status    cost   bound  seconds  promises")
    for jobs in sizes:
        for engine in ("exact", "serial"):
            asked, begun = question(jobs), time.process_time()
            answer = chosen(asked, engine=engine)
            took = time.process_time() - begun
            begun = time.process_time()
            can_be(asked, engine=engine)
            promises = time.process_time() - begun
            bound = "-" if answer.bound is None else f"{answer.bound / 100:.0f}"
            say(
                f"{jobs:4}  {engine:6}  {answer.status.value:8}  {answer.cost / 100:5.0f}  {bound:>6}  {took:7.2f}"
                f"  {promises:8.2f}"
            )


def firm_of(folder: Path, jobs: int) -> Path:
    """Write a firm file with copies of the example's jobs, each of its own, in a season that grows with them.

    Parameters
    ----------
    folder : Path
        Where.
    jobs : int
        How many.
    """
    plans = sorted(path for path in (EXAMPLES / "jobs").glob("*.yaml") if path.stem != "late_call")
    (folder / "jobs").mkdir(parents=True)
    rows = []
    for n in range(jobs):
        text = plans[n % len(plans)].read_text("utf-8")
        text = re.sub(r"^id: .*$", f"id: bench-{n}", text, flags=re.MULTILINE)
        begin = FIRST + timedelta(days=14 * (n // 6))
        text = re.sub(r"move-window: .*", f"move-window: {begin} to {begin + timedelta(days=24)}", text)
        (folder / "jobs" / f"job{n}.yaml").write_text(text, "utf-8")
        rows.append(f"  - {{plan: jobs/job{n}.yaml}}\n")
    head = (EXAMPLES / "firm.yaml").read_text("utf-8").partition("jobs:\n")[0]
    path = folder / "firm.yaml"
    path.write_text(head + "jobs:\n" + "".join(rows), "utf-8")
    return path


def whole(jobs: int) -> None:
    """Print the seconds of the whole way but the writing."""
    with tempfile.TemporaryDirectory() as folder:
        path = firm_of(Path(folder) / "firm", jobs)
        begun = time.process_time()
        outlook = outlook_of(path, Settings(effort=Effort(seconds=2.0), runs=1000))
        took = time.process_time() - begun
    tasks = sum(len(one.outlook.schedule.placements) for one in outlook.placed)
    found = f"{len(outlook.placed)} of {jobs} placed, {tasks} tasks, days {outlook.answer.status.value}"
    say(f"{jobs:4} jobs: {took:6.1f} s of processor, {took / jobs:.1f} s a job; {found}")


if __name__ == "__main__":
    days_curve()
    for size in map(int, sys.argv[1:]):
        whole(size)
