"""An interrupt reaches the program while the solver works, and the best found until then is kept."""

from __future__ import annotations

import os
import signal
import threading
import time

from moveplan.scheduling.effort import Effort
from moveplan.scheduling.schedule import Engine
from moveplan.scheduling.solve import solve
from moveplan.scheduling.verify import verify
from tests.scheduling.graded import graded

EFFORT_S = 60.0


def test_an_interrupt_is_heard_while_the_solver_works() -> None:
    struck: list[int] = []
    before = signal.signal(signal.SIGINT, lambda number, _frame: struck.append(number))
    timer = threading.Timer(0.0, lambda: None)

    def told(line: str) -> None:
        nonlocal timer
        if "bound" in line and not timer.is_alive() and not struck:
            timer = threading.Timer(0.3, os.kill, (os.getpid(), signal.SIGINT))
            timer.start()

    problem = graded(60, 1, 2.1, 1.0, 0.2)
    began = time.process_time()
    try:
        found = solve(problem, Effort(EFFORT_S, interrupted=lambda: bool(struck), progress=told))
    finally:
        timer.cancel()
        signal.signal(signal.SIGINT, before)
    assert struck == [signal.SIGINT]
    assert (found.interrupted, found.engine) == (True, Engine.EXACT)
    assert verify(problem, found) == ()
    assert time.process_time() - began < EFFORT_S / 2  # of computing, however busy the machine is
