"""The planner's advice in words: what, where, how long, why, what each answer leads to."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import msgspec

from knowngood.app.answer import AfterAnswer, Asked, NextStep
from knowngood.app.found_first import is_needed
from knowngood.app.gate_before import Shut, shut_gates
from knowngood.app.killed import held_words
from knowngood.app.led_to_anyway import led_to, without_needless_checks
from knowngood.app.may_break import step_words
from knowngood.app.meanwhile import awaited_words, meanwhile
from knowngood.app.near_steps import by_telling
from knowngood.app.opens_gate import gate_opened
from knowngood.app.state import State, seed_of
from knowngood.app.tasks import problem_of
from knowngood.app.told_apart import told_apart
from knowngood.app.verbs import imperative
from knowngood.app.waiting import wait_words
from knowngood.app.what_it_tells import likely_then, what_it_tells
from knowngood.car import ENGINE
from knowngood.planner.advice import Advice, After, Flip, Step, advise
from knowngood.planner.problem import CheckAt, Problem, Repair
from knowngood.sheets.words import in_words, minutes, money, small

SHOWN_STEPS, SHOWN_ANSWERS = 12, 5
FAR_OFF = 4.0  # times what a step takes or costs: a change of advice beyond that decides nothing and is not said
WORTH_SAYING = 0.15  # chance that a part is dead from which on it is said that its replacement waits
IN_VAIN_IS_LESS = "Looking first would cost more than doing it for nothing."
NEXT_ANYWAY = "Whatever a look first would say, this would come next."
AS_GOOD = "about the same, and nothing is done in vain"
MOSTLY_WORKS = 0.5  # chance that a repair works, from which on it is not said how often
LEAST_FLIP = {"minutes": 10.0, "money": 5.0}


@dataclass(frozen=True)
class Advised:
    """The planner's problem for a state, and its advice."""

    problem: Problem
    advice: Advice


def advised(state: State) -> Advised | None:
    """What the planner says; ``None`` while nothing is known to be wrong."""
    problem = problem_of(state)
    if not problem.must:
        return None
    return Advised(problem, advise(problem, seed=seed_of(state.entries)))


def next_steps(state: State, told: Advised | None) -> list[NextStep]:
    """Steps to do next, best first; none while nothing is known to be wrong."""
    if told is None:
        return []
    problem, advice = told.problem, told.advice
    planned = without_needless_checks(
        by_telling(state, problem, advice.steps, advice.spared_by, advice.unlooked), advice.foretold
    )
    steps = meanwhile(state, problem, planned)
    if steps[0].action is not advice.steps[0].action:
        advice = replace(advice, toss_up=not isinstance(steps[0].action, Repair), flips=())
    steps = steps[:SHOWN_STEPS]
    advice = replace(advice, steps=steps)
    shut = shut_gates(state)
    told_steps = [_in_words(state, problem, advice, step, shut, first=index == 0) for index, step in enumerate(steps)]
    if waiting := awaited_words(problem, steps, planned):
        told_steps[0] = msgspec.structs.replace(told_steps[0], against_replace=waiting, toss_up=False, flips=[])
    return told_steps


def refused_steps(state: State, told: Advised | None) -> list[str]:
    """Replacements that wait until it is known what killed the old part, with what answers it.

    Said of a part that is likely dead, or where the question is what comes next; of others it would be noise.
    """
    if told is None:
        return []
    first = told.advice.steps[0].action
    held = [
        one
        for one in told.advice.held
        if one.check == first or state.belief.chance_of_any(one.repair.fixes) >= WORTH_SAYING
    ]
    return [held_words(state, one, _named(one.check) if one.check is not None else "") for one in held]


def _named(action: CheckAt) -> str:
    says_where = action.place == ENGINE or action.after is not None  # a swap names both places by itself
    return action.name if says_where else f"{action.name}, {action.place}"


def _in_words(state: State, problem: Problem, advice: Advice, step: Step, shut: Shut, *, first: bool) -> NextStep:
    action = step.action
    gate, before = shut.get(_engine(state, action), ("", ""))
    cautions = action.cautions if isinstance(action, CheckAt) else _repair_cautions(state, step)
    return NextStep(
        do=action.kind if isinstance(action, CheckAt) else imperative(action.do),
        what=action.id if isinstance(action, CheckAt) else action.part,
        name=_named(action) if isinstance(action, CheckAt) else action.name,
        place=",".join(map(str, action.places if isinstance(action, Repair) else (action.place,))),
        minutes=round(float(step.minutes), 1),
        money=round(float(step.money), 2),
        cost=round(float(step.cost), 2),
        why=_why(state, problem, advice, step),
        answers=_answers(state, step.after[:SHOWN_ANSWERS], known=first or advice.exact),
        cautions=[state.library.cautions[name].text for name in cautions if name in state.library.cautions],
        tools=_tools(state, action.id) if isinstance(action, CheckAt) else [],
        opens=[step_words(state.library.access[name]) for name in step.opens],
        off=list(step.opens),
        against_replace=_against(advice, step) if first else "",
        flips=_flips(advice, step) if first else [],
        toss_up=first and bool(advice.toss_up),
        reads=[Asked(ask.reading, str(ask.place)) for ask in action.asks] if isinstance(action, CheckAt) else [],
        sure=_sure(advice, step) if first else "",
        wait=wait_words(problem, action),
        gate=gate,
        before=before,
    )


