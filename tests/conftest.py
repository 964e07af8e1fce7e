"""What every test can ask for: fixed dice, expected texts, a real browser at phone size."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import hypothesis
import pytest

SEED = 2011
GOLDEN = Path(__file__).parent / "golden"
IN_CI = os.environ.get("CI", "") == "true"
PHONE = {"width": 360, "height": 740}  # CSS px
CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
os.environ["TZ"] = "UTC"  # the bay's own time is said on pages and sheets
time.tzset()
NO_CHROMIUM = "no chromium on this machine; `apt-get install chromium` brings it"

# `fixed` draws the same examples every time; `--hypothesis-profile=search` draws new ones, and more.
hypothesis.settings.register_profile("fixed", derandomize=True, database=None, deadline=None)
hypothesis.settings.register_profile("search", max_examples=1000, database=None, deadline=None, print_blob=True)
hypothesis.settings.load_profile("fixed")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--golden", action="store_true", help="write the expected texts anew instead of comparing")


def pytest_report_header() -> str:
    return f"seed {SEED}, hypothesis profile {hypothesis.settings.get_current_profile_name()}"


@pytest.fixture
def rng() -> Any:
    """Dice that fall the same way in every run."""
    import numpy

    return numpy.random.default_rng(SEED)


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """``golden("help.txt", text)``: the text is the one kept in ``tests/golden/``; `make golden` keeps the new one."""

    def compare(name: str, text: str) -> None:
        kept = GOLDEN / name
        if request.config.getoption("--golden"):
            kept.parent.mkdir(parents=True, exist_ok=True)
            kept.write_text(text, encoding="utf-8")
        assert kept.exists(), f"tests/golden/{name} is not there yet; `make golden` writes it"
        assert text == kept.read_text(encoding="utf-8"), f"not the text kept in tests/golden/{name}"

    return compare


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """A running browser with an empty profile; the test is skipped where there is none, and fails in CI."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        pytest.skip(NO_CHROMIUM)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=CHROMIUM_FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def phone(chromium: Any) -> Iterator[Any]:
    """A fresh page at phone size, with touch."""
    context = chromium.new_context(viewport=PHONE, device_scale_factor=2, has_touch=True, is_mobile=True)
    yield context.new_page()
    context.close()


# In CI everything a test needs has been installed, so a skip is a check that was not made: it fails.


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Any:
    report = yield
    return no_skip_in_ci(report)


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector: pytest.Collector) -> Any:
    report = yield
    return no_skip_in_ci(report)


def no_skip_in_ci(report: Any) -> Any:
    if IN_CI and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"{report.nodeid}: skipped in CI, where nothing may be: {reason_of(report)}"
    return report


def reason_of(report: Any) -> str:
    return str(report.longrepr[2]) if isinstance(report.longrepr, tuple) else str(report.longrepr)


def pytest_terminal_summary(terminalreporter: Any) -> None:
    missed = [report for report in terminalreporter.stats.get("skipped", []) if NO_CHROMIUM in reason_of(report)]
    if missed:
        terminalreporter.write_line(f"{len(missed)} browser tests were not run: {NO_CHROMIUM}.")
