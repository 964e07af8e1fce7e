"""From the standing entries of a job to a belief: time order, moved parts, what "no change" says."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

import msgspec

from knowngood.belief.clues import ABSENT_SHARE, as_noticed, finding_instances
from knowngood.belief.exact import ExactBelief
from knowngood.belief.looks import sessions
from knowngood.belief.model import Known, Model
from knowngood.belief.standing import Complaint, Standing
from knowngood.car import ENGINE, Car, Layout, Place
from knowngood.errors import Refused
from knowngood.evidence import REMEMBERED, Entry, Finding, Reading, Work
from knowngood.library.code_run import code_run
from knowngood.library.find import code_at
from knowngood.library.reach import reach_of
from knowngood.library.records import Code, Library

STILL_THERE = ("no change", "stayed", "returned", "worse")  # effects of work after which it is as it was
NO_CODES = "none"
PENDING_SHARE = 0.7  # weight, in log odds, of a code that is only pending; from memory


class Assembly:
    """Folds entries, in time order, into what the belief needs.

    Parameters
    ----------
    library, car, layout
    entries : sequence of Entry
        All that will be folded, so that an entry can be read by the rest of its line.
    """

    def __init__(self, library: Library, car: Car, layout: Layout, entries: Sequence[Entry] = ()) -> None:
        self.model = Model(library, car, layout)
        self.entries = entries
        self.session_of = sessions(entries)
        self.known = Known(levels=self.model.clues.levels)
        self.standing = Standing(reach_of(library))
        self.codes_read: list[int] = []
        self.named_codes: set[str] = set()
        self.misfiring: set[Place] = set()  # by all that was read so far

    @property
    def moment(self) -> int:
        """Index of the present snapshot."""
        return len(self.known.snapshots) - 1

    def resolve(self, place: Place) -> Place:
        """A place in present numbers; cylinders by position become cylinders by number."""
        layout = self.model.layout
        if place.kind == "cylinder":
            return Place("cylinder", str(layout.number(place)))
        if place.kind == "bank":
            return layout.bank_place(place.name)
        return place

    def add(self, index: int, entry: Entry) -> None:
        """Fold one entry; one that does not bear on the belief is passed over."""
        self.known.texts[index] = entry.line
        self.known.session = self.session_of[index]
        body = entry.body
        try:
            if isinstance(body, Reading):
                self._reading(index, body)
            elif isinstance(body, Finding):
                self._finding(index, body)
            elif isinstance(body, Work):
                self._work(index, body)
        except Refused:
            # a place this engine does not have: the line has already asked about it
            return

    def _reading(self, index: int, reading: Reading) -> None:
        place = self.resolve(reading.place)
        if reading.kind == "code":
            self._code(index, reading)
            return
        self._said(index, reading, place)
        if reading.kind == "miss" and not reading.doubt:
            (self.misfiring.discard if reading.word == "no" else self.misfiring.add)(place)
        kind = self.model.library.readings.get(reading.kind)
        if kind is not None and kind.complaint and not reading.doubt:
            if reading.word in ("yes", ""):
                self.standing.tell(self.moment, reading, place)
            elif reading.word == "no":
                self.standing.gone(reading, place)

    def _said(self, index: int, reading: Reading, place: Place) -> None:
        """What a reading says; of a complaint that is not there, knowing that it was noticed: before, or elsewhere."""
        said = self.model.clues.from_reading(index, reading, place, self.moment, self.known.session)
        gone = reading.word == "no" and self.standing.was_noticed(self.moment, reading, place)
        if gone or self._is_contrast(index, reading):
            said = [as_noticed(one) if one.same == f"{reading.kind} no" else one for one in said]
        if gone:
            self.model.timeline.tried.clear()  # what helped once may help again
        self.known.said += said

    def _is_contrast(self, index: int, reading: Reading) -> bool:
        """Whether the line says that it is there, and not under these conditions: "only in the wet"."""
        if reading.word != "no":
            return False
        line, told = self.entries[index].line, (reading.kind, reading.place, reading.who)
        bodies = (entry.body for entry in self.entries if entry.line == line)
        return any(
            isinstance(body, Reading)
            and body.word == "yes"
            and (body.kind, body.place, body.who) == told
            and body.conditions != reading.conditions
            for body in bodies
        )

    def _code(self, index: int, reading: Reading) -> None:
        if reading.doubt:
            return
        if reading.code == NO_CODES or reading.word == NO_CODES:
            self.codes_read.append(index)
            return
        found = code_at(self.model.library, reading.code)
        if found is None:
            return
        record, place = found
        if place not in self.model.acting.ladder_places(place.kind):
            return  # a bank or cylinder this engine does not have
        self.codes_read.append(index)
        self.named_codes.add(reading.code)
        if record.on == "burn":
            self.misfiring.add(place)
        if reading.state in REMEMBERED and any(at[:2] == (record, place) for at in self.standing.codes):
            return  # not cleared since it was read: it says nothing of what was done in between
        share = PENDING_SHARE if reading.state == "pending" else 1.0
        self.standing.codes.append((record, place, share))
        self._code_there(index, record, place, share)

    def _code_there(self, index: int, record: Code, place: Place, share: float) -> None:
        said = self.model.clues.from_code(index, record, place, self.moment, there=True)
        if share != 1.0:
            said = replace(said, table=said.table**share)
        self.known.said.append(said)

    def _finding(self, index: int, finding: Finding) -> None:
        library = self.model.library
        place = self.resolve(finding.place)
        snapshot = self.known.snapshots[-1]
        sits = self.model.places.get(finding.fault, [])
        instances = [
            snapshot.instance(library.faults[at.fault], at.place)
            for at in sits
            if at.place == place or (place == ENGINE and len(sits) == 1)
        ]
        self.known.found += [
            (index, instance, table)
            for instance, table in finding_instances(instances, finding.seen, finding.looked_share)
        ]

    def _work(self, index: int, work: Work) -> None:
        places = tuple(self.resolve(place) for place in work.places)
        to = self.resolve(work.to) if work.to is not None else None
        at = self.resolve(work.effect_at) if work.effect_at is not None else None
        work, at = self._told_by_before(index, work, places, to, at)
        self._as_it_was(index, work, places, to, at)
        timeline = self.model.timeline
        timeline.do(Work(do=work.do, part=work.part, places=places, to=to, origin=work.origin, who=work.who), places)
        self.known.snapshots.append(timeline.now)
        if work.do == "cleared":
            self.codes_read.clear()
            self.standing.codes.clear()
        if at is not None and at.kind == "cylinder":
            self._miss(index, at, "yes")
            for place in self._without_it(work, places, to, at):
                self._miss(index, place, "no")
        elif work.effect == "moved" and to is not None and len(places) == 1:
            self._miss(index, to, "yes")
            self._miss(index, places[0], "no")
        elif work.effect in STILL_THERE:
            self._as_before(index)
        elif work.effect == "cured":
            for complaint in self.standing.cured(work.part, said=self._says_what_is_gone(index)):
                self._once_more(index, complaint, "no")

    def _without_it(self, work: Work, places: tuple[Place, ...], to: Place | None, at: Place) -> list[Place]:
        """Cylinders of a work that do not miss after it: what moved left the others; who says that it stayed has looked
        whether the other of the swap misses now, and that says nothing only where it did before."""
        others = [place for place in (*places, *((to,) if to else ())) if place != at and place.kind == "cylinder"]
        if work.effect == "moved":
            return others
        swapped = work.do == "swapped" and work.effect == "stayed"
        return [place for place in others if place not in self.misfiring] if swapped else []

    def _told_by_before(
        self, index: int, work: Work, places: tuple[Place, ...], to: Place | None, at: Place | None
    ) -> tuple[Work, Place | None]:
        """A swap is typed either way round: where it missed before says which way the miss went.

        ``plug 1>3, now P0303`` reads as moved from 1 to 3. Where 3 missed before and 1 did not, it stayed; and where no
        code of the same line says that it is still on 3, "moved" means away from there.
        """
        if work.do != "swapped" or work.effect != "moved" or to is None or at != to or len(places) != 1:
            return work, at
        if to not in self.misfiring or places[0] in self.misfiring:
            return work, at
        if self._code_said(index, to):
            return msgspec.structs.replace(work, effect="stayed"), at
        return work, places[0]

    def _code_said(self, index: int, place: Place) -> bool:
        """Whether the line of an entry goes on with a misfire code of a place."""
        line = self.entries[index].line
        for entry in itertools.takewhile(lambda entry: entry.line == line, self.entries[index + 1 :]):
            code = entry.body.code if isinstance(entry.body, Reading) else ""
            found = code_at(self.model.library, code) if code else None
            if found is not None and found[0].on == "burn" and found[1] == place:
                return True
        return False

    def _as_it_was(self, index: int, work: Work, places: tuple[Place, ...], to: Place | None, at: Place | None) -> None:
        """What moved or stayed with a swap was there before it: at the other place, or at the same."""
        if work.do != "swapped" or to is None or len(places) != 1 or places[0].kind != "cylinder":
            return
        pair = (places[0], to)
        if work.effect == "moved":
            now = at if at in pair else to
            self._miss(index, pair[0] if now == pair[1] else pair[1], "yes")
            self._miss(index, now, "no")
        elif work.effect == "stayed" and at in pair:
            self._miss(index, at, "yes")

    def _miss(self, index: int, place: Place, word: str) -> None:
        reading = Reading(kind="miss", place=place, word=word)
        self.known.said += self.model.clues.from_reading(index, reading, place, self.moment, self.known.session)

    def _says_what_is_gone(self, index: int) -> bool:
        """Whether the line of an entry names a complaint that is gone."""
        line, readings = self.entries[index].line, self.model.library.readings
        return any(
            isinstance(entry.body, Reading)
            and entry.body.word == "no"
            and entry.body.kind in readings
            and readings[entry.body.kind].complaint
            for entry in itertools.takewhile(lambda entry: entry.line == line, self.entries[index + 1 :])
        )

    def _as_before(self, index: int) -> None:
        """Every complaint that stands, once more at this moment; a change that changed nothing left the codes, too."""
        for record, place, share in self.standing.codes:
            self._code_there(index, record, place, share)
        for complaint in self.standing.complaints:
            self._once_more(index, complaint, "yes")

    def _once_more(self, index: int, complaint: Complaint, word: str) -> None:
        told, place = complaint
        again = Reading(kind=told.kind, place=told.place, word=word, conditions=told.conditions, who=told.who)
        self._said(index, again, place)

    def finish(self) -> ExactBelief:
        """The belief, with the codes that were looked for and were not there."""
        if self.codes_read:
            self._absent_codes(self.codes_read[0])
        return ExactBelief(self.model, self.known)

    def _absent_codes(self, index: int) -> None:
        """What was looked for and not there: the others of a run, and with "no codes" the commonest ones.

        Every absence binds the faults it touches together, and "no code" clears little; the rest is left unsaid.
        """
        clues = self.model.clues
        named = {record.id for record in self._named()}
        for record in self.model.library.codes.values():
            if record.each and (record.id in named or (not self.named_codes and record.on == "burn")):
                for number, code in zip(self.model.layout.numbers(), code_run(record.id), strict=False):
                    if code not in self.named_codes:
                        place = Place(record.each, str(number))
                        self.known.said.append(
                            clues.from_code(index, record, place, self.moment, there=False, share=ABSENT_SHARE)
                        )
            elif not self.named_codes and record.on == "mixture" and 0 < record.bank <= len(self.model.layout.banks):
                place = Place("bank", str(record.bank))
                self.known.said.append(
                    clues.from_code(index, record, place, self.moment, there=False, share=ABSENT_SHARE)
                )

    def _named(self) -> list[Code]:
        found = (code_at(self.model.library, code) for code in self.named_codes)
        return [there[0] for there in found if there is not None]


def believe(library: Library, car: Car, layout: Layout, entries: Sequence[Entry]) -> ExactBelief:
    """The belief after all standing entries, given in time order; entry indexes are positions in ``entries``.

    Raises
    ------
    ImpossibleEvidence
        No set of faults explains the readings.
    """
    assembly = Assembly(library, car, layout, entries)
    for index, entry in enumerate(entries):
        assembly.add(index, entry)
    return assembly.finish()
