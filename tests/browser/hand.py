"""What a hand does on the page: begin a car, say lines, press, wait until it is on disk and worked out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

PATIENCE_MS = 240_000  # a busy machine works out an answer slowly; what is waited for comes much sooner
LINE = "Say what you saw, measured or did"


@contextmanager
def kept(page: Any) -> Iterator[None]:
    """What is done inside is answered by the machine, and the page that follows is shown."""
    count = "() => Number(document.documentElement.dataset.kept || 0)"
    before = page.evaluate(count)
    yield
    page.wait_for_function(f"before => ({count})() > before", arg=before, timeout=PATIENCE_MS)


def begin(page: Any, address: str, name: str, *lines: str) -> None:
    """A new car through the page's own fields."""
    page.goto(address)
    page.get_by_label("A new car: what do you call it?").fill(name)
    with page.expect_navigation():
        page.get_by_role("button", name="Begin").click()
    say(page, *lines)


def say(page: Any, *lines: str) -> None:
    """Lines through the field of the car's page."""
    for line in lines:
        page.get_by_label(LINE).fill(line)
        press(page, "Save")


def press(page: Any, name: str) -> None:
    """Press a button whose form is kept."""
    with kept(page):
        page.get_by_role("button", name=name, exact=True).click()


def worked_out(page: Any) -> None:
    """Wait until the page knows every line that was said."""
    page.wait_for_selector("main[data-fresh]", timeout=PATIENCE_MS)


def all_told(page: Any) -> None:
    """Wait until a page of suspects has what comes after the next step, too; it fetches that by itself."""
    page.get_by_text("being worked out").wait_for(state="detached", timeout=PATIENCE_MS)


def contents(page: Any, name: str, shows: str) -> None:
    """Go to a page by the contents, and wait for its heading."""
    page.get_by_role("navigation", name="Contents").get_by_role("link", name=name).click()
    page.get_by_role("heading", name=shows, exact=True).wait_for()


def open_step(page: Any, car: str, wanted: Callable[[Any], bool]) -> None:
    """Show the first step offered that answers in the wanted way, by tapping through the other steps."""
    page.goto(car)
    worked_out(page)
    links = [link.get_attribute("href") for link in page.locator("section[aria-labelledby=other] a").all()]
    for link in (None, *links):
        if link is not None:
            page.locator(f'section[aria-labelledby=other] a[href="{link}"]').click()
            page.get_by_role("heading", name="Instead", exact=True).wait_for()
        if wanted(page):
            return
        page.goto(car)
        worked_out(page)
    raise AssertionError(f"none of {len(links) + 1} steps answers so")
