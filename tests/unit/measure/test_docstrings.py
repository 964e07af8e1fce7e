"""Every public computation says what it takes, gives, refuses and cannot tell."""

import inspect
from collections.abc import Callable

import pytest

from tests.unit.measure.computations import computations, is_se


@pytest.mark.parametrize("function", [pytest.param(function, id=name) for name, function in computations().items()])
def test_docstring_is_whole(function: Callable[..., object]) -> None:
    """Parameters, Returns, Raises, Notes that begin with what it cannot tell, an example; every argument is named."""
    text = inspect.getdoc(function) or ""
    taken = inspect.signature(function).parameters
    for part in (*(["Parameters\n", "Raises\n"] if taken else []), "Returns\n", "Notes\n", "Examples\n"):
        assert f"{part}---" in text, part
    notes = text.split("Notes\n-----\n")[1]
    assert notes.startswith("Cannot tell:")
    arguments = text.split("Returns\n-------")[0]
    assert [name for name in taken if name not in arguments] == []


TAKEN_AS_SOUND = ("taken as given when nothing is said", "exact when nothing is said")


@pytest.mark.parametrize(
    "function",
    [
        pytest.param(function, id=name)
        for name, function in computations().items()
        if any(is_se(key) and one.default == 0.0 for key, one in inspect.signature(function).parameters.items())
    ],
)
def test_error_of_nothing_by_default_is_said(function: Callable[..., object]) -> None:
    """A reading that is taken for exact unless its error is given: who reads the result has to know."""
    text = " ".join((inspect.getdoc(function) or "").split())
    assert any(words in text for words in TAKEN_AS_SOUND)
