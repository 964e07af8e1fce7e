"""Every public computation says what it takes, gives, refuses and cannot tell."""

import importlib
import inspect
import pkgutil
from collections.abc import Callable, Iterator

import pytest

import knowngood.measure

MACHINERY = {"bracket", "given", "spread"}


def computations() -> Iterator[tuple[str, Callable[..., object]]]:
    for found in pkgutil.iter_modules(knowngood.measure.__path__):
        if found.name in MACHINERY:
            continue
        module = importlib.import_module(f"knowngood.measure.{found.name}")
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and not name.startswith("_"):
                yield f"{found.name}.{name}", function


@pytest.mark.parametrize("function", [pytest.param(function, id=name) for name, function in computations()])
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
