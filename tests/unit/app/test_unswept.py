"""Work without a halt for what is free again."""

from __future__ import annotations

import gc

import pytest

from knowngood.app.unswept import unswept


def test_nothing_is_looked_through_until_the_end() -> None:
    """However many things are made, no look begins; afterwards looks are made as before."""
    looks: list[str] = []

    def look(phase: str, _: object) -> None:
        looks.append(phase)

    gc.callbacks.append(look)
    try:
        with unswept():
            kept = [[number] for number in range(10 * gc.get_threshold()[0])]
            assert not looks
        kept += [[number] for number in range(10 * gc.get_threshold()[0])]
        assert looks
    finally:
        gc.callbacks.remove(look)


def test_one_within_another_and_one_that_fails_leave_it_as_it_was() -> None:
    """The inner end does not begin the looks again, and a failure does not end them for good."""
    with unswept():
        with unswept():
            pass
        assert not gc.isenabled()
    assert gc.isenabled()
    with pytest.raises(KeyError), unswept():
        raise KeyError
    assert gc.isenabled()
