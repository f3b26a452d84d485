"""The small changes that a hand could make in a file: a boundary moved, a sign turned, a step left out.

Each knows the lines of its statement, and the function that it stands in. Sentences are not changed.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import CodeType

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src"

COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
SUMS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult, ast.Pow: ast.Mult,
}  # fmt: skip
CALLS = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}


@dataclass(frozen=True)
class Where:
    """The lines of a statement, first and last, and of the outermost function that it stands in, with its name."""

    lines: range
    function: str = ""
    of_function: range = range(0)


@dataclass(frozen=True)
class Change:
    """One place to spoil: the module, where, what is done, and how."""

    module: str
    file: str
    line: int
    what: str
    place: int
    spoil: Callable[[ast.AST], ast.AST]
    where: Where

    def code(self) -> CodeType:
        """Compile the module with this place spoiled."""
        path = ROOT / self.file
        return compile(_spoiled(ast.parse(path.read_text("utf-8")), self.place, self.spoil), str(path), "exec")


Made = tuple[str, Callable[[ast.AST], ast.AST]]


# -------------------------------------------------------------------- what can be changed


def ways(node: ast.AST) -> Iterator[Made]:
    """Give every way to spoil one node: in words, and a function that spoils a copy of it."""
    for kind, found in _WAYS.items():
        if isinstance(node, kind):
            yield from found(node)


def _of_comparison(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.Compare)
    for place, operator in enumerate(node.ops):
        other = COMPARISONS[type(operator)]
        yield (
            f"{type(operator).__name__} becomes {other.__name__}",
            partial(_with, field="ops", place=place, kind=other),
        )


def _of_sum(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.BinOp | ast.AugAssign)
    other = SUMS.get(type(node.op))
    if other is not None:
        yield f"{type(node.op).__name__} becomes {other.__name__}", lambda spoiled: _set(spoiled, "op", other())


def _of_and_or(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.BoolOp)
    other = ast.Or if isinstance(node.op, ast.And) else ast.And
    yield f"{type(node.op).__name__} becomes {other.__name__}", lambda spoiled: _set(spoiled, "op", other())


def _of_sign(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.UnaryOp)
    if isinstance(node.op, ast.Not | ast.USub):
        yield f"{type(node.op).__name__} is left out", lambda spoiled: spoiled.operand  # type: ignore[attr-defined]


def _of_condition(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.If | ast.IfExp | ast.While)
    yield (
        "the condition is negated",
        lambda spoiled: _set(spoiled, "test", ast.UnaryOp(ast.Not(), spoiled.test)),  # type: ignore[attr-defined]
    )


def _of_number(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.Constant)
    value = node.value
    if isinstance(value, bool):
        yield f"{value} becomes {not value}", lambda spoiled: _set(spoiled, "value", not value)
    elif isinstance(value, int):
        yield f"{value} becomes {value + 1}", lambda spoiled: _set(spoiled, "value", value + 1)
    elif isinstance(value, float):
        new = 1.0 if value == 0.0 else 1.5 * value
        yield f"{value} becomes {new}", lambda spoiled: _set(spoiled, "value", new)


def _of_return(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.Return)
    if node.value is not None and not (isinstance(node.value, ast.Constant) and node.value.value is None):
        yield "nothing is returned", lambda spoiled: _set(spoiled, "value", ast.Constant(None))


def _of_call(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.Call)
    called = node.func
    name = called.id if isinstance(called, ast.Name) else called.attr if isinstance(called, ast.Attribute) else ""
    other = CALLS.get(name)
    if other is not None:
        field = "id" if isinstance(called, ast.Name) else "attr"
        yield f"{name} becomes {other}", lambda spoiled: _called(spoiled, field, other)


def _of_step(node: ast.AST) -> Iterator[Made]:
    steps = isinstance(node, ast.AugAssign | ast.Continue | ast.Break) or (
        isinstance(node, ast.Expr) and not isinstance(node.value, ast.Constant)
    )
    if steps:
        yield "the step is left out", lambda spoiled: ast.Pass()


_WAYS: dict[type[ast.AST], Callable[[ast.AST], Iterator[Made]]] = {
    ast.Compare: _of_comparison, ast.BinOp: _of_sum, ast.AugAssign: _of_sum, ast.BoolOp: _of_and_or,
    ast.UnaryOp: _of_sign, ast.If: _of_condition, ast.IfExp: _of_condition, ast.While: _of_condition,
    ast.Constant: _of_number, ast.Return: _of_return, ast.Call: _of_call, ast.stmt: _of_step,
}  # fmt: skip


def _set(node: ast.AST, field: str, value: object) -> ast.AST:
    setattr(node, field, value)
    return node


def _with(node: ast.AST, field: str, place: int, kind: type[ast.AST]) -> ast.AST:
    getattr(node, field)[place] = kind()
    return node


def _called(node: ast.AST, field: str, name: str) -> ast.AST:
    setattr(node.func, field, name)  # type: ignore[attr-defined]
    return node


# -------------------------------------------------------------------- where


def changes_of_file(path: Path) -> Iterator[Change]:
    """Give every change of one file."""
    tree = ast.parse(path.read_text("utf-8"))
    module = ".".join(path.relative_to(SOURCE).with_suffix("").parts).removesuffix(".__init__")
    alone = {id(part) for node in ast.walk(tree) for top in _left_alone(node) for part in ast.walk(top)}
    where = dict(_places(tree, Where(range(0))))
    for place, node in enumerate(ast.walk(tree)):
        if id(node) in alone:
            continue
        for what, spoil in ways(node):
            file, line = str(path.relative_to(ROOT)), getattr(node, "lineno", 0)
            yield Change(module, file, line, what, place, spoil, where[id(node)])


def _places(node: ast.AST, where: Where, inside: str = "") -> Iterator[tuple[int, Where]]:
    """Give for each node below, by its identity, where it stands."""
    yield id(node), where
    if isinstance(node, ast.ClassDef) and not where.function:
        inside += f"{node.name}."
    for child in ast.iter_child_nodes(node):
        there = where
        if isinstance(child, ast.stmt | ast.ExceptHandler):
            there = Where(_lines_of(child), where.function, where.of_function)
            if isinstance(node, ast.FunctionDef) and not where.function and child in node.body:
                there = Where(there.lines, inside + node.name, _body_of(node))
        yield from _places(child, there, inside)


def _lines_of(statement: ast.stmt | ast.ExceptHandler) -> range:
    """Give the lines of a statement; of one that holds others, those before the first of them."""
    body = getattr(statement, "body", None) or getattr(statement, "cases", None)
    if not body:
        return range(statement.lineno, (statement.end_lineno or statement.lineno) + 1)
    first = getattr(body[0], "lineno", statement.lineno + 1)
    return range(statement.lineno, max(first, statement.lineno + 1))


def _body_of(function: ast.FunctionDef) -> range:
    return range(function.body[0].lineno, (function.end_lineno or function.lineno) + 1)


def _left_alone(node: ast.AST) -> Iterator[ast.AST]:
    """Give what decides nothing: annotations, decorators, and what asserts tell the type checker."""
    if isinstance(node, ast.Assert):
        yield node
    if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
        yield node
    for name in ("annotation", "returns"):
        if getattr(node, name, None) is not None:
            yield getattr(node, name)
    yield from getattr(node, "decorator_list", ())


def _spoiled(tree: ast.Module, place: int, spoil: Callable[[ast.AST], ast.AST]) -> ast.Module:
    """Copy the tree and spoil the node at a place of its walk."""
    found = copy.deepcopy(tree)
    node = next(each for number, each in enumerate(ast.walk(found)) if number == place)
    new = spoil(node)
    if new is not node:
        _replace(found, node, new)
    return ast.fix_missing_locations(found)


def _replace(tree: ast.Module, old: ast.AST, new: ast.AST) -> None:
    for parent in ast.walk(tree):
        for field, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, field, new)
            elif isinstance(value, list) and any(each is old for each in value):
                setattr(parent, field, [new if each is old else each for each in value])
