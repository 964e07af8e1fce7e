"""One line of typing or speech into the bodies of entries."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import date

from knowngood.car import Car
from knowngood.errors import Problem, Refused
from knowngood.evidence import Body, CarFact, Note
from knowngood.library.own_branches import library_of
from knowngood.library.records import Library
from knowngood.lines.again import read_again
from knowngood.lines.attempts import JOINS, are_sentences, cuts_of, left_over, put_back, state_of
from knowngood.lines.bay import read_access, read_stock, read_tool, read_tool_back
from knowngood.lines.carfacts import read_car, read_history, read_told_work
from knowngood.lines.clauses import clauses_of, loosened, run_of, sentences_of
from knowngood.lines.clock import read_clock
from knowngood.lines.codes import read_cleared, read_codes, read_gone_codes, read_no_codes
from knowngood.lines.contrast import read_condition_before, read_condition_behind, read_since
from knowngood.lines.counted import on_all
from knowngood.lines.counts import read_counts
from knowngood.lines.cuts import read_cut
from knowngood.lines.dead import read_dead_cylinder
from knowngood.lines.done import read_done
from knowngood.lines.drives import read_drive
from knowngood.lines.each import read_each
from knowngood.lines.echo import echo_of
from knowngood.lines.effects import note_swap_codes, read_swap_effect, spread_no_change
from knowngood.lines.elements import Element, elements_of
from knowngood.lines.fed import read_fed
from knowngood.lines.feeds import read_feed
from knowngood.lines.freeze_frame import read_freeze_frame
from knowngood.lines.half_heard import doubt_behind, doubt_half_heard, put_in_doubt
from knowngood.lines.heads import note_dropped, read_head, without_dates
from knowngood.lines.kept import read_kept, without_kept
from knowngood.lines.left_undone import read_left_so
from knowngood.lines.mutual import join_mutual_swaps
from knowngood.lines.named_codes import read_code_list
from knowngood.lines.odometer import read_odometer, read_odometer_said
from knowngood.lines.off_and_on import read_off_and_on
from knowngood.lines.own_branches import read_own_branches
from knowngood.lines.phrases import read_free
from knowngood.lines.plug_off import read_plug_off, read_pushed_on
from knowngood.lines.price import note_price, without_price, without_sum
from knowngood.lines.reader import Reader
from knowngood.lines.reworded import reworded
from knowngood.lines.said_behind import read_behind, read_with_words
from knowngood.lines.same_kind import read_pairs, read_same_kind
from knowngood.lines.scan import Token, plain_line, scan
from knowngood.lines.series import read_series
from knowngood.lines.series_run import series_end
from knowngood.lines.service import read_service
from knowngood.lines.shopping import note_time, read_shopping
from knowngood.lines.short_words import written
from knowngood.lines.shown import read_shown
from knowngood.lines.states import series_elements
from knowngood.lines.tightening import read_tightening
from knowngood.lines.together import read_judged_together
from knowngood.lines.typed import Typed
from knowngood.lines.understood import Recent, Understood
from knowngood.lines.undone import is_put_back, read_undone
from knowngood.lines.unmeasured import without_not_done, without_unmeasured
from knowngood.lines.unplugged import read_after_unplugging, read_given, read_stopped, read_unplugged
from knowngood.lines.unread import keep_unread, runs_of, weighs
from knowngood.lines.vocabulary import vocabulary_of
from knowngood.lines.waits import is_wait
from knowngood.lines.whereabouts import note_whereabouts
from knowngood.lines.who import note_who
from knowngood.lines.window_line import read_window
from knowngood.lines.works import read_swap, read_work

MOST_CLAUSES_TOGETHER = 14
ARTICLES = frozenset(["the", "my", "your", "his", "her", "their", "our"])
MOST_DEEP = 2
"""So often a clause is cut again behind a cut."""
LEAST_GAINED = 1
"""So many words fewer at least must be left over for a clause to be read cut in two; a convention of ours."""
LONGEST_LINE = 4000  # characters
ROUGHLY = 2  # times the most pieces: a line of more is not even put into plain words
_PIECE = re.compile(r"\w+|[^\w\s]")
MOST_PIECES = 250  # words, numbers and signs; the time to read a line grows with their square


def read_line(
    text: str, car: Car, library: Library, recent: Recent | None = None, today: date | None = None
) -> Understood:
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
    today : date, optional
        The day of typing: "yesterday" and a date without a year count from it.

    Returns
    -------
    Understood
        What is not understood is kept in it as a note with one question; nothing typed is lost.

    Raises
    ------
    Refused
        The line is empty.
    """
    typed = " ".join(text.split())
    if len(typed) > LONGEST_LINE:  # before anything is looked for in it: the patterns are made for lines
        return _too_long(typed, f"the line has {len(typed)} characters; {LONGEST_LINE} are the most that are read")
    pieces = len(_PIECE.findall(typed))
    if pieces > ROUGHLY * MOST_PIECES and not typed.casefold().startswith("note"):
        return _too_long(typed, _too_many(pieces))
    plain = plain_line(text)
    if not plain:
        raise Refused(
            Problem("The line is empty.", "Type what was seen, measured or done, such as 'comp 175 180 60 175'.")
        )
    library = library_of(library, car)
    vocabulary = vocabulary_of(library)
    if vocabulary.shows(text):
        plain = plain_line(text, as_shown=True)
    plain, taken = written(on_all(plain, car.cylinders), vocabulary)
    if taken:  # a turn of phrase is known again once its words are spelled
        plain, again = written(reworded(plain), vocabulary)
        taken += again
    tokens = scan(plain, vocabulary)
    reader = Reader(plain, tokens, car, library, vocabulary, recent or Recent(), Typed(typed, plain), today=today)
    for slip, meant in taken:
        reader.suppose(f"'{slip}' read as '{meant}'")
    if reader.recent.place is not None and reader.recent.place.kind == "cylinder":
        reader.places = (reader.recent.place,)
    if len(tokens) > MOST_PIECES and not tokens[0].means("mark", "note"):
        return _too_long(typed, _too_many(len(tokens)))
    if tokens and tokens[0].means("mark", "note") and len(tokens) > 1 and (tokens[1].is_sign(":", "-")):
        reader.put(Note(reader.words(tokens[2:]) or typed), tokens)
    elif not read_history(reader) and not read_shown(reader, tokens) and not _read_whole(reader):
        for sentence in sentences_of(tokens):
            if not read_shown(reader, sentence) and (said := without_not_done(reader, sentence)):
                _read_sentence(reader, _stripped(reader, said))
        reader.bodies += reader.aside
    note_time(reader)
    note_price(reader)
    note_dropped(reader)
    keep_unread(reader)
    return _understood(reader)


