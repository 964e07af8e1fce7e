"""Topics of cooling and oil."""

from __future__ import annotations

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_shown import chance, in_unit_of, judged, measured, plus_minus, said
from knowngood.app.measuring_topic import Checked, Field, Outcome, Topic
from knowngood.measure.boiling import boiling_point
from knowngood.measure.cooling import RUNNING_C, boiling_margin, coolant_standing, thermostat_test
from knowngood.measure.freezing import freezing_point
from knowngood.measure.oil import NORMAL_C, oil_standing

HOT_CAUTION = "Never open a hot system: it boils out the moment its pressure is let go. Coolant is poison; catch it."


def _boiling(given: Given) -> Outcome:
    coolant, cap, glycol = given.value("coolant"), given.value("cap"), given.value("glycol")
    margin = boiling_margin(
        coolant,
        cap,
        glycol,
        given.value("altitude"),
        given.word("kind"),
        coolant_se_c=given.se("coolant", 2.0),
        cap_se_kpa=given.se("cap", 7.0),
        glycol_se_pct=given.se("glycol", 3.0),
    )
    outcome = Outcome(
        f"{margin.pressure_kpa:.0f} kPa in the system; {margin.boiling_c:.0f} °C - {coolant:.0f} °C",
        [
            in_unit_of(given, "coolant", "boils at", margin.boiling_c, margin.boiling_se_c),
            measured("left to boiling", margin.margin_c, margin.margin_se_c, "K"),
            said("chance that it boils now", chance(margin.boils_chance)),
        ],
        checked=[Checked("coolant", coolant, given.se("coolant", 2.0))],
    )
    near = abs(margin.margin_c) < 2.0 * margin.margin_se_c
    text = f"{plus_minus(margin.margin_c, margin.margin_se_c, 'K')} left to boiling"
    outcome.verdicts.append(judged(None if near else margin.margin_c > 0.0, text, "boiling of the mixture as reckoned"))
    return outcome


def _freezing(given: Given) -> Outcome:
    glycol = given.value("glycol")
    found, se = freezing_point(glycol, given.word("kind"))
    working = f"{glycol:g} % {given.word('kind')} glycol, between the rows of the table"
    return Outcome(working, [measured("first ice at", found, se, "°C")], checked=[Checked("first ice", found, se)])


def _thermostat(given: Given) -> Outcome:
    stamp, opens = given.value("stamp"), given.value("opens")
    found = thermostat_test(
        stamp, opens, given.value_or_none("full"), thermometer_se_c=given.worst_se(("opens", "full"), 1.0)
    )
    outcome = Outcome(
        f"{opens:g} °C - {stamp:g} °C",
        [measured("start off the stamp", found.start_off_c, found.se_c, "K"), said("kind", found.kind)],
        checked=[Checked("opens", opens, given.se("opens", 1.0))],
    )
    for name, word in (("start", found.start), ("full", found.full)):
        if word != "not tested":
            good = None if word == "cannot tell" else word in ("as stamped", "as it should be")
            outcome.verdicts.append(judged(good, f"{name}: {word}", "common practice, start within 2 °C from memory"))
    return outcome


def _coolant(given: Given) -> Outcome:
    coolant, minutes = given.value("coolant"), given.value("time", "min")
    word = coolant_standing(coolant, minutes)
    good = {"still cold": None, "usual": True, "usual when hot or loaded": True}.get(word, False)
    return Outcome(
        f"{coolant:g} °C {minutes:g} min after the start",
        [said("the coolant is", word)],
        [judged(good, f"{word}; {RUNNING_C[0]:g} to {RUNNING_C[1]:g} °C is usual when warm", "common practice")],
        [Checked("coolant", coolant, given.se("coolant", 2.0))],
    )


def _oil(given: Given) -> Outcome:
    oil = given.value("oil")
    word = oil_standing(oil)
    good = {"usual": True, "cool": None, "warm": True}.get(word, False)
    return Outcome(
        f"{oil:g} °C, engine warm",
        [said("the oil is", word)],
        [judged(good, f"{word}; {NORMAL_C[0]:g} to {NORMAL_C[1]:g} °C is usual", "common practice, from memory")],
        [Checked("oil", oil, given.se("oil", 2.0))],
    )


_KIND = Field("kind", "word", "of glycol", needed=False, assumed="ethylene", words=("ethylene", "propylene"))

TOPICS = (
    Topic(
        "boiling", "how far the coolant is from boiling under its cap",
        (
            Field("coolant", "coolant_temperature", "hottest met"),
            Field("cap", "cap_pressure", "what the cap holds; 0 when open"),
            Field("glycol", "share", "glycol by volume"),
            Field("altitude", "height", needed=False, assumed="0 m"),
            _KIND,
        ),
        "pressure = air around + cap; vapour = share of water x water's + share of glycol x glycol's",
        _boiling, (boiling_margin, boiling_point), "112C 16psi 50% --altitude 1500m", window="coolant_temperature",
        source="IAPWS Industrial Formulation 1997 for water",
        slips=("a cap that no longer holds", "glycol guessed: measure it"),
        cautions=(HOT_CAUTION,),
    ),
    Topic(
        "freezing", "temperature at which the first ice forms",
        (Field("glycol", "share", "glycol by volume"), _KIND),
        "straight lines between the points of a table",
        _freezing, (freezing_point,), "45%", window="outside_temperature",
        slips=("refractometer read on the scale of the other glycol", "old or mixed coolant"),
        cautions=(HOT_CAUTION,),
    ),
    Topic(
        "thermostat", "a thermostat in a pot of water, against its stamp",
        (
            Field("stamp", "coolant_temperature", "stamped on it"),
            Field("opens", "coolant_temperature", "water at the first gap", meter_of="stamp"),
            Field("full", "coolant_temperature", "water at which it no longer moves", needed=False, meter_of="stamp"),
        ),
        "off = opens - stamp",
        _thermostat, (thermostat_test,), "88C 80C --full 90C", window="coolant_temperature",
        slips=("water not stirred", "thermostat or thermometer on the floor of the pot"),
        cautions=("Boiling water scalds: tongs, goggles.",),
    ),
    Topic(
        "coolant", "where the coolant of a running engine stands",
        (Field("coolant", "coolant_temperature"), Field("time", "work_time", "since the start")),
        "temperature against the usual span of a warm engine",
        _coolant, (coolant_standing,), "71C 25min", window="coolant_temperature",
        slips=("a sensor that lies taken for a cold engine",),
        cautions=(HOT_CAUTION,),
    ),
    Topic(
        "oil", "where the oil temperature of a warm engine stands",
        (Field("oil", "coolant_temperature", "of the oil"),),
        "temperature against the usual span",
        _oil, (oil_standing,), "104C", window="coolant_temperature",
        slips=("temperature of the sump's wall taken for the oil's",),
    ),
)  # fmt: skip
