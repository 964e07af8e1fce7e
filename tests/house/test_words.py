"""What must not be read in this repository is found where it stands, and does not stand here."""

from __future__ import annotations

import codecs

import pytest

from tools import check_words


def test_no_tracked_file_has_a_problem() -> None:
    """No maker, product, index address or unfinished work in a tracked file; no vague name; none too long."""
    assert check_words.problems() == []


@pytest.mark.parametrize(
    ("shifted", "what"),
    [
        ("ercynpr gur fcnex cyht ol n ATX bar", "the name of a maker"),
        ("n Gblbgn jvgu fvk plyvaqref", "the name of a maker"),
        ("ernq jvgu na RYZ327", "the name of a product"),
        ("uggcf://svyrf.clgubaubfgrq.bet/k", "the address of a package index"),
        ("# GBQB jevgr guvf", "unfinished work"),
        ("nf Pynhqr fnvq", "a word of the workplace"),
    ],
)
def test_planted_word_is_found(shifted: str, what: str) -> None:
    """A planted line is reported with its file and line (kept shifted, so that it does not stand here either)."""
    (problem,) = check_words.problems_in("docs/a.md", "first\n" + codecs.decode(shifted, "rot13"))
    assert problem.startswith(f"docs/a.md:2: {what}: ")


def test_words_inside_other_words_are_left_alone() -> None:
    """`afford` holds a maker's name and is not one."""
    assert check_words.problems_in("a.md", "what he can afford to do; todo lists; a fluctuation") == []


def test_long_file_and_vague_name_are_found() -> None:
    """A Python file of 401 lines, and a file whose name says nothing."""
    assert check_words.problems_in("src/a.py", "x\n" * 400) == []
    assert check_words.problems_in("src/a.py", "x\n" * 401) == [
        "src/a.py: 401 lines; 400 is the most. Split it by ideas."
    ]
    assert check_words.problems_in("src/utils.py", "") == [
        "src/utils.py: the name says nothing. Name it for the one idea it holds."
    ]


def test_locks_and_vendored_texts_are_searched_for_index_addresses_only() -> None:
    """A package may be named after a company; where it came from is never written down."""
    assert check_words.problems_in("requirements/dev.txt", codecs.decode("ubaqn==1.0", "rot13")) == []
    assert len(check_words.problems_in("requirements/dev.txt", codecs.decode("uggcf://clcv.bet/k", "rot13"))) == 1
