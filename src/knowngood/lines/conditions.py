"""Conditions as said, settled into the regimes and modifiers of the library."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.library.records import MODIFIERS, REGIMES
from knowngood.lines.reader import Reader

STARTS = ("cold start", "cranking", "hot restart")
STAYS_PLAIN = (
    "resistance",
    "lead_resistance",
    "coil_primary",
    "coil_secondary",
    "injector_resistance",
    "sensor_resistance",
    "gap",
)
"""Measured at rest: "hot" and "cold" say how warm the part was, not how the engine ran."""


def settled(reader: Reader, kind: str, said: Sequence[str]) -> tuple[str, tuple[str, ...]]:
    """The kind of reading and its conditions: one regime first, then modifiers, then what is kept as said.

    ``cold`` beside ``idle`` is "cold idle"; alone it is a cold start for what is about starting, a cold idle for what
    runs, and stays a plain word for a part measured by itself. ``wet`` makes a compression a wet one.
    """
    names = [name for name in dict.fromkeys(said) if name != "after a wait"]
    if kind in ("compression", "compression_wet"):
        kind = "compression_wet" if "wet" in names else kind
        names = [name for name in names if name not in ("wet", "dry")]
    temperature = "cold" if "cold" in names else "hot" if "hot" in names else ""
    if temperature and not _is_plain(reader, kind):
        names = [name for name in names if name not in ("cold", "hot")]
        if "hot idle" in names:
            names[names.index("hot idle")] = f"{temperature} idle"
        elif not any(name in REGIMES for name in names):
            starts = _about_starting(reader, kind)
            names.append(
                ("cold start" if temperature == "cold" else "hot restart") if starts else f"{temperature} idle"
            )
    ranks = {**dict.fromkeys(REGIMES, 0), **dict.fromkeys(MODIFIERS, 1)}
    return kind, tuple(sorted(names, key=lambda name: ranks.get(name, 2)))


def _is_plain(reader: Reader, kind: str) -> bool:
    record = reader.kind_record(kind)
    words = reader.vocabulary.kinds.get(kind)
    quantity = record.quantity if record is not None else words.quantity if words else ""
    return quantity in STAYS_PLAIN or kind in ("compression", "compression_wet", "leakdown")


def _about_starting(reader: Reader, kind: str) -> bool:
    record = reader.kind_record(kind)
    if record is None:
        return "start" in kind or "crank" in kind
    return record.when in STARTS or record.on in ("start", "turns", "crank_speed") or "start" in kind
