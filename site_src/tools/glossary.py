"""The words of the trade: what each means, and the link from its first use in a guide to where that is said."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path

from .setup import ROOT, Trouble

FILE = ROOT / "site_src" / "words.toml"
# The page that explains the words, from the top of the site.
PAGE = "reference/words/index.html"
# No link inside another link, a heading, a picture's own words, code, or the short line over a row.
CLOSED = ("a", "h1", "h2", "h3", "svg", "code", "th", "title", "desc", "data")
_TAG = re.compile(r"(<[^>]+>)")
# Running text of a page, and what is none although it stands inside of it.
PROSE = ("p", "li", "dd", "figcaption")
NO_PROSE = (*CLOSED, "h4", "nav", "button", "label", "legend", "summary", "select", "option", "textarea", "output",
            "pre", "dt", "td", "noscript", "small", "fieldset")
VOID = ("area", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr")
# What a script writes anew, speaks aloud, prints to scale, or shows only as a line of status.
_UNSTEADY = re.compile(
    r' data-(?:region|says|when|lesson|paper|copied)\b| role="status"| hidden\b| class="[^"]*\b(?:leaf|leaves|index|'
    r'contents|lines|vessels|fault|hint|ways|ask-note|plan-bar|title-block|visually-hidden|put-in|by-hand|result-si|source)\b')


@dataclass(frozen=True)
class Word:
    """One word of the trade: its name, the spellings that lead to it, and what it means in a plain sentence."""

    name: str
    uses: tuple[str, ...]
    means: str

    @property
    def anchor(self) -> str:
        """Its place on the page of words."""
        return "word-" + re.sub(r"[^a-z0-9]+", "-", self.name.lower()).strip("-")


def read(file: Path = FILE) -> list[Word]:
    """All words by name; two of one name, or one spelling that leads to two, stop the build."""
    found = [Word(one["name"], tuple(one["uses"]), one["means"])
             for one in tomllib.loads(file.read_text(encoding="utf-8"))["word"]]
    seen: dict[str, str] = {}
    for word in found:
        for use in (word.anchor, *word.uses):
            if seen.setdefault(use, word.name) != word.name:
                raise Trouble(f'words.toml: "{use}" leads to {seen[use]} and to {word.name}; keep one.')
    return sorted(found, key=lambda word: word.name.lower())


def _pattern(words: list[Word]) -> tuple[re.Pattern[str], dict[str, Word]]:
    """One pattern for every spelling, the longest first, and the word that each leads to."""
    of_use = {use.lower(): word for word in words for use in word.uses}
    spelled = "|".join(re.escape(use) for use in sorted(of_use, key=len, reverse=True))
    return re.compile(rf"(?<![\w-])(?:{spelled})(?![\w-])", re.IGNORECASE), of_use


def linked(html: str, words: list[Word], root: str) -> str:
    """A guide's HTML in which the first use of each word leads to what it means; ``root`` is the way to the top."""
    pattern, of_use = _pattern(words)
    done: set[str] = set()
    inside: list[str] = []

    def link(found: re.Match[str]) -> str:
        return _link(found, of_use, done, root)
    pieces = []
    for piece in _TAG.split(html):
        tag = re.match(r"<(/?)(\w+)", piece)
        if tag and tag[2] in CLOSED:
            if tag[1]:
                inside = inside[:-1]
            else:
                inside.append(tag[2])
        pieces.append(piece if tag or inside or piece.startswith("<") else pattern.sub(link, piece))
    return "".join(pieces)


def _link(found: re.Match[str], of_use: dict[str, Word], done: set[str], root: str) -> str:
    """The link from a word found to what it means; the text as it was where that stands on the page already."""
    word = of_use[found[0].lower()]
    # Only the first letter may differ, at the start of a sentence: EC is not "ec", and a pH is no Ph.
    spelled = found[0] in word.uses or found[0][:1].lower() + found[0][1:] in word.uses
    if word.name in done or not spelled:
        return found[0]
    done.add(word.name)
    return f'<a class="word" href="{root}{PAGE}#{word.anchor}">{found[0]}</a>'


def in_prose(html: str, words: list[Word], root: str) -> str:
    """A whole page whose prose leads to the words: paragraphs and lists of its main part that no script writes anew.

    Labels, buttons, menus, headings, tables, hints and whatever else is no running text stay as they are, and so does a
    word that the page has explained already.
    """
    head, begin, rest = html.partition("<main")
    main, end, foot = rest.partition("</main>")
    if not end:
        return html
    pattern, of_use = _pattern(words)
    anchors = {word.anchor: word.name for word in words}
    done = {anchors[name] for name in re.findall(rf'href="[^"]*{re.escape(PAGE)}#([a-z0-9-]+)"', main)
            if name in anchors}
    # What is open around a piece of text: the name of each element, and whether text in it is prose, or none at all.
    around: list[tuple[str, bool, bool]] = []
    pieces = []

    def link(found: re.Match[str]) -> str:
        return _link(found, of_use, done, root)
    for piece in _TAG.split(main):
        tag = re.match(r"<(/?)([a-zA-Z][\w-]*)", piece)
        if tag is None:
            prose = bool(around) and around[-1][1] and not around[-1][2]
            pieces.append(pattern.sub(link, piece) if prose and not piece.startswith("<") else piece)
            continue
        pieces.append(piece)
        name = tag[2].lower()
        if tag[1]:
            while around and around.pop()[0] != name:
                pass
        elif name not in VOID and not piece.endswith("/>"):
            prose, closed = around[-1][1:] if around else (False, False)
            around.append((name, prose or name in PROSE,
                           closed or name in NO_PROSE or _UNSTEADY.search(piece) is not None))
    return head + begin + "".join(pieces) + end + foot
