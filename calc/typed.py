"""What a step reads, by its kind: a number unless another is named, so that a type checker knows what it is."""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Any, TypeVar, cast, overload

from .declare import Row
from .errors import Unanswered

Kind = TypeVar("Kind")


def checked(key: str, value: object, kind: type[Kind]) -> Kind:
    """The value, which must be of this kind; TypeError where a step takes it for another than its declaration says."""
    # A whole number is a number too, and stays whole for who shows it.
    if isinstance(value, kind) or (kind is float and isinstance(value, int)):
        return cast(Kind, value)
    raise TypeError(f"{key} is read as {kind.__name__} and holds {type(value).__name__}")


class Typed(ABC):
    """Inputs and results by their key. A key without a kind named is read as a number."""

    @abstractmethod
    def _input(self, key: str) -> Any:
        """An input's value, ``None`` if it was left open; raises Unanswered if it has a fault or is not asked."""

    @abstractmethod
    def _result(self, key: str) -> Any:
        """The value of an earlier result; raises Unanswered if it could not be worked out."""

    def __getitem__(self, key: str) -> float:
        """An input's number; raises Unanswered if it was left open, has a fault or is not asked."""
        return self.input(key, float)

    def input(self, key: str, kind: type[Kind]) -> Kind:
        """An input's value; raises Unanswered if it was left open, has a fault or is not asked."""
        value = self._input(key)
        if value is None:
            raise Unanswered(key)
        return checked(key, value, kind)

    def text(self, key: str) -> str:
        """What was chosen or written; raises Unanswered as a number does."""
        return self.input(key, str)

    def whole(self, key: str) -> int:
        """An input's whole number; raises Unanswered as a number does."""
        return self.input(key, int)

    def yes(self, key: str) -> bool:
        """Whether the answer is yes; raises Unanswered as a number does."""
        return self.input(key, bool)

    @overload
    def optional(self, key: str) -> float | None: ...
    @overload
    def optional(self, key: str, kind: type[Kind]) -> Kind | None: ...

    def optional(self, key: str, kind: Any = float) -> Any:
        """An input's value, ``None`` if it was left open; raises Unanswered if it has a fault or is not asked."""
        value = self._input(key)
        return None if value is None else checked(key, value, kind)

    @overload
    def input_if_any(self, key: str) -> float | None: ...
    @overload
    def input_if_any(self, key: str, kind: type[Kind]) -> Kind | None: ...

    def input_if_any(self, key: str, kind: Any = float) -> Any:
        """An input's value; ``None`` if it was left open, has a fault or is not asked."""
        try:
            return self.optional(key, kind)
        except Unanswered:
            return None

    @overload
    def result(self, key: str) -> float: ...
    @overload
    def result(self, key: str, kind: type[Kind]) -> Kind: ...

    def result(self, key: str, kind: Any = float) -> Any:
        """The value of an earlier result; raises Unanswered if it could not be worked out."""
        return checked(key, self._result(key), kind)

    @overload
    def result_if_any(self, key: str) -> float | None: ...
    @overload
    def result_if_any(self, key: str, kind: type[Kind]) -> Kind | None: ...

    def result_if_any(self, key: str, kind: Any = float) -> Any:
        """The value of an earlier result; ``None`` if it could not be worked out."""
        try:
            return self.result(key, kind)
        except Unanswered:
            return None

    def result_rows(self, key: str) -> list[Row]:
        """An earlier result that is a list of rows; raises Unanswered if it could not be worked out."""
        rows = self._result(key)
        if not isinstance(rows, list):
            raise TypeError(f"{key} is read as rows and holds {type(rows).__name__}")
        return rows

    def rows_if_any(self, key: str) -> list[Row]:
        """The same; without any row if it could not be worked out."""
        try:
            return self.result_rows(key)
        except Unanswered:
            return []
