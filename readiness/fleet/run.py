"""The farms given to the engine: Dask on this machine's own cores, or on a cluster that is
there."""

from __future__ import annotations

import gc
import logging
import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, NamedTuple

from readiness.fleet.task import Done, Failed, Job, do
from readiness.system.errors import NoMemory, NotFound, UsageError
from readiness.system.leftovers import clear_leftovers

if TYPE_CHECKING:
    from distributed import Client

HERE = "127.0.0.1"
ANSWER = 5.0
"""Seconds in which a scheduler that is there answers, and has a worker."""
OF_DATABASE = 4
"""A worker's memory by this is what its database may have: the rest is for the entries."""

Progress = Callable[[int, int], None]


class Engine(NamedTuple):
    """``scheduler``: the address of one that is there; None: ``workers`` processes here, a core
    each where that is None too."""

    scheduler: str | None
    workers: int | None


def run(
    jobs: Sequence[Job],
    engine: Engine,
    begin: Callable[[], None],
    note: Callable[[str], None],
    progress: Progress,
) -> list[Done | Failed]:
    """Do all of them; what came of each, in their order. ``begin`` is done once the engine is
    there; ``note`` is told where it shows itself.

    Raises UsageError where the engine is not installed or its address is none, NotFound where no
    scheduler answers there or none of its workers.
    """
    gc.enable()  # who hands out farms is at it for long
    came: dict[int, Done | Failed] = {}
    with _client(engine) as client:
        from distributed import as_completed

        begin()
        if client.dashboard_link and _dashboard_is_there():
            note(f"Dask's dashboard: {client.dashboard_link}")
        # Nothing is pure: the same job again looks what is done by now.
        futures: list[Any] = client.map(_on_worker, jobs, pure=False, retries=0)
        places = {future: place for place, future in enumerate(futures)}
        waiting = as_completed(places, loop=client.loop)
        for future in waiting:
            at = places.pop(future)
            came[at] = future.result() if future.status == "finished" else _lost(jobs[at], future)
            future.release()
            progress(len(came), len(jobs))
    for out in {job.out for job in jobs}:
        clear_leftovers(out, age=0)  # what a worker that was killed had begun
    return [came[at] for at in range(len(jobs))]


def _on_worker(job: Job) -> Done | Failed:
    from distributed import get_worker

    worker = get_worker()
    limit = worker.memory_manager.memory_limit
    return do(job, limit // OF_DATABASE if limit else None, worker.local_directory)


def _lost(job: Job, future: Any) -> Failed:
    """What the engine gave up: the workers that had it died one after another, or it is none of
    ours that runs there."""
    from distributed import KilledWorker

    problem = future.exception()
    if isinstance(problem, KilledWorker):
        why = (
            "Every process that had it died, one after another: most likely it needs more memory "
            "than a process has. Give it fewer --processes, or a machine with more."
        )
        return Failed(job.source.farm, str(job.source.path), why, NoMemory.exit_code)
    why = f"The worker could not do it ({type(problem).__name__}: {problem}): is readiness there?"
    return Failed(job.source.farm, str(job.source.path), why, UsageError.exit_code)


@contextmanager
def _client(engine: Engine) -> Iterator[Client]:
    try:
        import dask
        from distributed import Client, LocalCluster
    except ImportError as problem:
        raise UsageError(
            "A fleet runs on Dask, which is not installed: `pip install 'readiness[fleet]'` brings "
            "it."
        ) from problem
    with ExitStack() as stack:
        if engine.scheduler is not None:
            yield stack.enter_context(_there(engine.scheduler))
            return
        # A farm at a time each: one that waits behind another would be blamed for a death, too.
        stack.enter_context(dask.config.set({"distributed.scheduler.worker-saturation": 1.0}))
        room = stack.enter_context(TemporaryDirectory(prefix="readiness-fleet-"))
        cluster = LocalCluster(
            n_workers=engine.workers or os.cpu_count() or 1,
            threads_per_worker=1,
            processes=True,
            host=HERE,
            dashboard_address=f"{HERE}:{_free(8787) if _dashboard_is_there() else 0}",
            local_directory=room,
            silence_logs=logging.CRITICAL,
        )
        stack.enter_context(cluster)
        yield stack.enter_context(Client(cluster, set_as_default=False))


@contextmanager
def _there(address: str) -> Iterator[Client]:
    """A scheduler that is there, and has a worker."""
    from distributed import Client

    logging.getLogger("distributed").setLevel(logging.CRITICAL)
    none = f"No Dask scheduler answers at {address} within {ANSWER:g} seconds: nothing was done."
    try:
        client = Client(address, timeout=ANSWER, set_as_default=False)
    except (OSError, TimeoutError) as problem:
        raise NotFound(f"{none} Start one there, or leave --scheduler away.") from problem
    except ValueError as problem:
        raise UsageError(
            f"{address} is no address of a scheduler: tcp://HOST:PORT is."
        ) from problem
    with client:
        try:
            client.wait_for_workers(1, timeout=ANSWER)
        except TimeoutError as problem:
            raise NotFound(
                f"The Dask scheduler at {address} has no worker: nothing was done. Start one."
            ) from problem
        yield client


def _dashboard_is_there() -> bool:
    """Dask draws it where Bokeh is installed."""
    with suppress(ImportError):
        import bokeh  # noqa: F401

        return True
    return False


def _free(port: int) -> int:
    """That port where nobody has it, else any."""
    import socket

    with socket.socket() as asked:
        try:
            asked.bind((HERE, port))
        except OSError:
            return 0
        return port
