"""What a workshop does on a disk that gets full and then read-only; the argument is where such a disk is mounted."""

from __future__ import annotations

import itertools
import json
import subprocess
import sys
from pathlib import Path

from knowngood.errors import KnownGoodError
from knowngood.evidence import Entry, Note
from knowngood.jobs.store import Store
from tests.durability import writers


def main(disk: Path) -> None:
    """Says as JSON how many entries were acknowledged, how many are there, and what was refused in which words."""
    said: dict[str, object] = {}
    ballast = disk / "ballast"
    ballast.write_bytes(bytes(100_000))
    writers.begin(disk)
    with Store.open(disk) as store:
        for number in itertools.count(1):
            try:
                store.append(writers.JOB, [long_note(number)])
            except KnownGoodError as error:
                said |= {"acknowledged": number - 1, "full": f"{type(error).__name__}: {error}"}
                break
        said["there when full"] = len(store.entries(writers.JOB)) - 1
        ballast.unlink()
        store.append(writers.JOB, [long_note(0)])
        said["there with room again"] = len(store.entries(writers.JOB)) - 1
    subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
    with Store.open(disk) as store:
        said["there on a read-only disk"] = len(store.entries(writers.JOB)) - 1
        try:
            store.append(writers.JOB, [long_note(number + 1)])
        except KnownGoodError as error:
            said["read-only"] = f"{type(error).__name__}: {error}"
    print(json.dumps(said))


def long_note(number: int) -> Entry:
    return Entry(id=f"e{number}", at=writers.STAMP, entered=writers.STAMP, body=Note("x" * 3000))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
