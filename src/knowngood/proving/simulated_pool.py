"""Many cars on two processes, with a bar that says how far it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import get_context
from typing import Any, TypeVar

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn, TimeRemainingColumn

from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.proving.kept_work import Kept

PROCESSES = 2
Result = TypeVar("Result")
_OURS: list[Library] = []


def _begin() -> None:
    _OURS.append(load())


def _one(task: Callable[..., Any], job: tuple[Any, ...]) -> Any:
    return task(_OURS[0], *job)


def spread(
    task: Callable[..., Result],
    jobs: Sequence[tuple[Any, ...]],
    title: str,
    processes: int = PROCESSES,
    kept: Kept[Result] | None = None,
) -> list[Result]:
    """What a task makes of each job, in the order of the jobs; ``task(library, *job)`` must be a plain function.

    What is ``kept`` is not worked out again, and what is worked out is kept.
    """
    columns = (TextColumn(title), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn(), TimeRemainingColumn())
    result: dict[int, Any] = {}
    with (
        Progress(*columns, console=Console(stderr=True)) as progress,
        ProcessPoolExecutor(processes, mp_context=get_context("spawn"), initializer=_begin) as pool,
    ):
        for index, job in enumerate(jobs):
            known = None if kept is None else kept.get(job)
            if known is not None:
                result[index] = known
        bar = progress.add_task(title, total=len(jobs), completed=len(result))
        waiting = {pool.submit(_one, task, job): index for index, job in enumerate(jobs) if index not in result}
        for done in as_completed(waiting):
            index = waiting[done]
            result[index] = done.result()
            if kept is not None:
                kept.add(jobs[index], result[index])
            progress.advance(bar)
    return [result[index] for index in range(len(jobs))]
