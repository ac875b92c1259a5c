"""Sentences of a guide and words of a page, for the checks of wording: how long, how hard, and which words."""

from __future__ import annotations

import html
import re
from html.parser import HTMLParser

# What is no running text: pictures, tables (cells are not sentences), scripts, headings.
SKIPPED = ("svg", "table", "script", "style", "h1", "h2", "h3", "code", "pre", "template")
BLOCKS = ("p", "li", "figcaption", "dd", "dt", "div", "ul", "ol", "figure", "section")
SHOWN = ("title", "aria-label", "placeholder", "alt", "content")
_END = re.compile(r"(?<=[.!?])[”\")]*\s+(?=[“(]?[A-Z0-9µ])")
_WORD = re.compile(r"[^\s×÷=+–—]*[^\W_][^\s×÷=+–—]*")


class _Blocks(HTMLParser):
    """The running text of a guide, block by block; what follows the heading "Sources" is left out."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = [""]
        self.skipping = 0
        self.heading = False
        self.sources = False

    def handle_starttag(self, tag, attrs):
        self.skipping += tag in SKIPPED
        self.heading = tag == "h2"
        if tag in BLOCKS:
            self.found.append("")

    def handle_endtag(self, tag):
        self.skipping -= tag in SKIPPED
        self.heading = False
        if tag in BLOCKS:
            self.found.append("")

    def handle_data(self, data):
        if self.heading:
            self.sources = data.strip() == "Sources"
        elif not self.skipping and not self.sources:
            self.found[-1] += data


def blocks(text: str) -> list[str]:
    """The running text of HTML, one text for a paragraph or a line of a list."""
    reader = _Blocks()
    reader.feed(text)
    return [" ".join(one.split()) for one in reader.found if one.strip()]


def sentences(text: str) -> list[str]:
    """The sentences of HTML, as a reader counts them."""
    return [one for block in blocks(text) for one in _END.split(block) if _WORD.search(one)]


def words(sentence: str) -> list[str]:
    """The words of a sentence; a number is a word, a sign of arithmetic is none."""
    return _WORD.findall(sentence)


def grade(found: list[str]) -> float:
    """Automated readability index of sentences (Smith and Senter, 1967, AMRL-TR-66-220): about a school grade.

    4.71 characters a word + 0.5 words a sentence - 21.43, where letters and digits count as characters.
    """
    counted = [word for one in found for word in words(one)]
    characters = sum(character.isalnum() for word in counted for character in word)
    return 4.71 * characters / len(counted) + 0.5 * len(counted) / len(found) - 21.43


class _Shown(HTMLParser):
    """All that a page says: its text and what labels and alternatives say."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.skipping = 0

    def handle_starttag(self, tag, attrs):
        self.skipping += tag in ("script", "style", "code", "pre")
        given = dict(attrs)
        if tag != "meta" or given.get("name") == "description":
            self.found += [given[name] or "" for name in SHOWN if name in given]
        if tag in BLOCKS or tag in ("td", "th", "tr", "option", "h1", "h2", "h3", "text", "title", "desc", "label"):
            self.found.append("|")

    def handle_endtag(self, tag):
        self.skipping -= tag in ("script", "style", "code", "pre")
        if tag in BLOCKS or tag in ("td", "th", "tr", "option", "h1", "h2", "h3", "text", "title", "desc", "label"):
            self.found.append("|")

    def handle_data(self, data):
        if not self.skipping:
            self.found.append(data)


def shown(text: str) -> str:
    """All that a page says, in one line, with a bar between its pieces."""
    reader = _Shown()
    reader.feed(text)
    return re.sub(r"[\s|]*\|[\s|]*", " | ", " ".join(html.unescape(" ".join(reader.found)).split()))
