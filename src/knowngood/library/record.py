"""What every record of the knowledge files is."""

from __future__ import annotations

import msgspec


class Record(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Base of all records: frozen, keyword only, unknown keys refused."""
