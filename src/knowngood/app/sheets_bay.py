"""Sheets to work with in the bay: arrival, the row of cylinders, next steps, before closing, the road test."""

from __future__ import annotations

from knowngood.app.after_work import still_to_settle
from knowngood.app.answer import Answer
from knowngood.app.bench import may_of, say_of, undone_words
from knowngood.app.caution_sources import caution_sources
from knowngood.app.closing import touched_words
from knowngood.app.pieces import repairs_made
from knowngood.app.plan_view import plan_of_engine
from knowngood.app.repair_order import repair_order
from knowngood.app.road_drive import FOOT, road_looks_to_say, road_watch
from knowngood.app.service import base_service, service_offer
from knowngood.app.state import State
from knowngood.library.drive import STRETCHES
from knowngood.library.fitted_on import may_have
from knowngood.lines.echo import tightening_words
from knowngood.sheets.plan_picture import plan_picture
from knowngood.sheets.sheet import Block, Items, Lines, Picture, Sheet, Table, Words
from knowngood.sheets.words import in_words, minutes, money

TYPED_BACK = "What is written is typed back as lines; the words in quotes are understood as they stand."
FROM_THE_DATA = (
    "Tightening values, gaps and limits come from the car's own data; none stands here. Say one and it does: "
    "'plugs 25 Nm'."
)
DATA_GIVEN = (
    "What else is tightened, gapped or limited comes from the car's own data. A dry value is for dry threads; bolts "
    "that are tightened by angle are new ones unless the maker allows them again."
)
ASKED = (
    ("drive", "petrol, hybrid, gas"),
    ("cylinders", "count; inline, V or flat"),
    ("ignition", "coil on plug, coil and lead, pair coil, distributor"),
    ("injection", "port, single point, direct"),
    ("air", "flow meter or manifold pressure; turbo"),
    ("km, year", ""),
    ("stood", "years, where; animals, water"),
    ("done last", "what, by whom"),
    ("new parts", "which"),
)
ROW_READINGS = ("compression", "plug_look", "plug_gap", "lead_resistance", "coil_primary", "injector_resistance")
SHOWN_NOTES = 3
SHOWN_STEPS, ANSWERS = 3, 3


def arrival_sheet(state: State, date: str) -> Sheet:
    """Empty boxes for a car that comes in: what it is, its story, and the looks before the battery and the crank."""
    looks = [
        f"{look.name}: say '{say_of(state.library.readings[look.kind])}'"
        for gate in ("battery", "crank")
        for look in may_of(state, gate).looks
    ]
    return Sheet(
        title="Arrival",
        car=state.name,
        date=date,
        blocks=(
            Table("The car", ("say", "as", "write"), tuple((*row, "") for row in ASKED), to_fill=True),
            Lines("What it does, in the driver's words: cold, hot, wet, under load; since when", 4),
            Items("Look before the battery is connected and the engine is turned", tuple(looks), boxes=True),
        ),
        foot=TYPED_BACK,
    )


def row_sheet(state: State, date: str) -> Sheet:
    """A line for each cylinder and a column for each reading that can be taken of the row."""
    kinds = [state.library.readings[name] for name in ROW_READINGS if _is_fitted(state, name)]
    head = ("cylinder", *(kind.says[0] for kind in kinds))
    rows = tuple((str(number), *("" for _ in kinds)) for number in state.layout.numbers())
    example = f"{kinds[0].says[0]} " + " ".join("175" for _ in state.layout.numbers())
    return Sheet(
        title="The row of cylinders",
        car=state.name,
        date=date,
        blocks=(
            plan_of(state),
            Table("", head, rows, to_fill=True),
            Words(f"A column is typed back as one line, - for one not measured: {example}", small=True),
            Lines("Units, instrument, engine hot or cold, throttle, battery", 1),
        ),
        foot=TYPED_BACK,
    )


