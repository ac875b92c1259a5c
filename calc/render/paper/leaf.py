"""A sheet of paper: its head, its foot, and a whole document of such sheets; drawn for A4 and Letter alike."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from importlib.resources import files

from ...solve import Design
from .. import signs

EXAMPLE = "Example raft bath (invented)"
UNNAMED = "Your raft bath"


@dataclass(frozen=True)
class Paper:
    """What every sheet is made from.

    ``name`` is the plan's own; ``link`` opens it, "" where there is no address to open; ``code`` is the link's QR code
    as SVG text, "" where there is none; ``example`` says that the sizes are the invented ones; ``notes`` tell what of
    the plan could not be read.
    """

    design: Design
    name: str = UNNAMED
    link: str = ""
    code: str = ""
    example: bool = False
    notes: tuple[str, ...] = ()

    @property
    def own_name(self) -> str:
        """The name that the reader gave the plan; "" where it is only called something here."""
        return "" if self.name in (UNNAMED, EXAMPLE) else self.name


def keep(text: str) -> str:
    """Text as HTML in which no size breaks: a space inside or behind a number does not end a line."""
    safe = escape(text)
    made = []
    for at, letter in enumerate(safe):
        before, after = safe[at - 1:at], safe[at + 1:at + 2]
        held = letter == " " and before.isdigit() and (after.isdigit() or after.isalpha() or after in "%°µ")
        made.append("\u00a0" if held else letter)
    return "".join(made)


def state(name: str, word: str = "") -> str:
    """A sign with its word."""
    said = word or signs.WORDS[name]
    return f'<span class="state {name}">{signs.sign(name)} {escape(said)}</span>'


def leaf(title: str, facts: Iterable[str], body: str, foot: Iterable[tuple[str, str]], number: str = "",
         kind: str = "", first: bool = False) -> str:
    """One sheet. ``foot`` are pairs of a label and what stands under it; an empty one is left to be filled in."""
    level = "h1" if first else "h2"
    said = "".join(f"<span>{keep(one)}</span>" for one in facts if one)
    ahead = f'<span class="number">{escape(number)}</span> ' if number else ""
    foot = list(foot)
    cells = "".join(cell(label, words) for label, words in foot)
    spoken = ", ".join([title, *(label for label, _ in foot[1:2])])
    return (f'<section class="leaf {kind}" aria-label="{escape(spoken)}"><header>'
            f'<{level}>{ahead}{escape(title)}</{level}>'
            f'<p class="facts">{said}</p></header><div class="leaf-body">{body}</div>'
            f'<footer class="strip">{cells}</footer></section>')


def cell(label: str, words: str) -> str:
    """A field of a title strip; an empty one is a box to type into, or a line for a pen."""
    if words:
        return f"<p><span>{escape(label)}</span><b>{keep(words)}</b></p>"
    return (f'<p><label><span>{escape(label)}</span><input type="text" maxlength="60" autocomplete="off"></label></p>')


def block(title: str, body: str, aside: str = "", kind: str = "") -> str:
    """A part of a sheet that is never broken, with its heading."""
    more = f' <small>{keep(aside)}</small>' if aside else ""
    head = f"<h3>{escape(title)}{more}</h3>" if title else ""
    return f'<div class="block {kind}">{head}{body}</div>'


def style() -> str:
    """The style of the sheets, for a document that stands by itself."""
    return files("calc.render.paper").joinpath("paper.css").read_text(encoding="utf-8")


def document(title: str, sheets: str) -> str:
    """The sheets as one HTML file with its style inside; it prints without anything beside it."""
    return ("<!DOCTYPE html>\n"
            f'<html lang="en"><head><meta charset="utf-8"><title>{escape(title)}</title>'
            '<meta name="viewport" content="width=device-width, initial-scale=1">'
            f'<style>{style()}</style></head><body class="paper">{signs.symbols()}'
            f'<main class="leaves">{sheets}</main></body></html>\n')
