"""The plan as a URL fragment: readable, short, and able to tell when it was cut."""

from __future__ import annotations

import re
from dataclasses import dataclass
from urllib.parse import parse_qsl, quote_plus
from zlib import crc32

from .. import history
from ..data.versions import VERSION
from ..plan import FIELDS, Plan, find_column, is_transient, renamed, whole_characters

LONGEST = 60_000
# The step that a link of the page opens at: no answer, and outside the seal.
STEP = re.compile(r"&step=[a-z]*\Z")
# Who made a link, and what is said with it: inside the seal, and no answers. Pages that do not know them leave them
# aside, and read the plan all the same.
BY, NOTE = "link.by", "link.note"
LONGEST_BY, LONGEST_NOTE = 60, 300
# Blanks, ends of lines, and characters that are not seen but turn the text beside them round.
_GAPS = re.compile("[\\x00-\\x20\\x7f-\\xa0\\u1680\\u2000-\\u200a\\u2028-\\u202f\\u205f\\u2066-\\u2069\\u3000\\ufeff]+")
_SAID = {BY: ("name", LONGEST_BY), NOTE: ("note", LONGEST_NOTE)}


@dataclass(frozen=True)
class Maker:
    """Who made a link, and a note: plain text of one line each, of at most ``LONGEST_BY`` and ``LONGEST_NOTE``
    characters; a link with either opens read-only, beside the reader's own plan."""

    name: str = ""
    note: str = ""

    def __bool__(self) -> bool:
        return bool(self.name or self.note)


NOBODY = Maker()


def plain(text: str, longest: int) -> str:
    """Text as one line of whole characters, cut at ``longest`` of them."""
    return _GAPS.sub(" ", whole_characters(text)).strip(" ")[:longest].rstrip(" ")


def maker_of(name: str, note: str) -> Maker:
    """A maker from what was typed."""
    return Maker(plain(name, LONGEST_BY), plain(note, LONGEST_NOTE))


def _seal(body: str) -> str:
    return f"{crc32(body.encode('utf-8')):08x}"[:6]


def write(plan: Plan, maker: Maker = NOBODY) -> str:
    """A fragment with all that differs from the defaults, and its maker where there is one; empty when nothing does."""
    made = maker_of(maker.name, maker.note)
    said = {BY: made.name, NOTE: made.note}
    changed = {**plan.changed(), **{key: text for key, text in said.items() if text}}
    if not changed:
        return ""
    body = "&".join(f"{quote_plus(key)}={quote_plus(text)}" for key, text in sorted(changed.items()))
    return f"#plan={VERSION}&{body}&end={_seal(body)}"


def _fragment(text: str) -> str:
    """What stands behind the # of a link, without the step it opens at."""
    text = whole_characters(text)
    if "#" in text:
        text = text.split("#", 1)[1]
    return STEP.sub("", text.strip())


def is_newer(fragment: str) -> bool:
    """Whether a link says that it is of a version after today's, which may say more than is understood here."""
    name, _, version = _fragment(fragment).partition("&")[0].partition("=")
    return name in ("plan", "start") and history.version_of(version)[0] > VERSION


def maker(fragment: str) -> Maker:
    """Who made a link, and the note in it; nobody where it says neither."""
    fragment = _fragment(fragment)
    if len(fragment) > LONGEST:
        return NOBODY
    try:
        said = dict(parse_qsl(fragment, max_num_fields=4000))
    except ValueError:
        return NOBODY
    return maker_of(said.get(BY, ""), said.get(NOTE, "")) if {"plan", "start"} & set(said) else NOBODY


def read(fragment: str) -> tuple[dict[str, str], list[str]]:
    """Plan text from a fragment, a whole link, or nothing; and a sentence for each thing wrong with it.

    The number after ``plan=`` or ``start=`` is the version whose defaults stand for what is left out; the text comes
    back as one of today's. A starting point written by hand begins with ``start=`` and has no end mark. One that
    begins with ``plan=`` and whose mark is missing or does not fit was cut or changed on the way: it is read as far as
    it goes, and said so.
    """
    fragment = _fragment(fragment)
    if not fragment:
        return {}, []
    if len(fragment) > LONGEST:
        return {}, [f"This link is longer than {LONGEST:,} characters; no plan is that long, so it was not read."]
    body, mark, seal = fragment.partition("&")[2].rpartition("&end=")
    try:
        pairs = parse_qsl(fragment, keep_blank_values=True, max_num_fields=4000)
    except ValueError:
        return {}, ["This link holds more answers than any plan has; it was not read."]
    if not pairs or pairs[0][0] not in ("plan", "start"):
        return {}, []
    notes = []
    version, unsure = history.version_of(pairs[0][1])
    notes += unsure
    if mark and seal != _seal(body):
        notes.append("This link was changed or cut on its way here; check what it filled in.")
    elif not mark and pairs[0][0] == "plan":
        notes.append("This link has lost its end; check what it filled in.")
    text = {}
    for key, value in pairs[1:]:
        if key == "end":
            continue
        if key in _SAID:
            named, longest = _SAID[key]
            if len(plain(value, len(value))) > longest:
                notes.append(f"The {named} in the link is longer than {longest} characters; the rest was left out.")
            continue
        if is_transient(key):
            notes.append(f"The link holds “{FIELDS[key].label}”, which is of one day; measure again and type it.")
        elif renamed(key) in FIELDS or find_column(renamed(key)):
            text[key] = value
        else:
            notes.append(f"The link holds “{key[:40]}”, which is not a question here; it was left aside.")
    # A link that says nothing is no plan, whatever its version meant by silence.
    return history.as_today(text, version) if text else {}, history.first_of(notes)
