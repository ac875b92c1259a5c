"""What is checked is what runs: every relation is used by a plan, or says that it is there for reference only."""

import ast
from pathlib import Path

import pytest

import calc
from calc.relations import RELATIONS

ROOT = Path(calc.__file__).parent
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


def module_name(file: Path) -> str:
    parts = file.relative_to(ROOT.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def absolute(node: ast.ImportFrom, name: str, is_package: bool) -> str:
    """The module that an import names, with its dots worked out."""
    if not node.level:
        return node.module or ""
    base = name.split(".")
    base = base[:len(base) - node.level + (1 if is_package else 0)]
    return ".".join([*base, *([node.module] if node.module else [])])


class Uses(ast.NodeVisitor):
    """Full names (``calc.relations.heat.wet_bulb``) that code refers to, through import aliases and past local names.

    To cite is not to use: ``heat.wet_bulb.relation.source`` does not count, nor does the relation that ``put`` prints
    beside a value made elsewhere.
    """

    def __init__(self, aliases: dict[str, str]):
        self.aliases = aliases
        self.hidden: list[set[str]] = []
        self.found: set[str] = set()

    def full(self, node: ast.expr) -> str | None:
        if isinstance(node, ast.Name):
            if isinstance(node.ctx, ast.Load) and not any(node.id in names for names in self.hidden):
                return self.aliases.get(node.id)
            return None
        if isinstance(node, ast.Attribute) and (base := self.full(node.value)):
            return f"{base}.{node.attr}"
        return None

    def visit_Name(self, node: ast.Name) -> None:
        if name := self.full(node):
            self.found.add(name)

    def visit_Attribute(self, node: ast.Attribute) -> None:
        if node.attr == "relation":
            return
        if name := self.full(node):
            self.found.add(name)
        else:
            self.visit(node.value)

    def visit_Call(self, node: ast.Call) -> None:
        self.visit(node.func)
        puts = isinstance(node.func, ast.Attribute) and node.func.attr == "put"
        for argument in node.args[:2] if puts else node.args:
            self.visit(argument)
        for keyword in node.keywords:
            if not (puts and keyword.arg == "relation"):
                self.visit(keyword.value)

    def _inside(self, node) -> None:
        own = {one.arg for one in ast.walk(node.args) if isinstance(one, ast.arg)}
        for part in node.body if isinstance(node.body, list) else [node.body]:
            own |= {one.id for one in ast.walk(part) if isinstance(one, ast.Name) and isinstance(one.ctx, ast.Store)}
        self.hidden.append(own)
        for part in node.body if isinstance(node.body, list) else [node.body]:
            self.visit(part)
        self.hidden.pop()

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        # A decorator says what a function is, not what it uses.
        self._inside(node)

    def visit_Lambda(self, node: ast.Lambda) -> None:
        self._inside(node)


def aliases_of(tree: ast.Module, name: str, is_package: bool) -> dict[str, str]:
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            whence = absolute(node, name, is_package)
            found |= {one.asname or one.name: f"{whence}.{one.name}" for one in node.names}
        elif isinstance(node, ast.Import):
            found |= {one.asname or one.name.split(".")[0]: one.name if one.asname else one.name.split(".")[0]
                      for one in node.names}
    return found


def uses(source: str, name: str, is_package: bool = False) -> set[str]:
    tree = ast.parse(source)
    seen = Uses(aliases_of(tree, name, is_package))
    seen.visit(tree)
    return seen.found


def function_uses(source: str, name: str) -> dict[str, set[str]]:
    """For each function of a module of relations, what it refers to; its neighbours included."""
    tree = ast.parse(source)
    neighbours = {one.name: f"{name}.{one.name}" for one in tree.body if isinstance(one, (*FUNCTIONS, ast.ClassDef))}
    found = {}
    for node in tree.body:
        if isinstance(node, (*FUNCTIONS, ast.ClassDef)):
            seen = Uses({**aliases_of(tree, name, False), **neighbours})
            seen.visit(node)
            found[f"{name}.{node.name}"] = seen.found
    return found


def reached(begin: set[str], edges: dict[str, set[str]]) -> set[str]:
    found, left = set(), list(begin)
    while left:
        one = left.pop()
        if one not in found:
            found.add(one)
            left += edges.get(one, ())
    return found


@pytest.fixture(scope="module")
def edges() -> dict[str, set[str]]:
    found = {}
    for file in sorted((ROOT / "relations").glob("*.py")):
        found |= function_uses(file.read_text(encoding="utf-8"), module_name(file))
    return found


@pytest.fixture(scope="module")
def running(edges) -> set[str]:
    """Functions of the relations that a plan can come to, from anywhere in calc but the relations and the render."""
    begin = set()
    for file in sorted(ROOT.rglob("*.py")):
        if file.relative_to(ROOT).parts[0] not in ("relations", "render"):
            begin |= uses(file.read_text(encoding="utf-8"), module_name(file), file.name == "__init__.py")
    return reached(begin, edges)


def full_name(function) -> str:
    return f"{function.__module__}.{function.__name__}"


def runs(one, running: set[str]) -> bool:
    return full_name(one.function) in running or (one.core is not None and full_name(one.core) in running)


def test_every_relation_is_used_by_a_plan_or_says_that_it_is_not(running):
    idle = [name for name, one in RELATIONS.items() if not one.reference_only and not runs(one, running)]
    assert idle == [], "call these by name, declare them reference_only=True, or delete them"


def test_none_is_said_to_be_for_reference_that_a_plan_uses(running):
    assert [name for name, one in RELATIONS.items() if one.reference_only and runs(one, running)] == []


def test_a_relation_with_a_core_returns_what_its_core_gives(edges):
    assert [name for name, one in RELATIONS.items()
            if one.core is not None and full_name(one.core) not in edges[full_name(one.function)]] == []


IMPORTS = ("from ..relations import heat as physics, pipe\nfrom ..relations.air import pneumatic_power as power\n"
           "import calc.relations.use\n")


@pytest.mark.parametrize(("code", "found"), [
    ("physics.wet_bulb(1)", "calc.relations.heat.wet_bulb"),
    ("sheet.work('a', physics.wet_bulb)", "calc.relations.heat.wet_bulb"),
    ("x = [power(one) for one in ()]", "calc.relations.air.pneumatic_power"),
    ("calc.relations.use.bleed_share()", "calc.relations.use.bleed_share"),
    ("def f():\n    return lambda: pipe.velocity(1)", "calc.relations.pipe.velocity"),
])
def test_a_use_is_seen_through_aliases(code, found):
    assert found in uses(IMPORTS + code, "calc.topics.some")


@pytest.mark.parametrize("code", [
    "source = physics.wet_bulb.relation.source", "sheet.put('a', 1.0, physics.wet_bulb)",
    "sheet.put('a', 1.0, relation=physics.wet_bulb)", "wet_bulb(1)", "'physics.wet_bulb(1)'",
    "def f(physics):\n    return physics.wet_bulb(1)",
])
def test_a_name_that_is_only_cited_is_no_use(code):
    assert "calc.relations.heat.wet_bulb" not in uses(IMPORTS + code, "calc.topics.some")
