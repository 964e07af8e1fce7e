"""Where the code is harder to read than it should be: ``.venv/bin/python tools/read_code.py``.

Functions longer than a screen, files longer than 400 lines, public functions without a docstring, or with one that
leaves out an argument or an error of ours. What is listed is a place to look at, not a fault by itself.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
DOORS = ("cli", "web")  # what they raise is shown, not caught
SCREEN, LONGEST_FILE = 50, 400  # lines; a function's own docstring is not counted
Function = ast.FunctionDef | ast.AsyncFunctionDef
OURS = ("NotMeasurable", "Refused", "LibraryInvalid", "StoreDamaged", "ImpossibleEvidence")


def functions_in(tree: ast.AST, name: str = "") -> Iterator[tuple[Function, bool]]:
    """Every function, and whether it is public: its own name and those around it, and none inside another."""
    for node in ast.iter_child_nodes(tree):
        inside = f"{name}.{node.name}" if isinstance(node, Function | ast.ClassDef) else name
        if isinstance(node, Function):
            yield node, "._" not in inside and "()" not in inside
            inside += "()"
        yield from functions_in(node, inside)


def own_lines(function: Function) -> int:
    """Lines of a function without its docstring."""
    first = function.body[0]
    told = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
    words = (first.end_lineno or 0) - first.lineno + 1 if told else 0
    return (function.end_lineno or 0) - function.lineno + 1 - words


def left_unsaid(function: Function) -> list[str]:
    """What the docstring of a public function does not say that its body does."""
    told = ast.get_docstring(function) or ""
    missing = [] if told else ["no docstring"]
    raised = {ast.unparse(node.exc) for node in ast.walk(function) if isinstance(node, ast.Raise) and node.exc}
    missing += [one for one in OURS if one not in told and any(error.startswith(one) for error in raised)]
    arguments = [one.arg for one in function.args.args + function.args.kwonlyargs if one.arg != "self"]
    if arguments and "Parameters\n" in told:
        missing += [f"parameter {name}" for name in arguments if name not in told]
    return missing


def main() -> None:
    files = sorted((ROOT / "src").rglob("*.py")) + sorted((ROOT / "tools").glob("*.py"))
    for file in files + sorted((ROOT / "benchmarks").glob("*.py")) + sorted((ROOT / "tests").rglob("*.py")):
        text = file.read_text(encoding="utf-8")
        here = file.relative_to(ROOT)
        if (lines := len(text.splitlines())) > LONGEST_FILE:
            print(f"{here}: {lines} lines")
        for function, public in functions_in(ast.parse(text)):
            if (lines := own_lines(function)) > SCREEN:
                print(f"{here}:{function.lineno} {function.name}: {lines} lines")
            if here.parts[0] == "src" and here.parts[2] not in DOORS and public:
                for what in left_unsaid(function):
                    print(f"{here}:{function.lineno} {function.name}: {what} is not said")


if __name__ == "__main__":
    main()
