"""Reading that leaves a trace: whoever reads a plan and its answers can be told later whether all still looks the same.

A step of the solution reads a ``Sheet``, a picture reads a ``Design``: both are made anew for every plan, and neither
step nor picture is made again while all that it looked at is as it was. The system of units is looked at like the rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any, Final

from . import moments, units
from .declare import Field, Result
from .plan import FIELDS, find_column

# How and where somebody looked, such as ("result", "water.working_volume"), and what was seen there.
Place = tuple[str, str]
Readings = dict[Place, Any]
ABSENT: Final = object()
BUILDERS = 16


def show_value(value: Any, spec: Field | Result, system: str) -> str:
    """One result or input as text, in the unit its declaration names; lengths in inches in builder's fractions."""
    if spec.kind == "rows":
        return f"{len(value):,}"
    if spec.kind in ("text", "choice"):
        return str(value)
    if spec.kind in ("count", "whole"):
        return units.count(value)
    if spec.kind == "yesno":
        return "yes" if value else "no"
    if spec.kind == "date":
        return moments.show_date(value)
    if spec.kind == "clock":
        return moments.show_clock(value, system)
    # A question has no say over fractions: what is measured in inches is typed and said in sixteenths.
    fraction = spec.fraction if isinstance(spec, Result) else BUILDERS if spec.kind == "length" else 0
    return units.show(value, spec.kind, system, us=spec.us, metric=spec.metric, fraction=fraction)


class Traced:
    """What may be read, every look of it noted while ``noting``; a subclass says in ``_look`` what there is to see."""

    def __init__(self, system: str, specs: Mapping[str, Result]):
        self._system = system
        self._specs = specs
        self._seen: Readings | None = None
        self._own: set[Place] = set()

    def _look(self, how: str, key: str) -> Any:
        if how == "system":
            return self._system
        raise ValueError(f"no such way to look: {how}")

    def _read(self, how: str, key: str) -> Any:
        found = self._look(how, key)
        if self._seen is not None and (how, key) not in self._own:
            self._seen[how, key] = found
        return found

    @contextmanager
    def noting(self) -> Iterator[Readings]:
        """All that is looked at inside, but for what was written there before it was read."""
        if self._seen is not None:
            raise RuntimeError("one action is noted at a time")
        self._seen, self._own = {}, set()
        try:
            yield self._seen
        finally:
            self._seen = None

    def same(self, seen: Readings) -> bool:
        """Whether all that was looked at, by this or by the one made for an earlier plan, still looks the same."""
        look = self._look
        for (how, key), found in seen.items():
            now = look(how, key)
            if now is not found and now != found:
                return False
        return True

    @property
    def system(self) -> str:
        """The reader's system of units, "us" or "metric"."""
        system: str = self._read("system", "")
        return system

    def show(self, value: float, kind: str, us: str = "", metric: str = "", fraction: int = 0) -> str:
        """A value of no declared result or input, as text in the reader's units."""
        return units.show(value, kind, self.system, us=us, metric=metric, fraction=fraction)

    def shown_as(self, key: str, value: Any) -> str:
        """Another value, as text in the unit that a result, an input or a table's cell is declared in."""
        return show_value(value, self._declared(key), self.system)

    def _declared(self, key: str) -> Field | Result:
        if key in self._specs:
            return self._specs[key]
        if key in FIELDS:
            return FIELDS[key]
        cell = find_column(key)
        if cell is None:
            raise KeyError(key)
        return cell[2]
