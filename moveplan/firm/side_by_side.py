"""The same work on many jobs, in processes of their own."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Iterable
from concurrent.futures import ProcessPoolExecutor
from typing import Any, TypeVar

Found = TypeVar("Found")


def side_by_side(work: Callable[..., Found], rows: Iterable[tuple[Any, ...]], processes: int) -> list[Found]:
    """Call a function with each row of arguments, several at a time; answers in the order of the rows.

    Processes are begun afresh: a copy of one in which the solver has threads could wait for them for ever.

    Parameters
    ----------
    work : callable
        A function of a module.
    rows : iterable of tuple
        Its arguments, one tuple a call.
    processes : int
        How many at a time; 1: none but this one.
    """
    several = list(rows)
    if processes <= 1 or len(several) <= 1:
        return [work(*row) for row in several]
    known = multiprocessing.get_all_start_methods()
    context = multiprocessing.get_context("forkserver" if "forkserver" in known else "spawn")
    with ProcessPoolExecutor(min(processes, len(several)), mp_context=context) as pool:
        return list(pool.map(work, *zip(*several, strict=True)))
