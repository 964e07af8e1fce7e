"""The writer is killed in the middle of its work; what it had acknowledged is there.

What this shows: SIGKILL at any moment loses no acknowledged entry, leaves no line half stored and no damaged file.
What it does not show: power loss. The kernel of this machine lives on and finishes what the process had handed to it.
That the log is on the disk before an entry is acknowledged is looked at in ``test_sync_before_acknowledgement``.
"""

from __future__ import annotations

import multiprocessing
import os
import select
import signal
import sqlite3
import time
from contextlib import closing
from pathlib import Path
from typing import Any

from knowngood.jobs import disk
from knowngood.jobs.store import Store
from tests.durability import writers

KILLS = 30
LONGEST_S = 0.04
"""Longest time between the last acknowledgement waited for and the kill; some twenty appends."""

PROCESSES = multiprocessing.get_context("forkserver")
PROCESSES.set_forkserver_preload(["tests.durability.writers"])


def killed(folder: Path, name: str, *, after: int, wait_s: float, honest: bool = True) -> list[str]:
    """What a writer acknowledged until it was killed: some lines, then some more time."""
    hears, says = PROCESSES.Pipe(duplex=False)
    child = PROCESSES.Process(target=_write, args=(folder, name, says, honest))
    child.start()
    says.close()
    heard = b""
    while heard.count(b"\n") < after:
        assert select.select([hears], [], [], 30)[0], "the writer says nothing"
        heard += os.read(hears.fileno(), 65536)
    time.sleep(wait_s)
    assert child.is_alive(), "the writer ended by itself"
    assert child.pid is not None
    os.kill(child.pid, signal.SIGKILL)
    child.join()
    while more := os.read(hears.fileno(), 65536):
        heard += more
    hears.close()
    assert child.exitcode == -signal.SIGKILL
    child.close()
    return heard.decode().splitlines()


def _write(folder: Path, name: str, says: Any, honest: bool) -> None:
    writers.write(folder, name, says.fileno(), honest=honest)


def ids_in(folder: Path) -> set[str]:
    with Store.open(folder) as store:
        return {entry.id for entry in store.entries(writers.JOB)}


def ids_of(lines: list[str]) -> set[str]:
    return {entry.id for line in lines for entry in writers.line(line)}


def test_every_acknowledged_entry_is_there_after_each_kill(tmp_path: Path, rng: Any) -> None:
    """Thirty kills on one file, each at another moment; after every one, all that was ever acknowledged is there."""
    writers.begin(tmp_path)
    acknowledged: list[str] = []
    log_left = 0
    for kill in range(KILLS):
        after, wait_s = int(rng.integers(1, 12)), float(rng.uniform(0, LONGEST_S))
        acknowledged += killed(tmp_path, f"w{kill}", after=after, wait_s=wait_s)
        log_left += (tmp_path / f"{disk.FILE}-wal").exists()
        here = ids_in(tmp_path)
        assert ids_of(acknowledged) <= here
        whole = {entry_id.partition(".")[0] for entry_id in here - {"birth"}}
        assert here == ids_of(sorted(whole)) | {"birth"}, "a line is half stored"
        assert len(whole) <= len(acknowledged) + kill + 1, "more than the one line in work was stored unacknowledged"
        with closing(sqlite3.connect(tmp_path / disk.FILE)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert len(acknowledged) >= KILLS
    assert log_left == KILLS, "a writer was not in the middle of its work"


def test_writer_that_acknowledges_too_early_is_caught(tmp_path: Path) -> None:
    """The test above can fail: the same kills find the loss when the acknowledgement comes before the append."""
    writers.begin(tmp_path)
    for kill in range(KILLS):
        acknowledged = killed(tmp_path, f"w{kill}", after=1 + kill % 5, wait_s=0, honest=False)
        if not ids_of(acknowledged) <= ids_in(tmp_path):
            return
    raise AssertionError(f"{KILLS} kills of a writer that lies were not enough to find a lie")
