"""The twenty questions of the page "Check yourself", each with its short answer and the place that says more."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from .setup import ROOT

FILE = ROOT / "site_src" / "questions.toml"
PATH = "guides/check-yourself/index.html"


@dataclass(frozen=True)
class Question:
    """One question: its words, a short answer, the page and anchor that answer it, and words that stand there."""

    ask: str
    answer: str
    at: str
    words: tuple[str, ...]

    @property
    def page(self) -> str:
        """The page that answers it, below the top."""
        return self.at.partition("#")[0]

    @property
    def anchor(self) -> str:
        """The place on that page."""
        return self.at.partition("#")[2]


def read(file: Path = FILE) -> list[Question]:
    """All questions, in their order."""
    return [Question(one["ask"], " ".join(one["answer"].split()), one["at"], tuple(one["words"]))
            for one in tomllib.loads(file.read_text(encoding="utf-8"))["question"]]
