"""Small wrong changes to a Python source, one at a time: what a good test would notice.

The existing runners were looked at. mutmut copies every variant of every function into the module and cannot touch
module constants; cosmic-ray keeps a database and runs one test command for all mutants, whatever they touch. Neither
samples by a seed and meets each mutant with only the tests that cover it, so the few operators that matter are here.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

ARITHMETIC = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
              ast.FloorDiv: ast.Mult, ast.Mod: ast.Mult}
NEGATED = {ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
           ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In}
EDGE = {ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt}
SWAPPED = {"min": "max", "max": "min", "floor": "ceil", "ceil": "floor", "any": "all", "all": "any"}
# A declaration's bounds, labels and help are read by form, check and link, and have their own sweep of tests.
DECLARATIONS = {"Field", "Result", "Table", "Choice", "relation", "TypeVar"}
# Smaller numbers are allowances for rounding: any other as small does the same work.
HAIR = 1e-6
Change = Callable[[], None]


@dataclass(frozen=True, order=True)
class Mutant:
    """One change: its place among those of its file, the statement's lines, and the expression before and after."""

    path: str
    place: int
    line: int
    last_line: int
    within: str
    kind: str
    before: str
    after: str

    @property
    def name(self) -> str:
        """Where and what, on one line."""
        return f"{self.path}:{self.line} in {self.within or 'the module'}: {self.before}  ->  {self.after}"


def _of_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or isinstance(node, ast.Constant) and isinstance(node.value, str)


def _is_docstring(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and _of_text(node.value)


def _changes(node: ast.AST) -> Iterator[tuple[str, Change]]:
    """(kind, change in place) for each way to make one node wrong."""
    if isinstance(node, ast.BinOp | ast.AugAssign) and type(node.op) in ARITHMETIC:
        if isinstance(node, ast.AugAssign) or not (_of_text(node.left) or _of_text(node.right)):
            yield "arithmetic", lambda: setattr(node, "op", ARITHMETIC[type(node.op)]())
    elif isinstance(node, ast.Compare):
        for place, operator in enumerate(node.ops):
            for kind, table in (("comparison", NEGATED), ("edge", EDGE)):
                new = table.get(type(operator))
                if new:
                    yield kind, lambda at=place, new=new: node.ops.__setitem__(at, new())
    elif isinstance(node, ast.BoolOp):
        yield "boolean", lambda: setattr(node, "op", ast.Or() if isinstance(node.op, ast.And) else ast.And())
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub) and not isinstance(node.operand, ast.Constant):
        yield "arithmetic", lambda: setattr(node, "op", ast.UAdd())
    elif isinstance(node, ast.Constant):
        yield from _constants(node)
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SWAPPED:
        yield "swap", lambda: setattr(node.func, "id", SWAPPED[node.func.id])
    elif isinstance(node, ast.Return) and node.value is not None and not isinstance(node.value, ast.Constant):
        yield "return", lambda: setattr(node, "value", ast.Constant(None))
    elif isinstance(node, ast.If | ast.IfExp) and not isinstance(node.test, ast.Compare | ast.BoolOp):
        yield "condition", lambda: setattr(node, "test", ast.UnaryOp(ast.Not(), node.test))


def _constants(node: ast.Constant) -> Iterator[tuple[str, Change]]:
    value = node.value
    if isinstance(value, bool):
        yield "constant", lambda: setattr(node, "value", not value)
    elif isinstance(value, int):
        yield "constant", lambda: setattr(node, "value", value + 1)
    elif isinstance(value, float) and (value == 0.0 or abs(value) >= HAIR):
        yield "constant", lambda: setattr(node, "value", value * 1.25 if value else 1.0)


def _children(node: ast.AST) -> Iterator[ast.AST]:
    """What may be changed below a node: not annotations, decorators, docstrings or declarations."""
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list", "format_spec"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if not isinstance(child, ast.AST) or _is_docstring(child):
                continue
            if isinstance(child, ast.Call) and isinstance(child.func, ast.Name) and child.func.id in DECLARATIONS:
                continue
            if isinstance(child, ast.If) and isinstance(child.test, ast.Name) and child.test.id == "TYPE_CHECKING":
                continue
            # zip(strict=True) watches the program, and decides nothing.
            if isinstance(child, ast.keyword) and child.arg == "strict":
                continue
            yield child


def _sites(node: ast.AST, statement: ast.stmt | None = None, within: str = "",
           ) -> Iterator[tuple[ast.AST, ast.stmt, str, str, Change]]:
    """(node, its statement, function it stands in, kind, change) in the order of the source."""
    if isinstance(node, ast.stmt):
        statement = node
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        within = f"{within}.{node.name}".lstrip(".")
    for kind, change in _changes(node):
        yield node, statement, within, kind, change
    for child in _children(node):
        yield from _sites(child, statement, within)


def _last_line(statement: ast.stmt) -> int:
    """Last line of a simple statement, or of a compound one's head; of a function all of it, for what its head says
    was said when the module was loaded, and is met when the function runs."""
    if isinstance(statement, ast.FunctionDef):
        return statement.end_lineno or statement.lineno
    body = getattr(statement, "body", None)
    return max(statement.lineno, body[0].lineno - 1) if body else statement.end_lineno or statement.lineno


def _part_of(node: ast.AST) -> ast.AST:
    """What is shown of a node: of a branch only its condition."""
    return node.test if isinstance(node, ast.If | ast.IfExp) else node


def mutants(root: Path, path: str) -> list[Mutant]:
    """All mutants of one file."""
    tree = ast.parse((root / path).read_text(encoding="utf-8"))
    found = []
    for place, (node, statement, within, kind, change) in enumerate(_sites(tree)):
        before = ast.unparse(_part_of(node))
        kept = dict(vars(node))
        lists = {name: list(value) for name, value in kept.items() if isinstance(value, list)}
        function = node.func.id if kind == "swap" else ""
        change()
        after = ast.unparse(_part_of(node))
        vars(node).update(kept)
        vars(node).update(lists)
        if function:
            node.func.id = function
        found.append(Mutant(path, place, statement.lineno, _last_line(statement), within, kind, before, after))
    return found


def source_of(root: Path, mutant: Mutant) -> str:
    """The whole file with that one change in it."""
    tree = ast.parse((root / mutant.path).read_text(encoding="utf-8"))
    for place, (*_, change) in enumerate(_sites(tree)):
        if place == mutant.place:
            change()
            return ast.unparse(ast.fix_missing_locations(tree)) + "\n"
    raise LookupError(mutant.name)