def _engine(state: State, action: CheckAt | Repair) -> str:
    """What the engine does meanwhile."""
    check = state.library.checks.get(action.id) if isinstance(action, CheckAt) else None
    return check.engine if check is not None else "off"


def _repair_cautions(state: State, step: Step) -> tuple[str, ...]:
    if isinstance(step.action, CheckAt):
        return ()
    faults = {at.fault for at in step.action.fixes}
    return tuple(dict.fromkeys(name for fault in sorted(faults) for name in state.library.faults[fault].cautions))


def _tools(state: State, check: str) -> list[str]:
    record = state.library.checks.get(check)
    if record is None:
        return []
    tools = state.library.tools
    return [
        (tools[name].name if name in tools else name) + ("" if state.has_tool(name) else " (not at hand)")
        for name in record.tools
    ]


def _why(state: State, problem: Problem, advice: Advice, step: Step) -> str:
    """The reason: for a check, what it tells; for a repair, how likely it ends something."""
    if isinstance(step.action, CheckAt):
        return what_it_tells(state, step)
    any_of = state.belief.chance_of_any(step.action.fixes)
    if (gate := gate_opened(state, step)) is not None:
        return f"It was found not as it should be; until it is put right do not {gate.name}."
    if is_needed(state, step):
        return "It is needed in any case, and what is read after it is read without that fault."
    likely = in_words(any_of)
    why = f"{likely[:1].upper()}{likely[1:]} that something is wrong there, and {_rights(step.action)}."
    if step.action.refund >= 1.0:
        why = f"{why} About {money(step.action.refund)} of it comes back if nothing was."
    if not _before_its_price(advice, step):
        return why
    return f"{why} {NEXT_ANYWAY if led_to((advice.steps[1], step)) else IN_VAIN_IS_LESS}"


def _rights(repair: Repair) -> str:
    """That a repair puts right what is wrong; how often, where that is not nearly always."""
    return "this puts it right" if repair.works >= MOSTLY_WORKS else f"this puts it right {in_words(repair.works)}"


def _before_its_price(advice: Advice, step: Step) -> bool:
    """Whether a repair stands first though a check leads to as little money: see :mod:`knowngood.app.made_anyway`."""
    return step is advice.steps[0] and any(other.cost < step.cost for other in advice.steps)


def _answers(state: State, after: Sequence[After], *, known: bool) -> list[AfterAnswer]:
    said = told_apart([one.outcome for one in after])
    return [_answer(state, one, words, known=known) for one, words in zip(after, said, strict=True)]


def _answer(state: State, after: After, words: str, *, known: bool) -> AfterAnswer:
    """What an answer makes likely, and where it is ``known`` what is done next then."""
    leading = likely_then(state, after)
    do = ""
    if known:
        step = after.check or after.repair
        do = "prove it on the road" if step is None else step.name
    then = f"{leading}; then {small(do)}" if do else leading
    return AfterAnswer(words, round(float(after.chance), 4), then, do)


def _against(advice: Advice, step: Step) -> str:
    if not isinstance(step.action, CheckAt) or not advice.order:
        return ""
    saved = advice.replace_now - step.cost
    order = ", then ".join(repair.name for repair in advice.order[:2])
    return (
        f"This way about {money(step.cost)} to the end; {order} without looking about {money(advice.replace_now)}"
        f": {f'{money(saved)} saved' if saved >= 1 else AS_GOOD}."
    )


def _flips(advice: Advice, step: Step) -> list[str]:
    """At which minutes or price another step comes first, and which."""
    if len(advice.steps) < 2:
        return []
    if advice.toss_up:
        return [f"A toss-up with: {small(advice.steps[1].action.name)}. Take what suits you."]
    return [_flip(flip, step) for flip in advice.flips if _near(flip)]


def _near(flip: Flip) -> bool:
    """Whether it may come to that: up to ten minutes, or four times its own."""
    least = LEAST_FLIP[flip.quantity]
    return flip.now / FAR_OFF <= flip.at <= max(FAR_OFF * flip.now, least) + 1e-9


def _flip(flip: Flip, step: Step) -> str:
    then = small(flip.then.name)
    if flip.action is not step.action:
        return f"Were it to cost under {money(flip.at)} in parts, I would not look first: {then}."
    if flip.quantity == "minutes":
        return f"If this took over {minutes(flip.at)}, this would come first: {then}."
    return f"If it cost over {money(flip.at)} in parts, this would come first: {then}."


def _sure(advice: Advice, step: Step) -> str:
    """How well the price is known, and how far from the best plan it can be."""
    said = []
    if step.error is not None and step.error >= 0.5:
        said.append(f"The price is good to about {money(step.error)} either way.")
    if advice.within is not None:
        said.append(f"No plan can be better by more than {math.ceil(100 * advice.within):d} %.")
    if advice.left_out:
        most = math.ceil(100 * advice.left_out[0])
        number = len(advice.left_out)
        said.append(f"{number} repairs are not in the price: none is needed more often than {most} in 100.")
    return " ".join(said)
