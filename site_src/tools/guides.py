"""Reads the guides: Markdown with a few lines of front matter between ``---`` lines."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import count
from pathlib import Path

import markdown

from .setup import ROOT, Trouble

FOLDER = ROOT / "site_src" / "guides"
CALCULATOR = "<p>{{ calculator }}</p>"
KNOWN = {"title", "order", "part", "summary", "topics"}


@dataclass(frozen=True)
class Guide:
    """One guide: its name in the address, what the menu says and under which heading (``part``), the topics its
    calculator asks about, and its HTML."""

    name: str
    title: str
    order: float
    part: str
    summary: str
    topics: tuple[str, ...]
    html: str

    @property
    def path(self) -> str:
        """Its file below the top."""
        return f"guides/{self.name}/index.html"


def in_frames(html: str) -> str:
    """Every table in a frame that scrolls by itself, so that a wide one does not widen the page of a phone."""
    number = count(1)

    def frame(_: re.Match) -> str:
        return f'<div class="table-scroll" tabindex="0" role="region" aria-label="Table {next(number)}"><table>'
    return re.sub(r"<table>", frame, html).replace("</table>", "</table></div>")


def read(file: Path) -> Guide:
    """One guide; every mistake in its head stops the build with the file's name."""
    text = file.read_text(encoding="utf-8")
    parts = text.split("---\n", 2)
    if not text.startswith("---\n") or len(parts) != 3:
        raise Trouble(f"{file.name} must begin with front matter between two lines of ---.")
    head = {}
    for line in parts[1].splitlines():
        if line.strip():
            key, colon, value = line.partition(":")
            if not colon or key.strip() not in KNOWN:
                raise Trouble(f"{file.name}: front matter knows {', '.join(sorted(KNOWN))}; this line is none: {line}")
            head[key.strip()] = value.strip().strip('"')
    for needed in ("title", "order", "summary"):
        if not head.get(needed):
            raise Trouble(f"{file.name}: front matter lacks {needed}.")
    try:
        order = float(head["order"])
    except ValueError:
        raise Trouble(f"{file.name}: order must be a number, not {head['order']}.") from None
    topics = tuple(name.strip() for name in head.get("topics", "").strip("[]").split(",") if name.strip())
    html = markdown.markdown(parts[2], extensions=["tables", "attr_list", "toc", "footnotes", "def_list", "md_in_html"],
                             output_format="html")
    html = in_frames(html)
    return Guide(file.stem, head["title"], order, head.get("part", "More"), head["summary"], topics, html)


def read_all(folder: Path) -> list[Guide]:
    """All guides in their order."""
    return sorted((read(file) for file in folder.glob("*.md")), key=lambda guide: (guide.order, guide.name))