def _too_many(pieces: int) -> str:
    return f"{pieces} words, numbers and signs are in one line; {MOST_PIECES} are the most that are read"


def _too_long(typed: str, why: str) -> Understood:
    """A line no one would wait for: kept as typed, not read, asked for in parts."""
    ask = "Say it again in several lines."
    return Understood((Note(typed, why, ask),), f"kept as a note: {typed}", (ask,), (typed,))


def _stripped(reader: Reader, sentence: Sequence[Token]) -> list[Token]:
    """A sentence without what is said beside it: cylinders not measured, its day, what the work cost."""
    articles = [token for token in sentence if token.kind == "word" and token.plain in ARTICLES]
    if len(articles) < len(sentence):
        reader.use(articles)
        sentence = [token for token in sentence if token not in articles]
    sentence = without_kept(reader, without_dates(reader, without_unmeasured(reader, sentence)))
    return without_sum(reader, without_price(reader, sentence))


def _read_whole(reader: Reader) -> bool:
    """Lines that are one thing from end to end."""
    told = (read_tightening, read_own_branches)
    forms = (read_service, read_window, read_odometer, *told, read_clock, read_shopping, read_drive)
    return any(read(reader) for read in forms)


Forms = tuple[Callable[[Reader, Sequence[Element]], bool], ...]


