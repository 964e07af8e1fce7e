"""What the engine can be made to do now: no idle is watched on one that does not start, or that must not run."""

from __future__ import annotations

from knowngood.app.bench import looks_of, may_of
from knowngood.app.compression_row import low_cylinders
from knowngood.app.state import State
from knowngood.belief.assemble import STILL_THERE
from knowngood.belief.clues import RUNNING as RUNNING_REGIMES
from knowngood.belief.priors import has_stood
from knowngood.belief.protocol import Ask
from knowngood.car import ENGINE, Place
from knowngood.evidence import Reading, Work
from knowngood.library.healthy import UNTOLD
from knowngood.library.records import Fault, Library
from knowngood.planner.gates import RUN
from knowngood.planner.problem import CheckAt

RUNNING = ("idle", "held at speed", "driven")
CRANKED = ("cranked",)
POWERED = ("key on", "key at start", *CRANKED, *RUNNING)
NO_START = {
    ("starting", "fires and dies"): RUNNING,
    ("starting", "cranks dead"): RUNNING,
    ("starting", "no crank"): (*RUNNING, *CRANKED),
    ("cranks_dead", "yes"): RUNNING,
    ("fires_and_dies", "yes"): RUNNING,
    ("does_not_crank", "yes"): (*RUNNING, *CRANKED),
}
UNLIKELY = 0.8  # chance of not starting above which nothing is planned on the running engine; below it, trying is quick
FLAT_FROM = 0.9  # chance of a flat battery from which on nothing is planned that needs it
BATTERY = "battery"
TURNS = "turns"
# Until these are put right the engine is not run (until_then): too high a voltage kills computers.
KEEPS_IT_OFF = {"overcharge": RUNNING, "bearing_and_oil": RUNNING, "no_coolant": RUNNING, "nest": RUNNING}
KEEPS_IT_OFF_FROM = 0.3
# Nor while one of these looks is bad, whatever is likely: no oil pressure, no oil, no coolant.
NEVER_RUN_ON = ("oil_pressure_look", "oil_there_look", "coolant_there_look")
# Nor is it cranked while fuel leaks, or is smelt and nobody has looked where it is.
LEAKS, SMELT = "fuel_tight_look", "fuel_smell_look"
LOOKED_FOR = (LEAKS, "fuel_leak_look")
BURNS = "burn"
DRIVEN_FAR = "fifty"  # the stage after 50 km


def impossible_now(state: State) -> frozenset[str]:
    """States of the engine that a check may need and that it does not come to, by what was said last.

    A reading said to be taken on the running engine ends it. Work of which nobody said that it changed nothing leaves
    it to the belief: a mended wire is no reason to plan for a running engine where there still is no spark.
    """
    out: frozenset[str] = frozenset()
    worked_since = False
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Work):
            worked_since = worked_since or body.effect not in STILL_THERE
        elif isinstance(body, Reading) and not body.doubt:
            if (body.kind, body.word) in NO_START:
                out, worked_since = frozenset(NO_START[body.kind, body.word]), False
            elif _ran(body):
                out = frozenset()
    return out & _unlikely_now(state) if out and worked_since else out


def _unlikely_now(state: State) -> frozenset[str]:
    """States of the engine that it hardly comes to, by all that is known."""
    ask = Ask("starting", ENGINE)
    chances, _ = state.belief.outcome_chances(ask)
    shut: dict[str, float] = {}
    for word, chance in zip(state.belief.outcomes(ask), chances, strict=True):
        for one in NO_START.get(("starting", word), ()):
            shut[one] = shut.get(one, 0.0) + float(chance)
    return frozenset(one for one, chance in shut.items() if chance > UNLIKELY)


