"""Reads the guides: Markdown with a few lines of front matter between ``---`` lines."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import count
from pathlib import Path

import markdown

from .setup import ROOT, Trouble

FOLDER = ROOT / "site_src" / "guides"
PLACE = "{{ calculator }}"
CALCULATOR = f"<p>{PLACE}</p>"
NEEDED = ("title", "summary", "promise", "at")
KNOWN = (*NEEDED, "number", "topics", "asks", "answers")
# The reading order, and the heading of each guide on the page of guides, are said in this one file of the folder.
ORDER = "order.toml"
# Where a guide belongs in the drawing of a raft bath: what the page of guides points at.
PLACES = ("whole", "bath", "water", "raft", "plants", "roots", "stone", "air pump", "supply", "overflow", "reservoir",
          "pump", "lamp", "outlet", "floor", "beside")
LONGEST_PROMISE = 60
# Words that a beginner reads in a minute; somewhat fewer than adults' 238 (Brysbaert, 2019, from memory).
WORDS_A_MINUTE = 200
# A guide's calculator is small enough to stand beside its text.
ASKS, ANSWERS = (1, 5), (1, 4)
# A number of the reader's own inside a sentence: {{ value air.target }}, {{ sum water.working_volume["gal"] * 28 }}.
LIVING = re.compile(r"\{\{ (?:value|sum) (.+?) \}\}")


@dataclass(frozen=True)
class Guide:
    """One guide: its name in the address, its place in the reading order (from 1) and under which heading, its HTML.

    ``promise`` is what it gives in one short line, ``at`` the part of a raft bath that it belongs to, and ``number``
    the key of the one answer of the reader's own that stands for it (or nothing).
    Its calculator gives the verdicts of ``topics``, asks ``asks`` and answers ``answers``; where these two are not
    named, the calculator takes what decides those topics in the planner.
    """

    name: str
    title: str
    order: int
    part: str
    summary: str
    promise: str
    at: str
    topics: tuple[str, ...]
    html: str
    asks: tuple[str, ...] = ()
    answers: tuple[str, ...] = ()
    number: str = ""

    @property
    def minutes(self) -> int:
        """How long it takes to read, in whole minutes, at least one."""
        text = re.sub(r"<svg.*?</svg>|<[^>]+>", " ", self.html, flags=re.DOTALL)
        return max(round(len(text.split()) / WORDS_A_MINUTE), 1)

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


def split(text: str) -> tuple[dict[str, str], str, list[str]]:
    """The head by name, the Markdown beneath it, and a sentence for each line of the head that cannot be read."""
    parts = text.split("---\n", 2)
    if not text.startswith("---\n") or len(parts) != 3:
        return {}, text, ["it must begin with front matter between two lines of ---"]
    head: dict[str, str] = {}
    wrong = []
    for line in parts[1].splitlines():
        name, colon, value = (piece.strip() for piece in line.partition(":"))
        if not line.strip():
            continue
        if not colon or name not in KNOWN:
            wrong.append(f"front matter knows {', '.join(KNOWN)}; this line is none of them: {line}")
        elif name in head:
            wrong.append(f"{name} stands in the front matter twice; keep one")
        else:
            head[name] = value.strip('"')
    return head, parts[2], wrong


def _listed(head: dict[str, str], name: str) -> tuple[str, ...]:
    return tuple(one.strip() for one in head.get(name, "").strip("[]").split(",") if one.strip())


def order_of(folder: Path) -> tuple[dict[str, tuple[int, str]], list[str]]:
    """The number and heading of each guide by name, and a sentence for each thing wrong in the file that says so."""
    try:
        parts = tomllib.loads((folder / ORDER).read_text(encoding="utf-8"))["part"]
        listed = [(str(name), str(part["title"])) for part in parts for name in part["guides"]]
    except (OSError, tomllib.TOMLDecodeError, KeyError, TypeError):
        return {}, [f"{ORDER}: it must name all guides in their order, as [[part]] with title and guides."]
    found = {name: (number, part) for number, (name, part) in enumerate(listed, 1)}
    wrong = [f"{ORDER}: it names {name}, and there is no {name}.md." for name in found
             if not (folder / f"{name}.md").is_file()]
    names = [name for name, _ in listed]
    wrong += [f"{ORDER}: {name} stands in it twice; keep one." for name in found if names.count(name) > 1]
    return found, wrong


def wrong_in_head(head: dict[str, str], known_topics: Sequence[str]) -> list[str]:
    """A sentence for each thing in the head that is missing or not allowed, with what is."""
    wrong = [f"front matter lacks {name}" + (f"; it is one of: {', '.join(PLACES)}" if name == "at" else "")
             for name in NEEDED if not head.get(name)]
    if head.get("at") and head["at"] not in PLACES:
        wrong.append(f"there is no place {head['at']}; at is one of: {', '.join(PLACES)}")
    if len(head.get("promise", "")) > LONGEST_PROMISE:
        wrong.append(f"promise has at most {LONGEST_PROMISE} characters, for one line of the list of guides")
    wrong += [f"there is no topic {name}; topics are any of: {', '.join(known_topics)}"
              for name in _listed(head, "topics") if name not in known_topics]
    return wrong + _wrong_in_calculator(head)


def _wrong_in_calculator(head: dict[str, str]) -> list[str]:
    """A sentence for each question or answer of the calculator that is not declared, and for too many of them."""
    from calc.plan import FIELDS, TABLES
    from calc.solve import SPECS
    wrong = []
    asked = {**FIELDS, **TABLES}
    if head.get("number") and head["number"] not in SPECS:
        wrong.append(f"number names {head['number']}, and there is no such result")
    for name, known, (least, most), word in (("asks", asked, ASKS, "question"), ("answers", SPECS, ANSWERS, "result")):
        if name not in head:
            continue
        keys = _listed(head, name)
        wrong += [f"{name} names {key}, and there is no such {word}" for key in keys if key not in known]
        if not least <= len(keys) <= most:
            wrong.append(f"{name} holds {len(keys)} keys; a calculator beside the text has {least} to {most}")
        if not _listed(head, "topics"):
            wrong.append(f"{name} needs topics: the calculator gives their verdict")
    return wrong


def wrong_in_sums(body: str) -> list[str]:
    """A sentence for each living number in the text that is no declared result and no sum over them."""
    from calc.render import living
    wrong = []
    for found in LIVING.finditer(body):
        try:
            living.check(found[1])
        except living.Wrong as problem:
            wrong.append(f"{found[0]}: {problem}")
    left = re.sub(re.escape(PLACE), "", LIVING.sub("", body))
    if "{{" in left:
        wrong.append(f"{left[left.index('{{'):][:40].splitlines()[0]} is none of {PLACE}, "
                     "{{ value KEY }}, {{ sum KEY * 2 }}")
    return wrong


def wrong_in_text(body: str, asks: bool) -> list[str]:
    """A sentence if the calculator's place is missing or doubled, or is there without topics to ask about."""
    places = sum(line.strip() == PLACE for line in body.splitlines())
    if body.count(PLACE) != places:
        return [f"{PLACE} must stand on a line of its own"]
    if asks and places != 1:
        return [f"it has topics, so one line {PLACE} must say where their calculator goes; there "
                + ("is none" if not places else f"are {places}")]
    if places and not asks:
        return [f"{PLACE} has nothing to ask: add topics to the front matter, or take that line out"]
    return []