_LONG_FORMS: Forms = (
    read_counts,
    read_feed,
    read_code_list,
    read_codes,
    read_swap,
    read_cut,
    read_work,
    read_judged_together,
    read_each,
)


def _read_sentence(reader: Reader, tokens: Sequence[Token]) -> None:
    reader.given, reader.since = (), len(reader.bodies)
    tokens = read_head(reader, tokens)
    clauses = clauses_of(tokens)
    start, hanging = 0, ""
    while start < len(clauses):
        before = len(reader.bodies)
        taken = _read_best(reader, tokens, clauses, start)
        note_who(reader, run_of(tokens, clauses, start, start + taken), before)
        run = run_of(tokens, clauses, start, start + taken)
        note_whereabouts(reader, run, before)
        doubt_half_heard(reader, run, before)
        if hanging:
            put_in_doubt(reader, before, f"it may hang on '{hanging}'")
        hanging = hanging or doubt_behind(reader, run, before)
        named = [
            token
            for clause in clauses[start : start + taken]
            for token in clause
            if token.means("part") or token.means("kind")
        ]
        reader.subject = named[-1] if named else reader.subject
        start += taken
    join_mutual_swaps(reader, reader.since)
    spread_no_change(reader, reader.since)
    note_swap_codes(reader, reader.since)


def _read_best(reader: Reader, tokens: Sequence[Token], clauses: list[list[Token]], start: int, deep: int = 0) -> int:
    """Read from a clause on; where it leaves something over, cut in two, and the second again, if that leaves less."""
    state, before = state_of(reader), len(reader.bodies)
    taken = _read_from(reader, tokens, clauses, start)
    run = run_of(tokens, clauses, start, start + taken)
    if taken > 1 or not left_over(reader, run, before):
        return taken
    least, best = left_over(reader, run, before) - LEAST_GAINED, state_of(reader)
    for first, second, said in cuts_of(clauses[start]):
        put_back(reader, state)
        reader.use(token for token in clauses[start] if token.plain in JOINS)
        cut = [*clauses[:start], first, second, *clauses[start + 1 :]]
        _read_from(reader, tokens, cut[: start + 1], start)
        middle = len(reader.bodies)
        if said and deep < MOST_DEEP:
            _read_best(reader, tokens, cut[: start + 2], start + 1, deep + 1)
        else:
            _read_from(reader, tokens, cut[: start + 2], start + 1)
        left, count = left_over(reader, run, before), len(reader.bodies)
        two = said and are_sentences(first, second)
        more = two and left == least + LEAST_GAINED and count > len(best["bodies"])
        both = before < middle < count or (before < count and two)
        if both and (not left or (said and left <= least) or more):
            least, best = left - LEAST_GAINED, state_of(reader)
            if not left:
                return taken
    if not _is_open(best["bodies"][before:]):
        put_back(reader, best)
        return taken
    put_back(reader, state)

    def read(pieces: list[Token]) -> None:
        _read_from(reader, tokens, [*clauses[:start], pieces], start)

    if not read_again(reader, clauses[start], read, behind=start > 0):
        put_back(reader, best)
    return taken


def _is_open(bodies: Sequence[Body]) -> bool:
    """Nothing was made of a clause that counts or asks for one thing."""
    return all(isinstance(body, Note) and body.why in _WHOLLY for body in bodies)


_WHOLLY = ("most of it was not understood", "not heard for sure")


