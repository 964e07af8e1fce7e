"""Pictures of the page for the docs, of the example car as it is told; and of every page there is, to be looked at.

.venv/bin/python -m tools.pictures           those of the docs, into docs/guides/bay-page
.venv/bin/python -m tools.pictures FOLDER    every page at both sizes: nothing known, arrival, middle, end
"""

from __future__ import annotations

import io
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import sync_playwright

from knowngood.app.example import example_lines
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.web.page import Page
from knowngood.web.serving import free_socket
from tests.browser.being_served import being_served

DOCS = Path(__file__).parent.parent / "docs" / "guides" / "bay-page"
SIZES = {"phone": (390, 844), "bench": (1280, 800)}  # CSS px
COLOURS = 16
MOST_KB = 400.0  # of all pictures of the docs together
STAGES = {"nothing": "look before buying", "arrival": "first start", "middle": "work", "end": ""}  # told up to here
IN_DOCS = {  # name: (stage, path, size)
    "next": ("middle", "", "phone"),
    "row": ("arrival", "/check/compression_row", "phone"),
    "engine": ("middle", "/engine", "phone"),
    "suspects": ("middle", "/suspects", "phone"),
    "gate": ("middle", "/gates/start", "phone"),
    "road": ("end", "/road", "phone"),
    "bench": ("middle", "", "bench"),
}
OF_A_CAR = (
    "", "/engine", "/cylinder/2", "/gates", "/gates/start", "/gates/road", "/suspects", "/suspect/coil_plug_not_on",
    "/checks", "/check/compression_row", "/check/road_drive", "/measure", "/measure/joint", "/found", "/tell", "/talk",
    "/todo", "/work", "/road", "/proof", "/story", "/tools", "/sheets", "/card", "/journal",
)  # fmt: skip
OF_THE_SHOP = ("", "settings", "pair", "measure", "car/nosuch")


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The page of a workshop, each answer waited for; its address."""
    with free_socket(22000) as listening:
        app = Page(folder, load(), patience_s=600.0).app()
        with being_served(app, listening):
            yield f"http://127.0.0.1:{listening.getsockname()[1]}/"


def told(folder: Path) -> dict[str, str]:
    """The example car at each stage, as a car of its own; stage -> code."""
    codes = {}
    with Workshop(folder, load()) as workshop:
        for stage, until in STAGES.items():
            job = workshop.new("barn six" if stage == "middle" else f"barn six, {stage}")
            codes[stage] = job.code
            for line in example_lines(until):
                workshop.say(job.code, line)
    return codes


def small(picture: bytes) -> bytes:
    """The same picture in a few colours."""
    kept = io.BytesIO()
    with Image.open(io.BytesIO(picture)) as opened:
        opened.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE).save(kept, "PNG", optimize=True)
    return kept.getvalue()


def taken(browser: Any, address: str, size: str, *, whole: bool) -> bytes:
    """A picture of a page: what stands on the screen, or all of it."""
    width, height = SIZES[size]
    context = browser.new_context(viewport={"width": width, "height": height}, is_mobile=size == "phone")
    page = context.new_page()
    page.goto(address, timeout=600_000)
    picture = small(page.screenshot(full_page=whole))
    context.close()
    return picture


def for_docs(browser: Any, address: str, codes: dict[str, str]) -> None:
    """The pictures of the docs; refused where they are too large together."""
    pictures = {
        name: taken(browser, f"{address}car/{codes[stage]}{path}", size, whole=False)
        for name, (stage, path, size) in IN_DOCS.items()
    }
    total_kb = sum(map(len, pictures.values())) / 1000.0
    if total_kb > MOST_KB:
        sys.exit(f"The pictures are {total_kb:.0f} kB together; {MOST_KB:.0f} kB are the most. Take fewer.")
    DOCS.mkdir(parents=True, exist_ok=True)
    for name, picture in pictures.items():
        (DOCS / f"{name}.png").write_bytes(picture)
    print(f"{len(pictures)} pictures, {total_kb:.0f} kB, in {DOCS}")


def to_look_at(browser: Any, address: str, codes: dict[str, str], folder: Path) -> None:
    """Every page at both sizes."""
    folder.mkdir(parents=True, exist_ok=True)
    pages = {f"shop {path or 'cars'}": path for path in OF_THE_SHOP}
    pages |= {f"{stage} {path or '/next'}": f"car/{code}{path}" for stage, code in codes.items() for path in OF_A_CAR}
    for name, path in pages.items():
        for size in SIZES:
            file = f"{name.replace(' /', ' ').replace('/', '-').replace(' ', '_')}_{size}.png"
            (folder / file).write_bytes(taken(browser, f"{address}{path}", size, whole=True))
    print(f"{len(pages)} pages at {len(SIZES)} sizes, in {folder}")


def main(arguments: list[str]) -> None:
    """Take the pictures."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        sys.exit("There is no chromium on this machine. `apt-get install chromium` brings it.")
    with tempfile.TemporaryDirectory() as home, sync_playwright() as playwright:
        codes = told(Path(home))
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        with served(Path(home)) as address:
            if arguments:
                to_look_at(browser, address, codes, Path(arguments[0]))
            else:
                for_docs(browser, address, codes)
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1:])