def without_power(state: State) -> frozenset[str]:
    """States of the engine that need the battery, where that is as good as known to be flat.

    No lamp is looked at on 3 V. What was read on the running engine since the battery was read ends it: it was jumped.
    """
    for entry in reversed(state.entries):
        body = entry.body
        if isinstance(body, Reading) and not body.doubt and _ran(body):
            return frozenset()
        if isinstance(body, Reading) and body.kind in state.library.readings and _is_of_battery(state, body.kind):
            break
    flat = [at for at in state.belief.faults if _empties(state.library.faults[at.fault])]
    return frozenset(POWERED) if state.belief.chance_of_any(flat) >= FLAT_FROM else frozenset()


def _is_of_battery(state: State, kind: str) -> bool:
    record = state.library.readings[kind]
    return BATTERY in (record.on, *record.inputs)


def _empties(fault: Fault) -> bool:
    """Whether a fault leaves the battery flat, whatever went before."""
    return any(act.on == BATTERY and act.level == "flat" and not act.only for act in fault.acts)


def must_not_run(state: State) -> frozenset[str]:
    """States of the engine that are not advised: a look says so, or what running it makes a danger is likely behind.

    None where the library has no gate before the engine runs.
    """
    if RUN not in state.library.gates:
        return frozenset()
    bad = {look.kind for look in may_of(state, RUN).closing}
    out = frozenset(RUNNING) if bad & {*NEVER_RUN_ON} else frozenset[str]()
    if LEAKS in bad or fuel_smelt(state):
        out |= frozenset((*CRANKED, *RUNNING))
    for until, states in KEEPS_IT_OFF.items():
        record = state.library.until_then.get(until)
        if record is not None and any(
            chance >= KEEPS_IT_OFF_FROM and at.fault in record.faults
            for at, chance in zip(state.belief.faults, state.behind, strict=True)
        ):
            out |= frozenset(states)
    return out


def fuel_smelt(state: State) -> bool:
    """Whether fuel was smelt, not at the tail pipe, and since then neither looked for nor worked on."""
    smelt = False
    for look in looks_of(state):
        if look.kind == SMELT:
            smelt = look.word == state.library.readings[SMELT].words[-1] and not look.disturbed
        elif look.kind in LOOKED_FOR:
            smelt = False
    return smelt


def looks_for_fuel(check: CheckAt) -> bool:
    """Whether a check looks where fuel comes from."""
    return any(ask.reading in LOOKED_FOR for ask in check.asks)


def only_says_which(state: State) -> frozenset[str]:
    """Kinds of reading that only compare how cylinders burn, where it is known already which one does not.

    A code has named it, or its compression is far under the others'.
    """
    named: set[Place] = set()
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Work):
            named.clear()
        elif isinstance(body, Reading) and body.kind == "code" and body.place.kind == "cylinder" and not body.doubt:
            named.add(body.place)
    if len(named | low_cylinders(state.entries)) != 1:
        return frozenset()
    return frozenset(kind.id for kind in state.library.readings.values() if kind.on == BURNS and kind.relative)


def only_says_it_turns(state: State) -> frozenset[str]:
    """Kinds of reading that only say whether the engine turns by hand, where it runs and has not stood for long."""
    runs = any(isinstance(entry.body, Reading) and not entry.body.doubt and _ran(entry.body) for entry in state.entries)
    if not runs or has_stood(state.car) or impossible_now(state) & {*CRANKED}:
        return frozenset()
    by_word = (kind for kind in state.library.readings.values() if kind.words and not kind.direct)
    return frozenset(kind.id for kind in by_word if {kind.on, *kind.inputs} - {""} == {TURNS})


def _ran(reading: Reading) -> bool:
    if reading.kind == "starting":
        return reading.word not in UNTOLD
    return any(word in RUNNING_REGIMES for word in reading.conditions)


def only_after_a_drive(library: Library) -> frozenset[str]:
    """Readings that set the car after 50 km against how it stood before them.

    Said in two minutes, but only of a car that was driven so far: they belong to that stage and are no way to find out
    what is wrong with one that stands in the bay.
    """
    stage = library.stages.get(DRIVEN_FAR)
    return frozenset(stage.looks) if stage is not None else frozenset()