def _read_from(reader: Reader, tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int) -> int:
    """Read the longest form that starts at a clause; how many clauses it took."""
    clause = clauses[start]
    for end in range(min(len(clauses), start + MOST_CLAUSES_TOGETHER), start, -1):
        run = run_of(tokens, clauses, start, end)
        if read_shown(reader, run) or read_kept(reader, run):
            return end - start
    if read_freeze_frame(reader, run_of(tokens, clauses, start, len(clauses))):
        return len(clauses) - start
    if together := read_off_and_on(reader, clauses, start) or read_done(reader, tokens, clauses, start):
        return together
    if together := read_fed(reader, tokens, clauses, start):
        return together
    if read_car(reader, clause) or read_told_work(reader, clause) or read_odometer_said(reader, clause):
        return 1
    if start + 1 < len(clauses) and read_since(reader, clause):
        return 1
    if start and read_condition_behind(reader, clause, reader.since):
        return 1
    if start + 1 < len(clauses) and _goes_on_as_car(reader, tokens, clauses, start):
        return len(clauses) - start
    for end in range(min(len(clauses), start + 3), start, -1):
        run = run_of(tokens, clauses, start, end)
        if end == start + 1 and read_tool(reader, run):
            return 1
        if (end == start + 1 or is_wait(clauses[end - 1])) and read_stock(reader, run):
            return end - start
    if read_plug_off(reader, clause) or read_pushed_on(reader, clause):
        return 1
    if read_access(reader, clause) or read_tool_back(reader, clause):
        return 1
    if start + 1 == len(clauses) and read_left_so(reader, clause):
        return 1
    if (reader.bodies or reader.headed) and read_same_kind(reader, clause):
        return 1
    if start and clause[0].plain in ("was", "were") and not any(_names(token) for token in clause):
        reader.put(Note(reader.words(clause), "how it was before: kept, not counted"), clause)
        return 1
    elements = elements_of(reader, clause)
    followed = start + 1 < len(clauses) and any(token.means("effect") for token in clauses[start + 1])
    put_back = any(token.means("mark", "put_right") for token in clause) or is_put_back(clause)
    if not followed and put_back and read_undone(reader, elements):
        return 1
    if read_gone_codes(reader, elements) or read_no_codes(reader, elements) or read_cleared(reader, elements):
        return 1
    most = min(len(clauses), start + MOST_CLAUSES_TOGETHER)
    for end in range(most, start, -1):
        run = run_of(tokens, clauses, start, end)
        for pieces in (run, loosened(run)) if loosened(run) != run else (run,):
            run_elements = elements_of(reader, pieces)
            for form in _LONG_FORMS:
                if form(reader, run_elements):
                    return end - start
    if start and read_swap_effect(reader, elements):
        return 1
    if read_dead_cylinder(reader, clause) or read_after_unplugging(reader, clause):
        return 1
    end = series_end(reader, clauses, start)
    if end > start and read_series(
        reader, series_elements(reader, elements_of(reader, run_of(tokens, clauses, start, end)))
    ):
        read_behind(reader, run_of(tokens, clauses, start, end))
        return end - start
    if read_with_words(reader, clause) or read_pairs(reader, clause):
        return 1
    if start + 1 < len(clauses) and read_condition_before(reader, clause):
        return 1
    if read_given(reader, clause, len(clauses) > start + 1) or read_stopped(reader, clause):
        return 1
    if end := read_unplugged(reader, tokens, clauses, start):
        return end - start
    outright = any(token.means("alone") or (token.means("outcome") and " " in token.plain) for token in clause)
    if not outright and read_undone(reader, elements):
        return 1
    read_free(reader, elements)
    return 1


def _names(token: Token) -> bool:
    return token.kind not in ("num", "unit") and not token.means("filler") and token.plain not in ("was", "were")


def _goes_on_as_car(reader: Reader, tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int) -> bool:
    """A firing order typed with commas is one fact."""
    run = run_of(tokens, clauses, start, len(clauses))
    return reader.plain(run).casefold().startswith("firing order") and read_car(reader, run)


def _understood(reader: Reader) -> Understood:
    unread = [token for token in reader.tokens if reader.is_unread(token) and weighs(token)]
    left = tuple(reader.words(run) for run in runs_of(reader, unread))
    bodies = tuple(reader.bodies)
    asks = tuple(reader.asks[:1])
    day = reader.day.isoformat() if reader.day is not None else ""
    assumed = tuple(reader.assumed)
    echo = echo_of(bodies, reader.library, assumed)
    return Understood(bodies, echo, asks, left, assumed, day)


def facts_of(understood: Understood) -> tuple[CarFact, ...]:
    """The facts of the car in a line."""
    return tuple(body for body in understood.bodies if isinstance(body, CarFact))
