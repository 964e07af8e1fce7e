"""Forms that come twice, or late: kept once, in the order they were filled in."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from tests.unit.web.test_page import said


def test_car_begun_twice_by_one_form_is_one_car(browser: TestClient) -> None:
    """Its answer was lost and the same form was sent again; another form begins another car of the same name."""

    def begun(sent: str) -> str:
        data = {"nickname": "twice", "sent": sent}
        return browser.post("/new", data=data, follow_redirects=False).headers["location"]

    first = begun("0123456789abcdef")
    assert begun("0123456789abcdef") == first
    assert begun("fedcba9876543210") != first
    assert browser.get("/").text.count("<bdi>twice</bdi>") == 2


@pytest.mark.parametrize(("before", "order"), [("a" * 16, ["shakes", "hunts"]), ("", ["hunts", "shakes"])])
def test_forms_stand_in_the_order_they_were_filled_in(
    browser: TestClient, car: str, before: str, order: list[str]
) -> None:
    """Kept slowly, the first tells a later moment than the second: that names the form it came behind."""
    browser.post(f"{car}/say", data={"line": "shakes", "sent": "a" * 16, "waited": "1.0"})
    browser.post(f"{car}/say", data={"line": "hunts", "sent": "b" * 16, "waited": "20.0", "before": before})
    assert [line for line in said(browser, car) if line in order] == list(reversed(order))


def test_form_far_behind_another_keeps_its_moment(browser: TestClient, car: str) -> None:
    """It waited for days on another screen; nothing moves it to today."""
    browser.post(f"{car}/say", data={"line": "shakes", "sent": "a" * 16, "waited": "1.0"})
    browser.post(f"{car}/say", data={"line": "hunts", "sent": "b" * 16, "waited": "90000.0", "before": "a" * 16})
    assert [line for line in said(browser, car) if line != "van"] == ["shakes", "hunts"]
