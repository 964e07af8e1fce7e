"""A step that cranks, runs or drives the car is advised with the looks that come before."""

from __future__ import annotations

from pathlib import Path

from knowngood.app.answer import NextStep
from knowngood.app.bench import may_of, say_of
from knowngood.app.gate_before import LEADS_THROUGH, shut_gates
from knowngood.app.workshop import Workshop
from knowngood.cli.show import step_lines
from knowngood.library.load import load
from knowngood.library.rules.work import ENGINE_STATES

LIBRARY = load()


def engine_of(step: NextStep) -> str:
    """What the engine does meanwhile."""
    check = LIBRARY.checks.get(step.what)
    return check.engine if check is not None else "off"


def test_step_names_the_gate_it_leads_through(tmp_path: Path) -> None:
    """A car that stood: some steps run the engine, and nobody has looked yet; then all was looked at."""
    with Workshop(tmp_path, LIBRARY) as workshop:
        code = workshop.new("stood").code
        workshop.say(code, "4 cylinders inline, stood 3 years, cranks slowly")
        steps = workshop.answer(code).next
        running = [step for step in steps if engine_of(step) == "idle"]
        assert running
        for step in running:
            assert (step.gate, step.before) == ("start", "May you start the engine? Not yet: 7 looks to make.")
        assert "   before that: May you start the engine? Not yet: 7 looks to make." in list(step_lines(running[0]))
        for step in steps:
            if engine_of(step) == "off":
                assert not step.gate, step.name
                assert not step.before, step.name
        for gate in dict.fromkeys(LEADS_THROUGH.values()):
            for look in may_of(workshop.state(code), gate).missing:
                workshop.say(code, say_of(LIBRARY.readings[look.kind]))
        assert shut_gates(workshop.state(code)) == {}
        assert not any(step.before for step in workshop.answer(code).next)


def test_limited_gate_says_what_may_be_done(tmp_path: Path) -> None:
    """All looks are good but that at the charge lamp: a short way."""
    with Workshop(tmp_path, LIBRARY) as workshop:
        code = workshop.new("limited").code
        for look in may_of(workshop.state(code), "road").missing:
            workshop.say(code, say_of(LIBRARY.readings[look.kind]))
        workshop.say(code, say_of(LIBRARY.readings["charge_look"]).replace("good", "bad"))
        gate, said = shut_gates(workshop.state(code))["driven"]
        assert gate == "road"
        assert said == f"May you drive it on the road? Limited: {LIBRARY.gates['road'].limited}"


def test_what_the_engine_does_is_known() -> None:
    """Every state of a check leads through a gate, but those in which it does not turn."""
    assert set(ENGINE_STATES) - set(LEADS_THROUGH) == {"off", "key on"}
