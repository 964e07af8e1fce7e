"""One line of typing or speech into entries.

``read_line(text, car, library, recent)`` reads a line; ``read_notes(text, library)`` a whole notes file;
``recent_after`` carries on what the next line may leave out.

A line is cut into tokens (``scan``), the words looked up (``vocabulary``), tokens gathered into elements
(``elements``), and the elements tried against the structured forms of ``grammar.lark`` (codes, swaps, a stopped
cylinder, work), against rows and readings (``series``, ``rows``), and at last as free words (``phrases``).

What none of these hears is held against every look, test and complaint of the library, by what it is of and what it
showed (``looks``). A clause that leaves something over is tried as two statements (``attempts``). What is half
understood is kept in doubt and asked about (``half_heard``); what nothing was made of is kept as a note.
"""

from knowngood.lines.line import LONGEST_LINE, read_line
from knowngood.lines.named import areas_named, parts_named
from knowngood.lines.notes import NotedLine, Notes, read_notes
from knowngood.lines.understood import Recent, Understood, recent_after

__all__ = [
    "LONGEST_LINE",
    "NotedLine",
    "Notes",
    "Recent",
    "Understood",
    "areas_named",
    "parts_named",
    "read_line",
    "read_notes",
    "recent_after",
]
