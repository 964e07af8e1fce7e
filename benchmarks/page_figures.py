"""How fast the page answers an entry, how much the first screen weighs, how many rules every page is held to.

``page.entry_ms_c8``: from sending a line to the page that knows it, with new suspects and the next step, for the
eight-cylinder car of ``eight.txt`` told line by line; median, and the 95th of 100 as its most. ``page.whole_ms_c8``:
to the second answer, which adds what moved each suspect, which lines surprise and what no check tells apart; the next
line is sent then, as no hand is quicker. ``page.saved_ms_c8``: to the answer "saved", on disk.
``page.first_screen_kb``: everything a browser loads to show a car's first screen.
"""

from __future__ import annotations

import re
import statistics
import tempfile
import time
from pathlib import Path

from starlette.testclient import TestClient

from knowngood.library.load import load
from knowngood.proving.figures import Figure
from knowngood.web.page import Page

NOTES = Path(__file__).parent / "eight.txt"
ADDRESS = "http://127.0.0.1:8765"
JSON = {"accept": "application/json"}
UNDER_WAY = "being worked out."
GOAL_MS, GOAL_KB = 200.0, 150.0


def page_figures() -> dict[str, Figure]:
    """The figures of the page."""
    lines = [line for line in NOTES.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    with tempfile.TemporaryDirectory() as folder:
        app = Page(Path(folder) / "home", load(), patience_s=600.0).app()
        with TestClient(app, base_url=ADDRESS) as browser:
            car = browser.post("/new", data={"nickname": "eight"}, follow_redirects=False).headers["location"]
            saved, known, whole = [], [], []
            for line in lines:
                began = time.perf_counter()
                browser.post(f"{car}/say", data={"line": line}, headers=JSON).raise_for_status()
                saved.append(1000.0 * (time.perf_counter() - began))
                page = browser.get(car)
                known.append(1000.0 * (time.perf_counter() - began))
                while UNDER_WAY in browser.get(f"{car}/suspects").text:
                    time.sleep(0.005)
                whole.append(1000.0 * (time.perf_counter() - began))
            weight = _kilobytes(browser, page.text)
    return {
        "page.saved_ms_c8": _timed(saved),
        "page.entry_ms_c8": _timed(known, GOAL_MS),
        "page.whole_ms_c8": _timed(whole),
        "page.first_screen_kb": Figure(round(weight, 1), 1, goal=GOAL_KB, at_least=False),
    }


def _timed(times: list[float], goal: float | None = None) -> Figure:
    p95 = statistics.quantiles(times, n=20)[-1]
    return Figure(round(statistics.median(times), 1), len(times), round(min(times), 1), round(p95, 1), goal, False)


def _kilobytes(browser: TestClient, text: str) -> float:
    """The page and all it loads, as sent."""
    loaded = re.findall(r'(?:src|href)="(/static/[^"]+)"', text)
    return (len(text.encode()) + sum(len(browser.get(path).content) for path in loaded)) / 1000.0
