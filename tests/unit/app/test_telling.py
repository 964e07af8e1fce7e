"""What a check tells of which suspect is behind."""

from __future__ import annotations

import math

import numpy as np
import pytest

from knowngood.app.telling import entropy, told_by


def test_entropy_of_even_outcomes_is_the_logarithm_of_their_number() -> None:
    """Cover and Thomas, Elements of Information Theory, 2.1 (from memory): log2 n for n even outcomes."""
    for count in (1, 2, 8):
        assert entropy(np.ones(count)) == pytest.approx(math.log2(count))


def test_information_of_a_noisy_channel() -> None:
    """A binary symmetric channel with even inputs carries 1 - H(p) bits (Cover and Thomas, 7.1.4, from memory)."""
    wrong = 0.11
    like = np.array([[1 - wrong, wrong], [wrong, 1 - wrong]])
    lost = -wrong * math.log2(wrong) - (1 - wrong) * math.log2(1 - wrong)
    assert told_by(like, np.array([0, 1])) == pytest.approx(1.0 - lost)


def test_outcomes_that_hang_on_nothing_tell_nothing() -> None:
    """The same chances in every draw."""
    assert told_by(np.full((3, 6), 1 / 3), np.array([0, 0, 1, 1, 2, 2])) == pytest.approx(0.0, abs=1e-12)
