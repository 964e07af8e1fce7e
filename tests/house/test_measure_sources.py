"""Every reference that a measurement names is one of the library's sources, title and section."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator

import pytest

import knowngood.measure
from knowngood.library.load import load

PLAIN = {"common_practice", "specification", "own_drives"}
"""Sources that are no text and need no more than their title to be found."""


def keys() -> Iterator[tuple[str, str]]:
    """Where, and the key, of every line under References; two keys may share a line."""
    for one in pkgutil.iter_modules(knowngood.measure.__path__):
        module = importlib.import_module(f"knowngood.measure.{one.name}")
        for name, thing in inspect.getmembers(module):
            if getattr(thing, "__module__", "") != module.__name__:
                continue
            parts = re.split(r"^References\n-+\n", inspect.getdoc(thing) or "", maxsplit=1, flags=re.MULTILINE)
            if len(parts) == 2:
                lines = re.split(r"\n\n\w+\n-+\n", parts[1])[0]
                for named in re.findall(r"^(\w+(?:, \w+)*) : ", lines, re.MULTILINE):
                    yield from ((f"{one.name}.{name}", key) for key in named.split(", "))


NAMED = sorted({key for _, key in keys()})


@pytest.mark.parametrize("key", NAMED)
def test_key_is_a_source(key: str) -> None:
    """With a title of its own and a section."""
    source = load().sources.get(key)
    assert source is not None, [where for where, one in keys() if one == key]
    assert len(source.title) >= 8
    assert source.section or key in PLAIN


def test_keys_are_found() -> None:
    """The search sees the references: dozens of keys, and those of known functions among them."""
    assert len(NAMED) >= 50
    assert ("boiling.water_boiling", "iapws_if97") in set(keys())


def test_no_source_of_measurements_is_idle() -> None:
    """The file of their sources holds none that no formula names."""
    from importlib.resources import files

    text = (files("knowngood.library") / "data" / "20_sources_measurements.toml").read_text(encoding="utf-8")
    assert set(re.findall(r'^id = "(\w+)"$', text, re.MULTILINE)) <= set(NAMED)
