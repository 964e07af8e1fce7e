"""Scripts and markup in every word that comes from elsewhere: in a real browser none of it runs, all of it is read."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec
import pytest

from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.web.page import Page
from knowngood.web.serving import free_socket
from tests.browser.being_served import being_served
from tests.browser.hand import begin, contents, worked_out

pytestmark = pytest.mark.browser

SCRIPT = "\"'></bdi></textarea><script>window.ran = 1</script><img src=x onerror='window.ran = 1'>"
LINES = ("4 cylinders inline, coil on plug", "P0302 stored", "shakes at cold idle", "new coil 2")
PAGES = (
    "", "/suspects", "/suspect/coil_dead", "/engine", "/cylinder/2", "/journal", "/work", "/todo", "/proof", "/story",
    "/tools", "/road", "/gates", "/gates/crank", "/found", "/checks", f"/checks?words={SCRIPT}", f"?echo={SCRIPT}",
    f"/measure/joint?work=yes&drop={SCRIPT}&current=1", f"/measure?words={SCRIPT}", "/sheet/record?form=txt",
)  # fmt: skip


def hostile_library() -> Library:
    """A library whose names of parts, faults and checks are scripts, as a shop's own file could make them."""
    library = load()

    def named(records: dict[str, Any]) -> dict[str, Any]:
        return {key: msgspec.structs.replace(one, name=f"{one.name} {SCRIPT}") for key, one in records.items()}

    return msgspec.structs.replace(
        library, parts=named(library.parts), faults=named(library.faults), checks=named(library.checks)
    )


@pytest.fixture
def hostile(tmp_path: Path) -> Iterator[str]:
    """The address of a page with such a library."""
    with free_socket(21500) as listening:
        app = Page(tmp_path, hostile_library()).app()
        with being_served(app, listening):
            yield f"http://127.0.0.1:{listening.getsockname()[1]}/"


def test_nothing_of_it_runs(chromium: Any, hostile: str, tmp_path: Path) -> None:
    """Nickname, line, note, struck line, names of parts, faults and checks: each stands as words on every page."""
    context = chromium.new_context()
    page = context.new_page()
    wrong: list[str] = []
    page.on("dialog", lambda dialog: (wrong.append(dialog.message), dialog.dismiss()))
    page.on("request", lambda asked: wrong.append(asked.url) if asked.url.endswith("/x") else None)
    page.on("console", lambda said: wrong.append(said.text) if "Content Security Policy" in said.text else None)
    begin(page, hostile, SCRIPT, *LINES, f"note: {SCRIPT}", SCRIPT)
    worked_out(page)
    contents(page, "Journal", "Journal")
    said = page.locator("ol.said li > bdi").all_inner_texts()
    assert said == [SCRIPT, f"note: {SCRIPT}", *reversed(LINES), SCRIPT]
    car = page.url.split("/journal")[0]
    shown = 0
    for where in ("/", "/settings", *(f"{car.removeprefix(hostile.rstrip('/'))}{one}" for one in PAGES)):
        page.goto(f"{hostile.rstrip('/')}{where}")
        assert page.evaluate("window.ran") is None, where
        assert page.locator("img[src=x]").count() == 0, where
        shown += "<script>window.ran" in page.inner_text("body")
    assert shown > len(PAGES) // 2, "the words were hardly shown, so little was tried"
    assert wrong == []
    context.close()
    with Workshop(tmp_path, load()) as workshop:
        assert workshop.jobs()[0].nickname == SCRIPT
