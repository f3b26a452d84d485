"""Who works the chunks of a study: this core, several cores of this machine, or a cluster. One answer from all.

A chunk carries its own seed, so that the numbers do not depend on who works it or when; what comes back is put
together in the order of the chunks. What is yielded here is what the library calls ``run``: it is used like ``map``.
"""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from typing import Any

from hingeline.errors import InputRefused

MOST_CORES = 256
Run = Callable[[Callable[[Any], Any], list[Any]], Iterable[Any]]


@contextmanager
def shared(cores: int | None = None, cluster: str | None = None) -> Iterator[Run]:
    """Give the ``run`` that was asked for: a cluster by its address, so many cores, or this one.

    Raises
    ------
    InputRefused
        Both were asked for, or more cores than any machine has.
    MissingExtra
        A cluster was asked for, and what reaches it is not installed.
    """
    if cores is not None and cluster is not None:
        raise InputRefused.of("--cluster", cluster, "no --cores beside it", "Leave one of the two out.")
    if cluster is not None:
        from hingeline_app.longwork.cluster import executor_of

        with executor_of(cluster) as executor:
            yield in_order(executor)
    elif cores is not None and cores > 1:
        with processes(cores) as executor:
            yield in_order(executor)
    else:
        yield map


@contextmanager
def processes(count: int) -> Iterator[Executor]:
    """Give so many processes of this machine; what they have not begun is dropped at the end."""
    if not 1 <= count <= MOST_CORES:
        raise InputRefused.of("--cores", count, f"from 1 to {MOST_CORES}", "As many as this machine has.")
    pool = ProcessPoolExecutor(count, mp_context=multiprocessing.get_context("spawn"))
    try:
        yield pool
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def in_order(executor: Executor) -> Run:
    """Make a ``run`` of an executor: results in the order of what was given; left early, the rest is cancelled."""

    def run(function: Callable[[Any], Any], given: list[Any]) -> Iterator[Any]:
        futures = [executor.submit(function, each) for each in given]
        try:
            # Let go of each as it is taken: a million onsets are not held twice.
            futures.reverse()
            while futures:
                yield futures.pop().result()
        finally:
            for future in futures:
                future.cancel()

    return run
