"""The workshop: jobs by code or nickname, lines said and taken back, answers to what is so."""

from __future__ import annotations

import json
import secrets
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from knowngood.app.answer import Answer, NotUnderstood
from knowngood.app.bay_time import in_utc, today_of
from knowngood.app.proof import all_proved, proofs_of
from knowngood.app.recent import recent_of
from knowngood.app.settings import Settings, setting, settings_of
from knowngood.app.state import State, car_of, must_fit, state_of
from knowngood.app.told_gone import told_gone
from knowngood.app.waits_for import waits_at_once, waits_for
from knowngood.app.weigh import AtOnce, at_once, completed, is_understood, why_not
from knowngood.errors import KnownGoodError, Problem, Refused
from knowngood.evidence import Body, CarFact, Entry, Note, Strike, named_places
from knowngood.jobs.admission import SHOP
from knowngood.jobs.code import new_code
from knowngood.jobs.copies import copy_day, restore
from knowngood.jobs.disk import copies_in
from knowngood.jobs.export import read_in, write_out
from knowngood.jobs.fold import in_time, standing, undo
from knowngood.jobs.store import Job, Store
from knowngood.library.records import Library
from knowngood.lines import LONGEST_LINE, Understood, read_line
from knowngood.lines.echo import echo_of
from knowngood.sheets.words import in_currency

Answers = dict[str, tuple[tuple[str, ...], Answer]]
"""Job -> ids of the entries and settings that stood, and the answer to them."""
LATEST_ASKED = 2  # older doubtful lines do not crowd out what else should be asked
LONGEST_NICKNAME = 250  # characters; it stands above every page
STAMP = "%Y-%m-%dT%H:%M:%S.%fZ"


def utc_now() -> str:
    """This moment, ISO 8601 in UTC with microseconds, as the journal stamps it."""
    return datetime.now(UTC).strftime(STAMP)


def moment(text: str) -> str:
    """A typed moment as the journal stamps it: an offset is counted in; without one it is the bay's own time.

    Raises
    ------
    Refused
        It is not a date, or a date and a time.
    """
    try:
        told = datetime.fromisoformat(text)
    except ValueError:
        raise Refused(Problem(f"{text!r} is not a moment.", "Write it as 2026-05-01T09:30.")) from None
    return (told if len(text) <= len("2026-05-01") else in_utc(told)).strftime(STAMP)


def random_id() -> str:
    """An id no two devices draw alike."""
    return secrets.token_hex(16)


@dataclass(frozen=True)
class SaidLine:
    """What became of one line that was said.

    Parameters
    ----------
    echo : str
        What was understood, in one short line.
    counts : bool
        Whether all of it counts; else ``why`` says what does not, and ``ask`` is the question to answer.
    warning : str
        What else must be looked at now: a number that is hardly so, a copy of the day that was not made.
    """

    job: str
    text: str
    echo: str
    counts: bool
    why: str = ""
    ask: str = ""
    warning: str = ""
    entries: tuple[str, ...] = ()


