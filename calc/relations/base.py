"""A relation carries formula, symbols, range and source on the function, so the page cannot drift from the code."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from types import FunctionType
from typing import ParamSpec, Protocol, TypeVar, cast

from ..errors import Incomplete

Arguments = ParamSpec("Arguments")
Gives = TypeVar("Gives", covariant=True)

PUBLISHED = "published"
STANDARD = "definition"
PRACTICE = "common practice, no published source"
MEMORY = "from memory, not verified"
# What was read of a published source, where it was not the source itself from end to end.
ABSTRACT = f"{PUBLISHED}, abstract read"
COPY = f"{PUBLISHED}, read in a copy"
SECOND_HAND = f"{PUBLISHED}, quoted second hand, source not opened"
# A number or law remembered and then held against an open library is not thereby read.
CHECKED = f"{MEMORY[:11]}, checked against an open library"
FITTED = f"{PUBLISHED}, fitted here"
PARTLY_FITTED = f"{FITTED}, part of its numbers {MEMORY[:11]}"


@dataclass(frozen=True)
class Symbol:
    """A letter in a formula: how it is written (LaTeX), its unit and its meaning."""

    latex: str
    unit: str
    meaning: str


@dataclass(frozen=True)
class Relation:
    """What a reader may know about one relation; ``function`` computes it.

    ``core`` is the same formula without the refusals, where a search needs one that takes any number; ``function``
    returns what its core gives. A relation that is ``reference_only`` is printed for the reader and used by no plan.
    """

    name: str
    title: str
    formula: str
    result: Symbol
    symbols: dict[str, Symbol]
    valid: str
    source: str
    status: str
    function: Callable[..., object]
    core: Callable[..., object] | None = None
    reference_only: bool = False


class Related(Protocol[Arguments, Gives]):
    """A function that carries what a reader may know about it; called, it is the function as written."""

    relation: Relation

    def __call__(self, *args: Arguments.args, **kwargs: Arguments.kwargs) -> Gives: ...


RELATIONS: dict[str, Relation] = {}


def relation(*, title: str, formula: str, result: tuple[str, str, str], symbols: dict[str, tuple[str, str, str]],
             valid: str, source: str, status: str = PUBLISHED, core: Callable[..., object] | None = None,
             reference_only: bool = False) -> Callable[[Callable[Arguments, Gives]], Related[Arguments, Gives]]:
    """Register a function as a published relation; ``symbols`` has one (latex, unit, meaning) per argument.

    The relation's name is ``module.function`` (``pipe.friction_factor``), which is what results and check files quote.
    For ``core`` and ``reference_only`` see ``Relation``.
    """

    def register(function: Callable[Arguments, Gives]) -> Related[Arguments, Gives]:
        assert isinstance(function, FunctionType)
        name = f"{function.__module__.rsplit('.', 1)[-1]}.{function.__name__}"
        arguments = function.__code__.co_varnames[: function.__code__.co_argcount + function.__code__.co_kwonlyargcount]
        if set(arguments) != set(symbols):
            raise Incomplete(f"{function.__module__}: the relation {function.__name__} has the arguments "
                             f"{sorted(arguments)} and the symbols {sorted(symbols)}: give each argument its symbol.")
        found = Relation(name, title, formula, Symbol(*result), {k: Symbol(*v) for k, v in symbols.items()},
                         valid, source, status, function, core, reference_only)
        RELATIONS[name] = found
        related = cast("Related[Arguments, Gives]", function)
        related.relation = found
        return related

    return register