def next_sheet(state: State, answer: Answer, date: str) -> Sheet:
    """The next step with its reason and what each answer leads to, two more in short; cautions once; lines to write."""
    blocks: list[Block] = []
    steps = answer.next[:SHOWN_STEPS]
    for number, step in enumerate(steps, start=1):
        price = f", {money(step.money)} in parts" if step.money else ""
        blocks.append(Words(f"{number}. {step.name} ({minutes(step.minutes)}{price})", strong=True))
        with_words = [f"With: {', '.join(step.tools)}."] if step.tools else []
        off = [f"Comes off first: {', '.join(step.opens)}."] if step.opens else []
        blocks.append(Words(" ".join([*with_words, *off, step.why])))
        if number == 1 and step.answers:
            shown = step.answers[:ANSWERS]
            rows = tuple((f"{each.answer} ({in_words(each.chance)})", each.then) for each in shown)
            blocks.append(Table("", ("if it shows", "then"), rows))
        blocks.append(Lines("", 1))
    offer = service_offer(state, base_service(state))
    if offer:
        blocks.append(Words(offer))
    cautions = tuple(dict.fromkeys(text for step in steps for text in step.cautions))
    if cautions:
        blocks.append(Items("Cautions", cautions, small=True))
        sources = caution_sources(state.library, cautions)
        blocks += [Words(sources, small=True)] if sources else []
    if not blocks:
        blocks = [Words("Nothing to do is known yet. Say what the car does.")]
    return Sheet(title="Next steps", car=state.name, date=date, blocks=tuple(blocks), foot=TYPED_BACK)


def closing_sheet(state: State, date: str) -> Sheet:
    """What to look at before what is apart goes together, and what must be put right before the key is turned."""
    library = state.library
    worth = [
        f"{library.checks[name].name} ({minutes(library.checks[name].minutes)}); open: {library.access[step].name}"
        for step in sorted(state.open_access)
        if step in library.access
        for name in library.access[step].before_closing
        if name in library.checks
    ]
    offers = repair_order(state).offers if state.open_access else []
    tightening = tuple(
        f"{what}: {tightening_words(told)} ({told.source})" for what, told in state.car.tightening.items()
    )
    settle = still_to_settle(state, [index for indexes in repairs_made(state) for index in indexes])
    undone = [f"put right: {undone_words(one.what, str(one.place))}" for one in state.undone]
    blocks = [
        Items("Worth its minutes while it is open", tuple(dict.fromkeys(worth)), boxes=True),
        Items("Cheaper now than later", tuple(f"{offer.name}: {offer.why}" for offer in offers), boxes=True),
        Items("What the work touched", tuple(touched_words(state)), boxes=True),
        Items("Left as it must not stay", tuple(undone), boxes=True),
        Items("Before what it then does counts", tuple(settle), boxes=True),
        Items(
            "Last of all",
            (
                "every plug, clip, hose clamp and ground back, also where nobody worked",
                "firing order followed from coil to plug"
                + (f": {'-'.join(map(str, state.layout.firing_order))}" if state.layout.firing_order else ""),
                "no rag, no tool, no bolt left over",
                "fuel, coolant, oil: up to the mark, tight",
            ),
            boxes=True,
        ),
        Items("Tightened to, from the car's data", tightening, boxes=True),
    ]
    kept = tuple(block for block in blocks if block.rows)
    return Sheet(
        title="Before closing", car=state.name, date=date, blocks=kept, foot=DATA_GIVEN if tightening else FROM_THE_DATA
    )


def road_sheet(state: State, answer: Answer, date: str) -> Sheet:
    """The looks before the road, what to provoke, and where to write what it did."""
    looks, watch = road_looks_to_say(state), road_watch(answer)
    blocks = (
        Items("Not before each of these was looked at and is good", looks or ("every look is good",), boxes=True),
        Items("Still suspected: provoke it", watch or ("nothing",)),
        Table(
            "The drive",
            ("part of it", "minutes", "what it did"),
            tuple((stretch.name, "", "") for stretch in STRETCHES),
            to_fill=True,
        ),
        Lines("Codes, trims, gauge, smell, noise", 3),
    )
    return Sheet(title="Road test", car=state.name, date=date, blocks=blocks, foot=f"{FOOT} {TYPED_BACK}")


def plan_of(state: State) -> Picture:
    """The plan of this engine with the latest readings and the strokes of suspicion."""
    view = plan_of_engine(state)
    cylinders = sorted((one for _, bank in view.banks for one in bank), key=lambda one: one.number)
    notes = {one.number: [f"{name} {said}" for name, said in one.readings[-SHOWN_NOTES:]] for one in cylinders}
    words = tuple(
        f"cylinder {one.number}: {'; '.join(notes[one.number]) or 'nothing read'}{f'; {one.word}' if one.word else ''}"
        for one in cylinders
    )
    svg = plan_picture(
        state.layout.banks,
        state.layout.sides,
        view.firing_order,
        notes,
        {one.number: round(10 * one.chance) for one in cylinders},
    )
    return Picture("The engine from above", svg, words)


def _is_fitted(state: State, reading: str) -> bool:
    record = state.library.readings.get(reading)
    return record is not None and may_have(record, state.car, state.library)
