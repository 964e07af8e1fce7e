"""Every page at every size in a real browser: how often a rule was held against something, and what broke one.

``page.rules_checked``: a width, a size of letters, a contrast, a size of a target, a distance of two targets, each
counted once where it was held. ``page.rules_broken`` and ``page.axe_serious``: what was found, over all pages.
"""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from knowngood.library.load import load
from knowngood.proving.figures import Figure
from knowngood.web.page import Page
from knowngood.web.pairing import Pairing, new_code
from knowngood.web.serving import free_socket
from tests.browser.axe import serious
from tests.browser.being_served import being_served
from tests.browser.every_page import every_page
from tests.browser.rules import MEASURE, broken_rules, rules_checked

SIZES = ((390, 844), (1280, 800), (320, 640))  # CSS px


def rule_figures() -> dict[str, Figure]:
    """The figures; none on a machine without a browser."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        return {}
    from playwright.sync_api import sync_playwright

    checked = broken = grave = views = 0
    with tempfile.TemporaryDirectory() as folder, free_socket(24000) as listening:
        app = Page(Path(folder) / "home", load(), pairing=Pairing(new_code())).app()
        with being_served(app, listening), sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=program, args=["--headless", "--no-sandbox"])
            pages = every_page(browser, f"http://127.0.0.1:{listening.getsockname()[1]}/")
            for width, height in SIZES:
                page = browser.new_page(viewport={"width": width, "height": height})
                for address in pages.values():
                    page.goto(address)
                    met = page.evaluate(MEASURE)
                    checked, broken = checked + rules_checked(met), broken + len(broken_rules(met))
                    grave, views = grave + len(serious(page)), views + 1
                page.close()
            browser.close()
    return {
        "page.rules_checked": Figure(checked, views),
        "page.rules_broken": Figure(broken, views, goal=0.0, at_least=False),
        "page.axe_serious": Figure(grave, views, goal=0.0, at_least=False),
    }
