"""What the page "From a script" says: signatures and docstrings read off ``calc`` itself, so that it cannot drift."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup, escape


@dataclass(frozen=True)
class Entry:
    """One name: its anchor, how it is called (empty for what only ``solve`` makes), its docstring as HTML."""

    anchor: str
    name: str
    signature: str
    text: Markup


@dataclass(frozen=True)
class Part:
    """One heading with the names below it."""

    anchor: str
    title: str
    imports: str
    entries: tuple[Entry, ...]


def _words(text: str) -> Markup:
    """A paragraph with ``code`` set as code."""
    return Markup(re.sub(r"``(.+?)``", r"<code>\1</code>", str(escape(" ".join(text.split())))))


def prose(docstring: str | None) -> Markup:
    """A docstring as HTML: paragraphs, and examples as typed."""
    made = []
    for block in re.split(r"\n\s*\n", inspect.cleandoc(docstring or "")):
        if block.startswith(">>>"):
            made.append(Markup('<pre class="example" tabindex="0" role="group" aria-label="Example">'
                               "<code>{}</code></pre>").format(block))
        else:
            made.append(Markup("<p>{}</p>").format(_words(block)))
    return Markup("\n").join(made)


def _parameter(one: inspect.Parameter) -> str:
    annotation = "" if one.annotation is one.empty else f": {one.annotation}"
    if one.default is one.empty:
        return f"{one.name}{annotation}"
    # A function's own text holds its place in memory, which no two builds share.
    default = one.default.__name__ if callable(one.default) else repr(one.default)
    return f"{one.name}{annotation} = {default}"


def signature(name: str, function: Callable) -> str:
    """How a function is called, the same in every Python, and broken where a line grows long."""
    found = inspect.signature(function)
    parameters = [_parameter(one) for one in found.parameters.values() if one.name not in ("self", "cls")]
    gives = "" if found.return_annotation is found.empty else f" -> {found.return_annotation}"
    whole = f"{name}({', '.join(parameters)}){gives}"
    if len(whole) <= 60:
        return whole
    return f"{name}(\n" + "".join(f"    {one},\n" for one in parameters) + f"){gives}"


def _entry(name: str, thing: Callable, made_by_hand: bool = True) -> Entry:
    return Entry(f"api-{name.replace('.', '-').lower()}", name, signature(name, thing) if made_by_hand else "",
                 prose(thing.__doc__))


def parts() -> list[Part]:
    """The public names by subject."""
    import calc
    from calc import units
    from calc.command_line import lines
    from calc.solve import Design, as_json

    def methods(of: type, *names: str) -> list[Entry]:
        return [_entry(f"{of.__name__}.{name}", getattr(of, name)) for name in names]

    return [
        Part("plan", "A plan", "from calc import Plan", (
            _entry("Plan", calc.Plan), *methods(calc.Plan, "from_mapping", "changed"))),
        Part("solving", "Working it out", "from calc.solve import as_json, solve", (
            _entry("solve", calc.solve), _entry("Design", Design, made_by_hand=False),
            *methods(Design, "value", "rows", "shown", "show"), _entry("as_json", as_json))),
        Part("quantities", "Quantities as people type them", "from calc import units", tuple(
            _entry(f"units.{one.__name__}", one) for one in (units.parse, units.show, units.convert))),
        Part("many", "Many plans at once", "from calc.command_line import lines", tuple(
            _entry(f"lines.{one.__name__}", one) for one in (lines.answers, lines.answer_line, lines.read_lines))),
    ]


def relations_words() -> Markup:
    """What the package of relations says of itself."""
    from calc import relations
    return prose(relations.__doc__)


def relation_groups() -> list[tuple[str, str, list]]:
    """Each module of relations with the sentence it begins with and its relations, by name."""
    import sys
    from calc.relations import RELATIONS
    modules: dict[str, list] = {}
    for name, one in sorted(RELATIONS.items()):
        modules.setdefault(name.partition(".")[0], []).append(one)
    return [(module, (sys.modules[f"calc.relations.{module}"].__doc__ or "").strip().splitlines()[0], found)
            for module, found in modules.items()]


def helps() -> list[tuple[str, str]]:
    """Each command's own help, as a terminal shows it."""
    from calc.command_line import PROG, parsers
    found = parsers()
    for one in found.values():
        # Newer Pythons colour the help when the build runs in a terminal.
        one.color = False
    return [(f"{PROG} {name}".strip(), one.format_help().rstrip()) for name, one in found.items()]
