"""The knowledge: faults, checks, readings, parts, access, codes, cautions, as checked records."""

from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.library.rules import check_library

__all__ = ["Library", "check_library", "load"]
