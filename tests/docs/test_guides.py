"""Guides are followed to the letter: files are written as shown, commands are run as shown."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from knowngood.car import Car
from knowngood.cli.main import cli
from knowngood.errors import LibraryInvalid
from knowngood.evidence import Note
from knowngood.library.load import load
from knowngood.lines import read_line

GUIDES = Path(__file__).parents[2] / "docs" / "guides"
_BLOCK = re.compile(r"```(toml|text|sh)\n(.*?)```", re.DOTALL)


def blocks(guide: str) -> list[tuple[str, str]]:
    """Form and text of every block of a guide, in order."""
    return _BLOCK.findall((GUIDES / guide).read_text(encoding="utf-8"))


def write_files(guide: str, folder: Path) -> None:
    """Writes every file of a guide; the first line of a block names it."""
    for form, body in blocks(guide):
        if form != "sh":
            name, content = body.split("\n", 1)
            path = folder / name.removeprefix("# ")
            path.parent.mkdir(exist_ok=True)
            path.write_text(content, encoding="utf-8")


def follow(guide: str, folder: Path) -> str:
    """Writes the files of a guide and runs its commands: everything they said."""
    write_files(guide, folder)
    said = []
    for line in (line for form, body in blocks(guide) if form == "sh" for line in body.splitlines()):
        words = shlex.split(line)
        assert words[0] == "knowngood"
        result = CliRunner().invoke(cli, ["--home", str(folder / "home"), *words[1:]])
        assert result.exit_code == 0, f"{line}: {result.output}"
        said.append(result.output)
    return " ".join("".join(said).split())


@pytest.mark.parametrize(
    ("guide", "says"),
    [
        ("adding-a-fault.md", ("oil cooler or its hoses weep", "Oil cooler looked at from below", "15 in 1,000")),
        ("adding-a-check.md", ("Dye in the oil, a day later the lamp", "It sees", "oil pressure switch")),
        ("adding-a-car.md", ("V6 across the car, plenum in two halves: 20 to open, 24 to close", "Most likely")),
    ],
)
def test_guide_does_what_it_says(
    guide: str, says: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Following it word for word works, and shows what it promises."""
    monkeypatch.chdir(tmp_path)
    said = follow(guide, tmp_path)
    for words in says:
        assert words in said


@pytest.mark.parametrize("guide", ["adding-a-fault.md", "adding-a-check.md", "adding-a-car.md"])
def test_a_slip_in_a_guide_is_found(guide: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The command the guide ends with says where the mistake is when one word is spelled wrong."""
    monkeypatch.chdir(tmp_path)
    write_files(guide, tmp_path)
    path = next((tmp_path / "my-library").glob("*.toml"))
    path.write_text(path.read_text(encoding="utf-8").replace("source = ", "sorce = ", 1), encoding="utf-8")
    with pytest.raises(
        LibraryInvalid, match=rf"{path.name}:\d+: .*sorce: no key is called 'sorce'. Did you mean 'source'"
    ):
        CliRunner().invoke(cli, ["library", "--check", "my-library"], catch_exceptions=False)


def test_a_folder_put_into_the_workshop_is_used(tmp_path: Path) -> None:
    """What a guide made is known to every command once it stands in the workshop; before that it is not."""
    home = tmp_path / "home"
    ask = ["--home", str(home), "library", "oil_cooler_weeps"]
    before = CliRunner().invoke(cli, ask)
    write_files("adding-a-fault.md", tmp_path)
    home.mkdir(exist_ok=True)
    (tmp_path / "my-library").rename(home / "library")
    assert before.exit_code != 0
    assert "oil cooler or its hoses weep" in CliRunner().invoke(cli, ask).output
    notes = tmp_path / "notes.txt"
    notes.write_text("4 cylinders inline\nleaks oil\noil cooler wet\n", encoding="utf-8")
    said = " ".join(CliRunner().invoke(cli, ["--home", str(home), "weigh", str(notes)]).output.split())
    assert "oil cooler" in said


TYPED = re.findall(r"^\| [^|]+ \| (.+) \|$", (GUIDES / "first-car.md").read_text(encoding="utf-8"), re.MULTILINE)
EXAMPLES = [line for cell in TYPED for line in re.findall(r"`([^`]+)`", cell)]


@pytest.mark.parametrize("line", EXAMPLES)
def test_what_the_guide_says_to_type_is_understood(line: str) -> None:
    """Every example of the table: entries, nothing left over, nothing kept as a note."""
    car = Car(cylinders=6, form="inline", ignition="coil on plug")
    found = read_line(line, car, load())
    assert found.bodies
    assert found.left == ()
    assert not any(isinstance(body, Note) for body in found.bodies)


def test_the_guide_says_enough_to_type() -> None:
    """The table was found."""
    assert len(EXAMPLES) > 20
