"""What a killed process loses: ``python -m benchmarks.reliability``, written into docs/reliability.md.

Two kinds of process are killed with SIGKILL at a random moment: the served page while twenty clients post lines at
once, and a writer that goes round all other ways to the disk (undo, import, photo, daily copy). What was acknowledged
before a kill must be there after it. A kill shows process death and nothing else: the machine lives on and finishes
what it was handed, so power loss is not shown.
"""

from __future__ import annotations

import io
import itertools
import multiprocessing
import os
import random
import re
import select
import signal
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from collections import Counter
from contextlib import closing
from pathlib import Path
from typing import Any

from knowngood.app.photo import photo_line
from knowngood.app.workshop import Workshop
from knowngood.evidence import Note, Strike
from knowngood.jobs import disk
from knowngood.jobs.photos import FOLDER
from knowngood.library.load import load
from knowngood.proving.figures import Figure, line, write

PAGE_KILLS, WRITER_KILLS, CLIENTS, SEED = 60, 140, 20, 1
LONGEST_S = 0.3
PROCESSES = multiprocessing.get_context("forkserver")
DOC = Path("docs/reliability.md")


class NoRedirect(urllib.request.HTTPRedirectHandler):
    """An entry is acknowledged by the redirect itself."""

    def redirect_request(self, *_: Any) -> None:
        """None is followed."""


def new_car(folder: Path) -> str:
    """A workshop with one car."""
    with Workshop(folder, load()) as workshop:
        return workshop.new("van").code


def page_round(folder: Path, car: str, name: str, draw: random.Random) -> tuple[set[str], int]:
    """Lines acknowledged by a served page until it was killed, and answers that were none of its own."""
    program = [sys.executable, "-m", "knowngood.cli", "--home", str(folder), "serve"]
    with subprocess.Popen(program, stdout=subprocess.PIPE, text=True, start_new_session=True) as page:
        assert page.stdout is not None
        address = page.stdout.readline().strip()
        acknowledged: list[str] = []
        strange: list[int] = []

        def post(client: int) -> None:
            opener = urllib.request.build_opener(NoRedirect)
            for number in itertools.count():
                said = f"note: {name} client {client} line {number}"
                data = urllib.parse.urlencode({"line": said}).encode()
                try:
                    opener.open(f"{address}car/{car}/say", data, timeout=30)
                except urllib.error.HTTPError as answer:
                    if answer.code == 303:
                        acknowledged.append(said)
                    else:
                        strange.append(answer.code)
                except OSError:
                    return  # killed

        clients = [threading.Thread(target=post, args=(client,)) for client in range(CLIENTS)]
        for client in clients:
            client.start()
        time.sleep(0.8 + draw.uniform(0, LONGEST_S))
        os.killpg(page.pid, signal.SIGKILL)
        for client in clients:
            client.join()
    return set(acknowledged), len(strange)


def write_round(folder: Path, car: str, name: str, says: Any) -> None:
    """Go round the ways to the disk until killed; each is acknowledged when it returned."""
    from PIL import Image

    picture = io.BytesIO()
    Image.effect_noise((640, 480), 60).save(picture, "JPEG")
    library = load()
    with (
        Workshop(folder, library) as workshop,
        tempfile.TemporaryDirectory() as apart,
        Workshop(Path(apart), library) as other,
    ):
        for number in itertools.count():
            said = f"{name} line {number}"
            workshop.say(car, f"note: {said}")
            _acknowledge(says, "say", said)
            struck = f"{name} struck {number}"
            workshop.say(car, f"note: {struck}")
            workshop.undo(car)
            _acknowledge(says, "undo", struck)
            code = other.new(f"{name}-{number}").code
            workshop.take_in(other.export(code).encode(), "other.jsonl")
            _acknowledge(says, "import", f"{name}-{number}")
            photo_line(workshop, car, picture.getvalue(), f"{name} photo {number}")
            _acknowledge(says, "photo", f"{name} photo {number}")


def _acknowledge(says: Any, way: str, what: str) -> None:
    os.write(says.fileno(), f"{way}\t{what}\n".encode())


def writer_round(folder: Path, car: str, name: str, draw: random.Random) -> list[tuple[str, str]]:
    """What a writer acknowledged until it was killed."""
    hears, says = PROCESSES.Pipe(duplex=False)
    child = PROCESSES.Process(target=write_round, args=(folder, car, name, says))
    child.start()
    says.close()
    heard = b""
    while not heard:
        assert select.select([hears], [], [], 60)[0], "the writer says nothing"
        heard = os.read(hears.fileno(), 65536)
    time.sleep(draw.uniform(0, LONGEST_S))
    assert child.pid is not None
    os.kill(child.pid, signal.SIGKILL)
    child.join()
    while more := os.read(hears.fileno(), 65536):
        heard += more
    return [(way, what) for way, _, what in (text.partition("\t") for text in heard.decode().splitlines())]


