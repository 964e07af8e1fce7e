"""Small faults put into the code on purpose: every place of a file where one can be, and the file with it.

A test that passes with such a fault in place did not look there. Kinds: a comparison shifted or turned round, another
arithmetic, a number changed, ``and`` for ``or``, a truth value turned, nothing returned, a call left out. Words,
annotations, decorators and what a class only declares are left alone: faults there are caught by mypy or harm nobody.
"""

from __future__ import annotations

import ast
import copy
import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
WORKED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
    ast.MatMult: ast.Mult,
}


Way = tuple[tuple[str, int | None], ...]


@dataclass(frozen=True)
class Mutant:
    """One fault.

    Parameters
    ----------
    file : Path
    line : int
    what : str
        What was turned into what, as code.
    text : str
        The file without it, as it was when the fault was drawn.
    path : tuple
        The way from the file's root to the node.
    after : ast.AST
        What stands in its place.
    key : str
        Made of the fault and of what stands around it, not of where in the file it stands: the same one after an edit
        elsewhere.
    """

    file: Path
    line: int
    what: str
    text: str
    path: Way
    after: ast.AST
    key: str

    def source(self) -> str:
        """The whole file with the fault in it."""
        tree = ast.parse(self.text)
        _put(tree, self.path, self.after)
        return ast.unparse(ast.fix_missing_locations(tree))


def mutants(file: Path, seed: int) -> Iterator[Mutant]:
    """Every fault that can be put into a file, one at a time."""
    text = file.read_text(encoding="utf-8")
    tree = ast.parse(text)
    met: dict[str, int] = {}
    for path, place in _sites(tree):
        before = _at(tree, path)
        for number, after in enumerate(_faults(before)):
            was, now = _short(before), _short(after)
            told = f"{seed} {file} {place} {was} {now} {number}"
            met[told] = met.get(told, 0) + 1
            key = hashlib.sha256(f"{told} {met[told]}".encode()).hexdigest()[:16]
            yield Mutant(file, getattr(before, "lineno", 0), f"{was}  ->  {now}", text, path, after, key)


def _sites(tree: ast.AST) -> Iterator[tuple[Way, str]]:
    """Ways to every node inside a function, each with the function's name."""

    def walk(node: ast.AST, path: Way, name: str) -> Iterator[tuple[Way, str]]:
        inside = isinstance(node, (ast.FunctionDef, ast.Lambda))
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)):
            name = f"{name}.{node.name}"
        if name and not inside and not isinstance(node, ast.ClassDef):
            yield path, name
        for field, value in ast.iter_fields(node):
            if field in ("annotation", "returns", "decorator_list", "ctx", "type_params"):
                continue
            if isinstance(node, ast.ClassDef):
                for number, one in enumerate(value if field == "body" else []):
                    if isinstance(one, (ast.FunctionDef, ast.ClassDef)):
                        yield from walk(one, (*path, (field, number)), name)
            elif isinstance(value, list):
                for number, one in enumerate(value):
                    if isinstance(one, ast.AST):
                        yield from walk(one, (*path, (field, number)), name)
            elif isinstance(value, ast.AST):
                yield from walk(value, (*path, (field, None)), name)

    yield from walk(tree, (), "")


def _faults(node: ast.AST) -> list[ast.AST]:
    """What may stand in a node's place."""
    if isinstance(node, ast.Compare) and len(node.ops) == 1:
        return [ast.Compare(node.left, [COMPARED[type(node.ops[0])]()], node.comparators)]
    if isinstance(node, ast.BinOp) and type(node.op) in WORKED and not _is_text(node):
        return [ast.BinOp(node.left, WORKED[type(node.op)](), node.right)]
    if isinstance(node, ast.AugAssign) and type(node.op) in WORKED:
        return [ast.AugAssign(node.target, WORKED[type(node.op)](), node.value)]
    if isinstance(node, ast.BoolOp):
        return [ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values)]
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, (ast.Not, ast.USub)):
        return [node.operand]
    if isinstance(node, (ast.If, ast.IfExp)) and not _is_typing(node.test):
        turned = copy.deepcopy(node)
        turned.test = ast.UnaryOp(ast.Not(), turned.test)
        return [turned]
    if isinstance(node, ast.Constant) and isinstance(node.value, (bool, int, float)):
        return [ast.Constant(not node.value if isinstance(node.value, bool) else node.value + 1)]
    if isinstance(node, ast.Return) and node.value is not None and not _is_none(node.value):
        return [ast.Return(ast.Constant(None))]
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
        return [ast.Pass()]
    return []


def _is_text(node: ast.BinOp) -> bool:
    return any(
        isinstance(side, ast.JoinedStr) or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in (node.left, node.right)
    )


def _is_typing(test: ast.expr) -> bool:
    return isinstance(test, ast.Name) and test.id == "TYPE_CHECKING"


def _is_none(value: ast.expr) -> bool:
    return isinstance(value, ast.Constant) and value.value is None


def _at(tree: ast.AST, path: Way) -> ast.AST:
    for field, number in path:
        tree = getattr(tree, field) if number is None else getattr(tree, field)[number]
    return tree


def _put(tree: ast.AST, path: Way, node: ast.AST) -> None:
    holder = _at(tree, path[:-1])
    field, number = path[-1]
    if number is None:
        setattr(holder, field, node)
    else:
        getattr(holder, field)[number] = node


def _short(node: ast.AST) -> str:
    """A node as code; of a branch only what it asks."""
    if isinstance(node, ast.If):
        return f"if {ast.unparse(node.test)}"
    return " ".join(ast.unparse(node).split())[:120]
