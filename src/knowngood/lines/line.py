"""One line of typing or speech into the bodies of entries."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import msgspec

from knowngood.car import Car
from knowngood.errors import Problem, Refused
from knowngood.evidence import CarFact, Note, Reading
from knowngood.library.records import Library
from knowngood.lines.bay import read_access, read_stock, read_tool, read_undone
from knowngood.lines.carfacts import read_car, read_history, read_told_work
from knowngood.lines.codes import read_cleared, read_codes, read_no_codes
from knowngood.lines.echo import echo_of
from knowngood.lines.elements import Element, elements_of
from knowngood.lines.outcomes import fitted_word, healthy_word
from knowngood.lines.phrases import read_free
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token, plain_line, scan
from knowngood.lines.series import read_series
from knowngood.lines.understood import Recent, Understood
from knowngood.lines.vocabulary import PASSED_OVER, vocabulary_of
from knowngood.lines.works import read_cut, read_swap, read_work

ABBREVIATIONS = frozenset(
    [
        "cyl",
        "no",
        "nr",
        "approx",
        "ca",
        "temp",
        "deg",
        "rev",
        "vs",
        "etc",
        "in",
        "min",
        "max",
        "comp",
        "abt",
        "vac",
        "volt",
        "c",
    ]
)
MOST_CLAUSES_TOGETHER = 14
SERIES = frozenset(
    [
        "NAME",
        "PLACE",
        "CELL",
        "COND",
        "SPEED",
        "DASH",
        "LINK",
        "FILL",
        "MUTE",
        "EQUALS",
        "ALL",
        "REST",
        "EXCEPT",
        "NONE",
        "OPEN",
        "SPEC",
        "HIGH",
        "LOW",
        "ARROW",
        "COMMA",
    ]
)


def read_line(text: str, car: Car, library: Library, recent: Recent | None = None) -> Understood:
    """Read one line.

    Parameters
    ----------
    text : str
        As typed or spoken: several clauses give several bodies.
    car : Car
        The car as known so far: its count of cylinders says what a row of numbers is.
    library : Library
        Names of parts, faults, readings, tools, areas and access.
    recent : Recent, optional
        What the lines before were about.

    Returns
    -------
    Understood
        What is not understood is kept in it as a note with one question; nothing typed is lost.

    Raises
    ------
    Refused
        The line is empty.
    """
    plain = plain_line(text)
    if not plain:
        raise Refused(
            Problem("The line is empty.", "Type what was seen, measured or done, such as 'comp 175 180 60 175'.")
        )
    vocabulary = vocabulary_of(library)
    tokens = scan(plain, vocabulary)
    reader = Reader(plain, tokens, car, library, vocabulary, recent or Recent())
    if reader.recent.place is not None and reader.recent.place.kind == "cylinder":
        reader.places = (reader.recent.place,)
    if tokens and tokens[0].means("mark", "note") and len(tokens) > 1 and (tokens[1].is_sign(":", "-")):
        reader.put(Note(plain[tokens[1].end :].strip() or plain), tokens)
    elif not read_history(reader):
        for sentence in _sentences(tokens):
            _read_sentence(reader, sentence)
    _keep_unread(reader)
    return _understood(reader)


def recent_after(recent: Recent | None, understood: Understood) -> Recent:
    """What the next line may go on with."""
    now = recent or Recent()
    units, kind, place = dict(now.units), now.kind, now.place
    for body in understood.bodies:
        if isinstance(body, Reading) and not body.doubt:
            if body.value is not None and body.value.unit:
                units[body.kind] = body.value.unit
                kind = body.kind
            place = body.place if body.place.kind == "cylinder" else place
    one = [body for body in understood.bodies if isinstance(body, Reading) and body.place.kind == "cylinder"]
    return Recent(
        kind=kind, units=units, place=place if len(one) == 1 else None, part=now.part, trim_scale=now.trim_scale
    )


def _sentences(tokens: Sequence[Token]) -> list[list[Token]]:
    """Cut at semicolons and full stops; the dot of an abbreviation is none."""
    found: list[list[Token]] = [[]]
    for index, token in enumerate(tokens):
        behind = tokens[index + 1] if index + 1 < len(tokens) else None
        before = tokens[index - 1] if index else None
        dot = (
            token.is_sign(".")
            and (behind is None or behind.spaced)
            and not (before is not None and before.plain in ABBREVIATIONS)
        )
        if token.is_sign(";") or dot or token.text in ("!", "|"):
            found.append([])
        elif found[-1] or not token.is_sign(",", "."):
            found[-1].append(token)
    return [sentence for sentence in found if sentence]


def _clauses(tokens: Sequence[Token]) -> list[list[Token]]:
    """Cut at commas and "then"."""
    found: list[list[Token]] = [[]]
    for index, token in enumerate(tokens):
        if (
            token.is_sign(",")
            or (token.plain in ("then", "and then") and index > 0)
            or (token.plain == "but" and found[-1])
        ):
            found.append([])
        else:
            found[-1].append(token)
    return [clause for clause in found if clause]


Forms = tuple[Callable[[Reader, Sequence[Element]], bool], ...]
_LONG_FORMS: Forms = (read_codes, read_swap, read_cut, read_work)


def _read_sentence(reader: Reader, tokens: Sequence[Token]) -> None:
    clauses = _clauses(tokens)
    reader.given = ()
    start = 0
    while start < len(clauses):
        taken = _read_from(reader, tokens, clauses, start)
        named = [
            token
            for clause in clauses[start : start + taken]
            for token in clause
            if token.means("part") or token.means("kind")
        ]
        reader.subject = named[-1] if named else reader.subject
        start += taken


def _run(tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int, end: int) -> list[Token]:
    """The tokens from one clause to another, the commas between them included."""
    first, last = clauses[start][0].start, clauses[end - 1][-1].end
    return [token for token in tokens if first <= token.start < last]


def _read_from(reader: Reader, tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int) -> int:
    """Read the longest form that starts at a clause; how many clauses it took."""
    clause = clauses[start]
    if read_car(reader, clause) or read_told_work(reader, clause):
        return 1
    if start + 1 < len(clauses) and _goes_on_as_car(reader, tokens, clauses, start):
        return len(clauses) - start
    for end in range(min(len(clauses), start + 3), start, -1):
        run = _run(tokens, clauses, start, end)
        if read_tool(reader, run) if end == start + 1 else False:
            return 1
        if (end == start + 1 or _is_wait(clauses[end - 1])) and read_stock(reader, run):
            return end - start
    if read_access(reader, clause):
        return 1
    elements = elements_of(reader, clause)
    followed = start + 1 < len(clauses) and any(token.means("effect") for token in clauses[start + 1])
    if not followed and any(token.means("mark", "put_right") for token in clause) and read_undone(reader, elements):
        return 1
    if read_no_codes(reader, elements) or read_cleared(reader, elements):
        return 1
    most = min(len(clauses), start + MOST_CLAUSES_TOGETHER)
    for end in range(most, start, -1):
        run_elements = elements_of(reader, _run(tokens, clauses, start, end))
        for form in _LONG_FORMS:
            if form(reader, run_elements):
                return end - start
    end = _series_end(reader, clauses, start)
    if end > start and read_series(reader, elements_of(reader, _run(tokens, clauses, start, end))):
        return end - start
    if _given(reader, clause, len(clauses) > start + 1) or _stopped(reader, clause):
        return 1
    if end := _unplugged(reader, tokens, clauses, start):
        return end - start
    outright = any(token.means("alone") or (token.means("outcome") and " " in token.plain) for token in clause)
    if not outright and read_undone(reader, elements):
        return 1
    read_free(reader, elements)
    return 1


def _given(reader: Reader, clause: Sequence[Token], goes_on: bool) -> bool:
    """``unplug coolant sensor, fan comes on``: what was unplugged is a condition of what comes behind."""
    if (
        not goes_on
        or not clause[0].means("mark", "cut")
        or any(token.kind in ("num", "numword", "code") for token in clause)
    ):
        return False
    parts = [token for token in clause[1:] if token.means("part")]
    if len(parts) != 1 or any(
        not token.means("filler") and token.plain not in PASSED_OVER for token in clause[1:] if token is not parts[0]
    ):
        return False
    reader.given = (f"{parts[0].text} unplugged",)
    unplugged = f"{reader.part(parts[0])}_unplugged"
    reader.kind = unplugged if reader.kind_record(unplugged) is not None else reader.kind
    reader.use(clause)
    return True


def _unplugged(reader: Reader, tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int) -> int:
    """``runs fine with maf unplugged``; where the form ends, 0 when it is none."""
    for end in (start + 1, start + 2):
        whole = _run(tokens, clauses, start, min(end, len(clauses)))
        run = [part for token in whole for part in (token.parts if token.parts and token.means("fault") else (token,))]
        parts = [token for token in run if token.means("part")]
        if len(parts) != 1 or not any(token.plain in ("unplugged", "disconnected") for token in run):
            continue
        kind = f"{reader.part(parts[0])}_unplugged"
        effects = [token for token in run if token.means("effect")]
        if reader.kind_record(kind) is None or not effects:
            continue
        effect = effects[0].ids("effect")[0]
        word = fitted_word(reader, kind, {"no change": "same", "cured": "better"}.get(effect, effect))
        reader.put(Reading(kind=kind, word=word), whole)
        return min(end, len(clauses))
    return 0


def _stopped(reader: Reader, clause: Sequence[Token]) -> bool:
    """``bubbles for a minute, then none``: the outcome said before is over."""
    if not all(t.means("mark", "none") or t.means("filler") or t.plain in ("stopped", "gone") for t in clause):
        return False
    last = reader.bodies[-1] if reader.bodies else None
    record = reader.kind_record(last.kind) if isinstance(last, Reading) else None
    if (
        not isinstance(last, Reading)
        or last.value is not None
        or not any(t.means("mark", "none") or t.plain == "stopped" for t in clause)
    ):
        return False
    word = healthy_word(reader, record) if record is not None and record.words else "none"
    reader.bodies[-1] = msgspec.structs.replace(last, word=word)
    reader.suppose(f"{last.kind.replace('_', ' ')} at first, then none")
    reader.use(clause)
    return True


def _goes_on_as_car(reader: Reader, tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int) -> bool:
    """A firing order typed with commas is one fact."""
    run = _run(tokens, clauses, start, len(clauses))
    return reader.words(run).casefold().startswith("firing order") and read_car(reader, run)


def _is_wait(clause: Sequence[Token]) -> bool:
    return any(
        token.kind == "unit" and token.text.casefold().startswith(("day", "week", "d", "w")) for token in clause
    ) or any(token.means("mark", "ordered", "spare") for token in clause)


def _is_series(elements: Sequence[Element]) -> bool:
    return all(
        element.kind in SERIES
        and not (element.token.means("work") and not element.token.means("filler"))
        and not element.token.means("effect")
        and not (
            element.token.means("outcome")
            and not element.token.means("kind")
            and not element.token.means("mark", "none")
        )
        and not element.token.means("mark", "negation")
        and not element.token.means("mark", "cut")
        for element in elements
        if element.kind not in ("CELL", "PLACE", "SPEED", "COND", "SPEC", "NONE")
    )


def _series_end(reader: Reader, clauses: Sequence[Sequence[Token]], start: int) -> int:
    """How far a series of numbers goes: clauses of numbers, and the conditions that trail them."""
    end, named = start, False
    for index in range(start, len(clauses)):
        elements = elements_of(reader, clauses[index])
        numbers = any(e.kind in ("CELL", "NONE", "SPEED") for e in elements)
        conditions = any(e.kind == "COND" for e in elements) and all(
            e.kind in ("COND", "FILL", "MUTE") for e in elements
        )
        said = any(e.kind == "NAME" for e in elements)
        if not _is_series(elements) or not (numbers or (conditions and end > start) or (index == start and said)):
            break
        if index > start and said and named and not numbers:
            break
        named = named or said
        end = index + 1
    return end


def _keep_unread(reader: Reader) -> None:
    """Words that nothing was made of are kept as a note: the whole line when nothing was, or the run of words."""
    unread = [token for token in reader.tokens if reader.is_unread(token)]
    weighty = [token for token in unread if _weighs(token)]
    if not reader.bodies:
        why = "nothing in it was understood" if weighty else "it says nothing by itself"
        ask = f"'{reader.text}': what was seen, measured or done, and where?"
        reader.put(Note(reader.text, why, ask))
        reader.ask(ask)
        return
    for run in _runs(reader, weighty):
        kept = any(isinstance(body, Note) and body.text and reader.words(run) in body.text for body in reader.bodies)
        if not kept and any(_matters(token) for token in run):
            words = reader.words(run)
            ask = f"'{words}' was not understood: what does it say?"
            reader.bodies.append(Note(words, "not understood", ask))
            reader.ask(ask)


def _weighs(token: Token) -> bool:
    """A word that may carry something: no sign, no small word."""
    if token.kind == "sign":
        return token.text in "#%°Ω"
    if (token.kind == "numword" and token.plain == "1") or token.plain in PASSED_OVER:
        return False
    return token.kind in ("num", "numword", "unit", "code", "word") or not (
        token.means("filler") or token.means("mark", "negation") or token.means("mark", "cause")
    )


def _matters(token: Token) -> bool:
    """Never dropped in silence: numbers, parts, places, readings, what was done."""
    if token.kind in ("num", "code"):
        return True
    return any(
        token.means(kind) for kind in ("part", "kind", "says", "fault", "work", "effect", "tool", "access")
    ) and not token.means("filler")


def _runs(reader: Reader, tokens: Sequence[Token]) -> list[list[Token]]:
    """Unread words that stand together, signs and small words between them passed over."""
    order = {token.start: index for index, token in enumerate(reader.tokens)}
    runs: list[list[Token]] = []
    for token in tokens:
        if runs:
            between = reader.tokens[order[runs[-1][-1].start] + 1 : order[token.start]]
            if all(reader.is_unread(other) and not other.is_sign(",", ";") for other in between):
                runs[-1].append(token)
                continue
        runs.append([token])
    return runs


def _understood(reader: Reader) -> Understood:
    unread = [token for token in reader.tokens if reader.is_unread(token) and _weighs(token)]
    left = tuple(reader.words(run) for run in _runs(reader, unread))
    bodies = tuple(reader.bodies)
    asks = tuple(reader.asks[:1])
    return Understood(bodies, echo_of(bodies, reader.library, tuple(reader.assumed)), asks, left, tuple(reader.assumed))


def facts_of(understood: Understood) -> tuple[CarFact, ...]:
    """The facts of the car in a line."""
    return tuple(body for body in understood.bodies if isinstance(body, CarFact))