def lost(folder: Path, acknowledged: list[tuple[str, str]]) -> int:
    """How many acknowledged things are not there; the file itself is looked through by its engine."""
    with Workshop(folder, load()) as workshop:
        entries = {job.code: workshop.store.entries(job.code) for job in workshop.jobs()}
        names = {job.nickname for job in workshop.jobs()}
    every = [entry for told in entries.values() for entry in told]
    struck = {entry.body.entry for entry in every if isinstance(entry.body, Strike)}
    here = Counter(entry.line for entry in every if isinstance(entry.body, Note) and entry.id not in struck)
    gone = {entry.line for entry in every if entry.id in struck}
    photos = len(list((folder / FOLDER).glob("*.jpg"))) if (folder / FOLDER).exists() else 0
    missing = max(0, sum(way == "photo" for way, _ in acknowledged) - photos)
    for way, what in acknowledged:
        there = {
            "page": what in here,
            "say": f"note: {what}" in here,
            "undo": f"note: {what}" in gone,
            "import": what in names,
            "photo": any(what in text for text in here) or any(what in entry.line for entry in every),
        }[way]
        missing += not there
    with closing(sqlite3.connect(folder / disk.FILE)) as connection:
        missing += connection.execute("PRAGMA integrity_check").fetchall() != [("ok",)]
    return missing


def routes_drawn() -> int:
    """Routes that requests were drawn for, each with an answer in words to all of them; nothing where one had none."""
    command = [sys.executable, "-m", "pytest", "-q", "tests/property/test_routes.py"]
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    passed = re.search(r"^(\d+) passed", told.stdout, re.MULTILINE)
    return int(passed[1]) if passed and told.returncode == 0 else 0


def main() -> int:
    """Kill, count, print, write."""
    began = time.perf_counter()
    draw = random.Random(SEED)
    acknowledged: list[tuple[str, str]] = []
    strange = missing = 0
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        car = new_car(folder)
        for kill in range(PAGE_KILLS):
            said, odd = page_round(folder, car, f"p{kill}", draw)
            acknowledged += [("page", one) for one in said]
            strange += odd
        missing += lost(folder, acknowledged)
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        car = new_car(folder)
        done: list[tuple[str, str]] = []
        for kill in range(WRITER_KILLS):
            done += writer_round(folder, car, f"w{kill}", draw)
        missing += lost(folder, done)
        acknowledged += done
    ways = Counter(way for way, _ in acknowledged)
    figures = {
        "hardening.kills": Figure(PAGE_KILLS + WRITER_KILLS, PAGE_KILLS + WRITER_KILLS, goal=200),
        "hardening.acknowledged": Figure(len(acknowledged), PAGE_KILLS + WRITER_KILLS),
        "hardening.lost": Figure(missing, len(acknowledged), goal=0, at_least=False),
        "hardening.strange_answers": Figure(strange, ways["page"], goal=0, at_least=False),
    }
    routes = routes_drawn()
    figures["hardening.routes_fuzzed"] = Figure(routes, routes)
    for name, figure in figures.items():
        print(line(name, figure))
    write(figures, command="python -m benchmarks.reliability", seconds=time.perf_counter() - began)
    DOC.write_text(as_page(ways, missing, strange, routes), encoding="utf-8")
    return 0


def as_page(ways: Counter[str], missing: int, strange: int, routes: int) -> str:
    """The page of the docs."""
    words = {
        "page": f"a line posted to the served page, {CLIENTS} clients at once",
        "say": "a line kept",
        "undo": "a line taken back",
        "import": "a car taken in from an export",
        "photo": "a photo with its line",
    }
    rows = "\n".join(f"| {words[way]} | {ways[way]} |" for way in words)
    return f"""# What a killed process loses

Written by `python -m benchmarks.reliability`: {PAGE_KILLS} kills of the served page and {WRITER_KILLS} of a writer,
each at a random moment, in the middle of the work. Everything acknowledged before a kill was looked for after
the last.

| Way to the disk | Acknowledged |
|---|---|
{rows}

Acknowledged and not there afterwards: **{missing}**. Answers of the page that were neither an acknowledgement nor a cut
line: **{strange}**. The journal passed its engine's integrity check.

A kill shows the death of a process and nothing else: the machine lives on and writes out what it was handed. Power loss
is not shown; that the log is put on the disk before each acknowledgement is (`tests/durability`), and so are a full and
a read-only disk, a damaged file and one of a newer version (`tests/errors`, `tests/unit/jobs`).

Requests were drawn for **{routes}** routes of the page, each answered in words ([hostile words](hostile-words.md)).
"""


if __name__ == "__main__":
    sys.exit(main())
