"""Jobs: the journal of every car being brought back, kept on disk so that nothing is lost.

=============  ====================================================================================
``store``      the journal on SQLite: entries are added, never changed
``fold``       what the entries of a job amount to: which of them stand, what undo takes back
``export``     a journal as text, one JSON line an entry, and back again
``card``       names, plates and numbers of people: outside the journal, can be erased
``copies``     a copy in a second folder for each day of work, and the way back from it
=============  ====================================================================================

Only ``store`` and what builds on it needs a database library, so only ``fold`` can be had from here.
"""

from knowngood.jobs.fold import UNDO, birth, standing, undo

__all__ = ["UNDO", "birth", "standing", "undo"]