class Workshop:
    """One workshop folder and the library it works with; its own context manager.

    Parameters
    ----------
    folder : Path
    library : Library
    now, new_id : callable
        The clock and the dice, handed in so that tests can fix them.
    answers : dict, optional
        Answers worked out before, by job; one that opens the workshop again and again hands in the same each time.
    """

    def __init__(
        self,
        folder: Path,
        library: Library,
        *,
        now: Callable[[], str] = utc_now,
        new_id: Callable[[], str] = random_id,
        answers: Answers | None = None,
    ) -> None:
        self.folder = folder
        self.library = library
        self.now = now
        self.new_id = new_id
        self.store = Store.open(folder, copies=folder / "copies")
        self._answers: Answers = {} if answers is None else answers
        self._state: tuple[tuple[str, ...], State] | None = None

    def __enter__(self) -> Workshop:
        self._spoken = in_currency(self.settings().currency)
        self._spoken.__enter__()
        return self

    def __exit__(self, *_: object) -> None:
        self._spoken.__exit__(None, None, None)
        self.store.close()

    def settings(self) -> Settings:
        """What holds for the whole workshop."""
        return settings_of(self._set())

    def set(self, name: str, value: str) -> str:
        """Keep a setting; it is on disk when this returns. Returns what was set, in words.

        Raises
        ------
        Refused
            There is no such setting, it cannot be that, or the disk did not take it.
        """
        body, now = setting(name, value), self.now()
        entry = Entry(id=self.new_id(), at=now, entered=now, line=f"{body.name}: {body.value}", body=body)
        self._append(SHOP, [entry], now)
        return entry.line

    def stands(self, entries: Sequence[Entry]) -> tuple[str, ...]:
        """Ids of all that an answer hangs on: a car's entries, and the settings."""
        return (*(entry.id for entry in entries), *(entry.id for entry in self._set()))

    def _set(self) -> list[Entry]:
        return standing(row.entry() for row in self.store.kept(SHOP))

    def jobs(self) -> list[Job]:
        """Every car in this workshop."""
        return self.store.jobs()

    def job(self, name: str) -> Job:
        """The job a code or a nickname names; also the beginning of a nickname, where it is that of one car only.

        Raises
        ------
        Refused
            None does, or more than one.
        """
        jobs = self.jobs()
        wanted = name.strip().lower()
        found = [job for job in jobs if job.code == wanted] or [job for job in jobs if job.nickname.lower() == wanted]
        begun = [job for job in jobs if wanted and job.nickname.lower().startswith(wanted)]
        found = found or (begun if len(begun) == 1 else [])
        if len(found) == 1:
            return found[0]
        there = ", ".join(f"{job.code} ({job.nickname})" for job in jobs) or "none yet"
        if found:
            raise Refused(Problem(f"{len(found)} cars are called {name!r}.", f"Use the code: {there}."))
        raise Refused(Problem(f"There is no car {name!r} here.", f"Cars: {there}. A new one: knowngood new NICKNAME."))

    def new(self, nickname: str) -> Job:
        """A new car; its first entry is on disk when this returns. `Refused` for a nickname empty or too long."""
        nickname = nickname.strip()
        if not nickname:
            raise Refused(Problem("A car needs a nickname; nothing was typed.", "Type any word you call it by."))
        if len(nickname) > LONGEST_NICKNAME:
            fact = f"The nickname has {len(nickname)} characters; {LONGEST_NICKNAME} are the most."
            raise Refused(Problem(fact, "Shorten it; the story can be said line by line."))
        must_be_text(nickname)
        code = new_code([job.code for job in self.jobs()], self.new_id)
        now = self.now()
        body = CarFact("nickname", json.dumps(nickname))
        self.store.append(code, [Entry(id=self.new_id(), at=now, entered=now, line=nickname, body=body)])
        return self.job(code)

    def entries(self, job: str) -> list[Entry]:
        """Entries of a job that stand, in time order, without the strikes."""
        return [entry for entry in standing(self.store.entries(job)) if not isinstance(entry.body, Strike)]

    def say(self, job: str, text: str, *, at: str = "", typed: str = "") -> SaidLine:
        """Read one line and keep it; it is on disk when this returns.

        What is not understood is kept as a note that does not count, and so is what speaks against the plan of the
        engine as told before. ``at`` is when it happened, ``typed`` when it was typed, if not now; a line that begins
        with a day ("yesterday", "3 May") happened on that day, counted from when it was typed.

        Raises
        ------
        Refused
            The line is empty, too long or no text, or the disk did not take it.
        """
        entries = self.entries(job)
        must_be_text(text)
        now = self.now()
        typed = typed or now
        today = today_of(typed)
        understood = read_line(text, car_of(entries), self.library, recent_of(entries), today)
        happened = at or (moment(understood.day) if understood.day not in ("", today.isoformat()) else typed)

        def as_entries(bodies: Sequence[Body]) -> list[Entry]:
            return [Entry(id=self.new_id(), at=happened, entered=now, line=text.strip(), body=body) for body in bodies]

        new = as_entries(understood.bodies or (Note(text, why_not(understood)),))
        if any(isinstance(entry.body, CarFact) for entry in new):
            try:
                told = sorted([*entries, *new], key=in_time)
                must_fit(car_of(told), [entry.body for entry in told])
            except Refused as misfit:
                understood = _kept_as_note(text, misfit.problems[0])
                new = as_entries(understood.bodies)
        warning = self._append(job, new, now)
        counts = is_understood(understood) and bool(understood.bodies)
        return SaidLine(
            job=job,
            text=text.strip(),
            echo=understood.echo,
            counts=counts,
            why="" if counts else why_not(understood),
            ask=understood.asks[0] if understood.asks else "",
            warning=warning,
            entries=tuple(entry.id for entry in new),
        )

    def keep(self, job: str, line: str, bodies: Sequence[Body], *, at: str = "") -> SaidLine:
        """Keep what was answered and needs no reading, under the line that says it; it is on disk when this returns.

        An answer about a cylinder that the engine, as told by now, does not have is kept as a note that does not count.

        Raises
        ------
        Refused
            The disk did not take it.
        """
        kept = Understood(tuple(bodies), echo_of(bodies, self.library, ()))
        if any(place.kind == "cylinder" for body in bodies for place in named_places(body)):
            try:
                must_fit(car_of(self.entries(job)), bodies)
            except Refused as misfit:
                kept = _kept_as_note(line, misfit.problems[0])
        now = self.now()
        new = [Entry(id=self.new_id(), at=at or now, entered=now, line=line, body=body) for body in kept.bodies]
        warning = self._append(job, new, now)
        ids = tuple(entry.id for entry in new)
        if kept.asks:
            return SaidLine(job, line, kept.echo, False, why_not(kept), kept.asks[0], warning, ids)
        return SaidLine(job, line, kept.echo, True, warning=warning, entries=ids)

    def _append(self, job: str, new: Sequence[Entry], now: str) -> str:
        """Put entries on disk, then copy the day.

        Returns what stood in the way of the copy, for the entries are kept; the next line says it again.
        """
        self.store.append(job, new)
        try:
            copy_day(self.folder, self.folder / "copies", now=now)
        except KnownGoodError as trouble:
            fact = trouble.problems[0].fact
            return f"Kept, but the copy of this day was not made: {fact} The next line tries again."
        return ""

    def undo(self, job: str, *, of: str = "") -> str:
        """Take back the line said last, or the one that the entry ``of`` belongs to; returns its words.

        Raises
        ------
        Refused
            As :func:`knowngood.jobs.fold.undo` says.
        """
        entries = self.store.entries(job)
        now = self.now()
        strikes = undo(entries, now=now, new_id=self.new_id, of=of)
        self._append(job, strikes, now)
        by_id = {entry.id: entry for entry in entries}
        first = strikes[0].body
        assert isinstance(first, Strike)
        return by_id[first.entry].line

    def state(self, job: str) -> State:
        """What the standing entries come to."""
        entries = self.entries(job)
        ids = self.stands(entries)
        if self._state is None or self._state[0] != ids:
            self._state = ids, state_of(self.library, entries, self.settings())
        return self._state[1]

    def at_once(self, job: str) -> AtOnce:
        """Suspects and next steps of a car, without what :meth:`completed` adds."""
        entries = self.entries(job)
        lines = line_numbers(entries)
        notes = [
            NotUnderstood(lines[index], entry.line, entry.body.why, entry.body.ask)
            for index, entry in enumerate(entries)
            if isinstance(entry.body, Note)
        ]
        asks = [note.ask for note in notes[-LATEST_ASKED:] if note.ask]
        return at_once(self.state(job), not_understood=notes, asks=asks)

    def completed(self, job: str, begun: AtOnce, go_on: Callable[[], bool] = lambda: True) -> Answer | None:
        """The whole answer; ``None`` where it was not wanted any more, by ``go_on``, before it was there."""
        state = self.state(job)
        answer = completed(state, begun, line_numbers(list(state.entries)), go_on)
        if answer is not None:
            self._answers[job] = self.stands(state.entries), answer
        return answer

    def answer(self, job: str) -> Answer:
        """Suspects, next steps and questions for a car."""
        ids = self.stands(self.entries(job))
        if job in self._answers and self._answers[job][0] == ids:
            return self._answers[job][1]
        answer = self.completed(job, self.at_once(job))
        assert answer is not None
        return answer

    def waits_for(self, job: str) -> str:
        """What a car waits for, in one sentence; what stands in the way where that cannot be worked out."""
        entries = self.entries(job)
        if at_once := waits_at_once(entries):
            return at_once
        try:
            steps = self.answer(job).next
        except KnownGoodError as trouble:
            return str(trouble.problems[0])
        proved = told_gone(entries, self.library) and all_proved(proofs_of(self.state(job)))
        return waits_for(entries, self.library, steps, proved=proved)

    def export(self, job: str = "") -> str:
        """The journal of one job, or of all, as JSON lines."""
        return write_out(self.store, job)

    def take_in(self, text: bytes, name: str) -> tuple[int, int]:
        """Take in exported entries; how many were new and how many were here already."""
        taken = read_in(self.store, text, name=name)
        return taken.added, taken.here_already

    def copies(self) -> list[Path]:
        """The daily copies there are."""
        return copies_in(self.folder / "copies")


