"""What holds for the whole workshop: kept, honoured, refused in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.settings import NAMES, Settings, setting, settings_view
from knowngood.app.tasks import problem_of
from knowngood.app.workshop import Workshop
from knowngood.errors import Refused
from knowngood.evidence.reading import Value
from knowngood.library.load import load
from knowngood.lines import read_line
from knowngood.lines.amounts import shown_in


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Of an empty workshop."""
    return tmp_path / "home"


def test_settings_are_kept(folder: Path) -> None:
    """Another program that opens the workshop finds them; a later one replaces an earlier one."""
    with Workshop(folder, load()) as shop:
        for name, value in (("compression", "psi"), ("compression", "bar"), ("Currency", "crowns"), ("rate", "55,5")):
            shop.set(name, value)
    with Workshop(folder, load()) as shop:
        told = shop.settings()
        assert shop.jobs() == []
    assert told == Settings(units={"compression": "bar"}, currency="crowns", rate_per_hour=55.5)


def test_settings_go_along_with_an_export_and_join(folder: Path, tmp_path: Path) -> None:
    """Two workshops that both have some take in each other's; the one typed last holds."""
    with Workshop(folder, load()) as here, Workshop(tmp_path / "there", load()) as there:
        here.set("rate", "50")
        there.set("rate", "60")
        there.set("night", "yes")
        here.take_in(there.export().encode(), "there.jsonl")
        assert (here.settings().rate_per_hour, here.settings().night) == (60.0, True)


def test_hour_is_worth_what_was_said(folder: Path) -> None:
    """The planner counts at it, and an answer worked out before is not shown again."""
    with Workshop(folder, load()) as shop:
        car = shop.new("van").code
        for line in ("4 cylinders inline", "P0304", "shakes at idle"):
            shop.say(car, line)
        before = shop.answer(car).next[0].cost
        shop.set("rate", "80")
        assert problem_of(shop.state(car)).rate_per_hour == 80.0
        assert shop.answer(car).next[0].cost > before


# 12.1 bar = 175.5 psi: NIST SP 811, appendix B.8, 1 psi = 6.894757 kPa
@pytest.mark.parametrize(
    ("line", "unit", "said"),
    [
        ("comp 1 175 psi", "bar", "12.1 bar (175 psi)"),
        ("comp 1 175 psi", "psi", "175 psi"),
        ("comp 1 over 12 bar", "psi", "over 170 psi (over 12 bar)"),
        ("comp 1 175 psi", "", "175 psi"),
        ("coolant 90 C", "degF", "194 °F (90 °C)"),
        ("plug gap 0.8 mm", "in", "0.03 in (0.8 mm)"),
    ],
)
def test_reading_in_the_unit_that_is_wanted(line: str, unit: str, said: str) -> None:
    """About as fine as it was typed, what was typed behind it."""
    from knowngood.car import Car

    body = read_line(line, Car(), load()).bodies[0]
    assert shown_in(body.value, load().readings[body.kind].quantity, unit) == said  # type: ignore[union-attr]


def test_unit_of_a_kind_and_its_family() -> None:
    """Compression goes by its own setting, fuel pressure by that of the other pressures."""
    told = Settings(units={"compression": "psi", "pressure": "bar", "gap": "in"})
    assert [told.unit_of(kind) for kind in ("compression", "fuel_pressure", "gap", "voltage", "nosuch")] == [
        "psi",
        "bar",
        "in",
        "",
        "",
    ]


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        (
            "colour",
            "red",
            "There is no setting 'colour'. Settings: compression, pressure, temperature, gap, air flow, currency, "
            "rate, night.",
        ),
        ("compression", "V", "'V' is no unit compression is shown in. Units: psi, bar, kPa, as typed."),
        (
            "currency",
            "12 crowns",
            "'12 crowns' is no word to stand behind money. Type up to 12 letters or signs, without digits.",
        ),
        ("rate", "-5", "An hour cannot be worth -5. Type the money of an hour, 0 to 100000."),
        ("night", "maybe", "Night is yes or no; 'maybe' was typed. Type yes or no."),
    ],
)
def test_setting_that_cannot_be_is_refused(name: str, value: str, words: str) -> None:
    """What is so, then what to type."""
    with pytest.raises(Refused) as refused:
        setting(name, value)
    assert str(refused.value) == words


def test_number_typed_for_a_reading_of_words_keeps_its_unit() -> None:
    """60 psi after a spoon of oil is no "413.7"."""
    assert shown_in(Value(413.685, unit="psi", step=6.894757), "", "bar") == "60 psi"


def test_form_of_the_settings_offers_what_each_can_be() -> None:
    """Yes or no, units, or a field to type in."""
    view = {one.name: one for one in settings_view(Settings(units={"compression": "bar"}, night=True))}
    assert list(view) == list(NAMES)
    assert (view["night"].now, view["night"].choice) == ("yes", (("no", "no"), ("yes", "yes")))
    assert view["currency"].choice == view["rate"].choice == ()
    assert view["compression"].now == "bar"
    assert view["compression"].choice[0] == ("as typed", "as typed")
    assert ("bar", "bar") in view["compression"].choice
    assert view["temperature"].choice[1:] == (("degC", "°C"), ("degF", "°F"))