def html_of(body: str, living: Callable[[str], str] = str) -> str:
    """A guide's Markdown as HTML, its living numbers as ``living`` says them."""
    numbered = LIVING.sub(lambda found: living(found[1]), body)
    return in_frames(markdown.markdown(
        numbered, extensions=["tables", "attr_list", "toc", "footnotes", "def_list", "md_in_html"],
        output_format="html"))



def read_all(folder: Path, known_topics: Sequence[str], living: Callable[[str], str] = str) -> list[Guide]:
    """All guides in their order; whatever is wrong in any of them stops the build, all of it said at once."""
    order, wrong = order_of(folder)
    found = []
    for file in sorted(folder.glob("*.md")):
        head, body, mine = split(file.read_text(encoding="utf-8"))
        if head or not mine:
            mine += wrong_in_head(head, known_topics) + wrong_in_text(body, bool(_listed(head, "topics")))
            mine += wrong_in_sums(body)
        if order and file.stem not in order:
            mine.append(f"{ORDER} does not name it; give it a place there")
        wrong += [f"{file.name}: {one}." for one in mine]
        if not mine and file.stem in order:
            found.append(Guide(file.stem, head["title"], *order[file.stem], head["summary"], head["promise"],
                               head["at"], _listed(head, "topics"), html_of(body, living), _listed(head, "asks"),
                               _listed(head, "answers"), head.get("number", "")))
    if wrong:
        raise Trouble("\n".join(["The guides need mending:", *wrong]))
    return sorted(found, key=lambda guide: guide.order)