def line_numbers(entries: list[Entry]) -> dict[int, int]:
    """Entry index -> number of the typed line it came from, counting typed lines from 1 in time order."""
    numbers: dict[tuple[str, str], int] = {}
    result = {}
    for index, entry in enumerate(entries):
        key = (entry.line, entry.entered)
        result[index] = numbers.setdefault(key, len(numbers) + 1)
    return result


def must_be_text(text: str) -> None:
    """Refuse a line that is longer than any line, or that cannot be written down.

    Raises
    ------
    Refused
        Over ``LONGEST_LINE`` characters, or no text in UTF-8.
    """
    if len(text) > LONGEST_LINE:
        fact = f"The line has {len(text)} characters; {LONGEST_LINE} are the most."
        raise Refused(Problem(fact, "Say it in several lines."))
    try:
        text.encode()
    except UnicodeEncodeError:
        shown = text.encode(errors="surrogateescape").decode(errors="replace")
        raise Refused(Problem(f"'{shown}' is not text in UTF-8.", "Type it again.")) from None


def _kept_as_note(text: str, misfit: Problem) -> Understood:
    """A line that speaks against what was said of the car before: kept, not counted, asked about."""
    words = text.strip()
    ask = f"{misfit.fact} Take back what was said before and is not so, then say '{words}' again."
    return Understood((Note(words, misfit.fact, ask),), f"kept as a note: {words}", (ask,), (words,))


def restore_copy(copy: Path, folder: Path) -> Path:
    """Put a daily copy back as the workshop of an empty folder."""
    return restore(copy, folder)
