"""The base service: due by age or because nothing is known, after what it would destroy, booked as one."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from msgspec import structs

from knowngood.app.service import _why_due_again, base_service, last_done, service_words
from knowngood.app.tasks import access_graph
from knowngood.app.workshop import Workshop
from knowngood.library.load import load

SOME = "petrol, inline four, coil on plug, port injection, flow meter, 180000 km"


@pytest.fixture
def shop(tmp_path: Path) -> Workshop:
    """A four-cylinder car that stood three years."""
    workshop = Workshop(tmp_path, load())
    workshop.new("four")
    for line in (SOME, "stood 3 years"):
        assert workshop.say(workshop.jobs()[0].code, line).counts
    return workshop


def _say(shop: Workshop, line: str, at: str = "") -> None:
    assert shop.say(shop.jobs()[0].code, line, at=at).counts, line


def test_what_stood_is_due_as_one_and_cheaper_than_each(shop: Workshop) -> None:
    """Shared access is counted once; belts stand apart with their own price."""
    service = base_service(shop.state(shop.jobs()[0].code))
    names = [due.name for due in service.due]
    assert names == ["oil and filter", "air filter", "fuel filter", "coolant", "brake fluid", "plugs", "fresh fuel"]
    assert service.minutes <= sum(due.minutes for due in service.due)
    assert service.money == pytest.approx(sum(due.money for due in service.due))
    plugs = next(due for due in service.due if due.name == "plugs")
    assert plugs.money == 4 * load().parts["plug"].price
    assert {due.name for due in service.belts} == {"drive belt", "timing belt"}


def test_readings_it_would_destroy_come_first_until_they_are_taken(shop: Workshop) -> None:
    """Plugs are looked at and the row is measured before new plugs go in."""
    code = shop.jobs()[0].code
    look, row = "look of the spark plug, every cylinder", "cranking compression, every cylinder"
    assert {look, row} <= set(base_service(shop.state(code)).first)
    _say(shop, "comp 175 172 178 174")
    first = base_service(shop.state(code)).first
    assert row not in first and look in first


def test_bundle_is_booked_as_one_and_what_did_it_stays_open(shop: Workshop) -> None:
    """The effect is written at the last piece only; nothing of the bundle is due any more."""
    _say(shop, "base service done, no change, 2 h")
    state = shop.state(shop.jobs()[0].code)
    works = [entry.body for entry in state.entries if entry.line.startswith("base service")]
    assert [work.effect for work in works][-1] == "no change"
    assert not any(work.effect for work in works[:-1])
    assert sum(work.minutes for work in works) == pytest.approx(120.0)
    assert {work.part for work in works} >= {"oil", "oil_filter", "air_filter", "coolant", "plug", "fuel"}
    assert base_service(state).due == []


def test_what_was_left_out_stays_due(shop: Workshop) -> None:
    """Named after "without"; a belt is in it only where it is named."""
    _say(shop, "base service done with drive belt without coolant and brake fluid")
    service = base_service(shop.state(shop.jobs()[0].code))
    assert [due.name for due in service.due] == ["coolant", "brake fluid"]
    assert [due.name for due in service.belts] == ["timing belt"]


def test_service_of_long_ago_is_due_by_age(shop: Workshop) -> None:
    """Two years on, oil is due again and plugs are not."""
    then = datetime.fromisoformat(shop.now()) - timedelta(days=731)
    _say(shop, "base service done", at=then.strftime("%Y-%m-%dT%H:%M:%S.%fZ"))
    due = {due.name: due.why for due in base_service(shop.state(shop.jobs()[0].code)).due}
    assert due["oil and filter"] == "done 24 months ago"
    assert "plugs" not in due


def test_part_whose_name_holds_another_is_not_that_one(shop: Workshop) -> None:
    """New coils are no new oil, and a new fuel pump makes no old petrol fresh; new plugs are not due."""
    _say(shop, "new parts: coils, fuel pump, plugs")
    names = {due.name for due in base_service(shop.state(shop.jobs()[0].code)).due}
    assert {"oil and filter", "fresh fuel", "fuel filter"} <= names
    assert "plugs" not in names


def test_bundle_says_no_tightening_value(shop: Workshop) -> None:
    """Torque and grades are the car's own data."""
    words = " ".join(service_words(base_service(shop.state(shop.jobs()[0].code)), 40.0))
    assert "Nm" not in words
    assert words.startswith("Base service, as one: ")


def test_what_each_cylinder_has_is_done_with_the_last_of_them(shop: Workshop) -> None:
    """One new plug is no set of plugs; the day that counts is that of the first of the set."""
    code = shop.jobs()[0].code
    plugs = shop.library.services["plugs"]
    for number, day in ((3, "05"), (1, "06"), (2, "07")):
        _say(shop, f"replaced plug {number}", f"2026-01-{day}T09:00:00.000000Z")
        assert last_done(shop.state(code), plugs) == ""
    _say(shop, "replaced plug 4", "2026-01-08T09:00:00.000000Z")
    assert last_done(shop.state(code), plugs) == "2026-01-05T09:00:00.000000Z"


def test_pieces_that_lie_here_are_not_bought(shop: Workshop) -> None:
    """One plug on the shelf leaves three to buy."""
    _say(shop, "spare plug on the shelf")
    plugs = next(due for due in base_service(shop.state(shop.jobs()[0].code)).due if due.name == "plugs")
    assert plugs.money == 3 * load().parts["plug"].price


def test_what_comes_off_for_an_item_is_in_its_minutes(shop: Workshop) -> None:
    """Off and on again with all that is in its way, beside the item itself."""
    state = shop.state(shop.jobs()[0].code)
    (item,) = [one for one in base_service(state).due if one.name == "air filter"]
    record, graph = shop.library.services["air_filter"], access_graph(state)
    hands = graph.open_minutes(record.access) + graph.close_minutes(record.access)
    assert record.access == ("air_box_off",) and hands > 0.0
    assert item.minutes == pytest.approx(record.minutes + hands)


def test_car_that_was_not_said_to_have_stood_has_not(tmp_path: Path) -> None:
    """Fuel is not due, and nothing is due for having stood."""
    with Workshop(tmp_path, load()) as other:
        code = other.new("runner").code
        other.say(code, SOME)
        service = base_service(other.state(code))
    assert "fresh fuel" not in {due.name for due in service.due}
    assert not any("stood" in due.why for due in (*service.due, *service.belts))


def test_work_of_today_was_done_no_month_ago(shop: Workshop) -> None:
    """What is due by age is so by whole days."""
    code = shop.jobs()[0].code
    _say(shop, "base service done")
    oil = structs.replace(shop.library.services["oil_and_filter"], months=0.01)  # a third of a day
    assert _why_due_again(shop.state(code), oil, last_done(shop.state(code), oil)) == ""
