"""Kinds of records: their ``[[table]]`` in the files and their place in the library."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from knowngood.library import branch_records, fitted_records, job_records, records, way_records
from knowngood.library.record import Record
from knowngood.library.records import Library


@dataclass(frozen=True)
class Kind:
    """A kind of record: the name of its ``[[table]]``, its form, its place in the library, the key that names it."""

    table: str
    form: type[Record]
    place: str
    key: str = "id"


KINDS = (
    Kind("source", records.Source, "sources"),
    Kind("ladder", records.Ladder, "ladders"),
    Kind("fault", records.Fault, "faults"),
    Kind("reading", records.ReadingKind, "readings"),
    Kind("check", records.Check, "checks"),
    Kind("part", records.Part, "parts"),
    Kind("access", records.AccessStep, "access"),
    Kind("code", records.Code, "codes"),
    Kind("caution", records.Caution, "cautions"),
    Kind("gate", job_records.Gate, "gates"),
    Kind("tool", job_records.Tool, "tools"),
    Kind("area", records.Area, "areas"),
    Kind("layout", records.EngineLayout, "layouts"),
    Kind("killed", job_records.Killed, "killed"),
    Kind("service", job_records.Service, "services"),
    Kind("stage", job_records.Stage, "stages"),
    Kind("until_then", job_records.UntilThen, "until_then"),
    Kind("after_work", job_records.AfterWork, "after_work"),
    Kind("way", way_records.Way, "ways"),
    Kind("branch", branch_records.Branch, "branches"),
    Kind("consumer", branch_records.Consumer, "consumers"),
    Kind("branch_fault", records.BranchFault, "branch_faults"),
    Kind("branch_reading", records.BranchReading, "branch_readings"),
    Kind("branch_check", records.BranchCheck, "branch_checks"),
    Kind("fitted", fitted_records.Fitted, "fitted", key="field"),
)
KIND_OF = {kind.table: kind for kind in KINDS}


def records_of(library: Library, table: str) -> Mapping[str, Any]:
    """All records of the kind with that name of table."""
    found: Mapping[str, Any] = getattr(library, KIND_OF[table].place)
    return found
