"""A club's file, written and read back: it is put among what stands here, none doubled, nothing lost, each told."""

from __future__ import annotations

import json
from copy import deepcopy
from typing import Any
from zlib import crc32

from ..data.versions import VERSION
from ..plan import MADE_WITH, whole_characters
from .record import FORMAT, KIND, LONGEST_NAME, typed

LONGEST_FILE, DEEPEST, MOST_TOLD = 5_000_000, 20, 60
# What a page keeps of a club for itself.
OF_THE_PAGE = ("stamp", "changed", "deleted")
SINGLE = {"name": "the club’s name", "units": "the units", "start": "the first day", "weeks": "the weeks",
          "on_duty": "who is on duty", "extra": "tax and postage", "shared_tools": "tools", "signed": "names in links"}
Json = dict[str, Any]


def written(club: Json) -> str:
    """The file of a club, with everything that stands in it, also what this version does not know."""
    kept = {key: value for key, value in club.items() if key not in (*OF_THE_PAGE, "kind", "format", "made_with")}
    return json.dumps({"kind": KIND, "format": FORMAT, "made_with": MADE_WITH, "version": VERSION, **kept},
                      indent=1, ensure_ascii=False) + "\n"


def _depth(text: str) -> int:
    depth = deepest = 0
    for letter in "".join(text.replace("\\\\", "").replace('\\"', "").split('"')[::2]):
        depth += (letter in "[{") - (letter in "]}")
        deepest = max(deepest, depth)
    return deepest


def _refuse(name: str) -> None:
    raise ValueError(name)


def _whole(value: Any) -> Any:
    """The same with whole characters: half of one crosses no border."""
    if isinstance(value, str):
        return whole_characters(value)
    if isinstance(value, list):
        return [_whole(one) for one in value]
    return {_whole(key): _whole(one) for key, one in value.items()} if isinstance(value, dict) else value


def read(text: str) -> Json | str:
    """The club in a file's text, or a sentence on why there is none."""
    if len(text) > LONGEST_FILE:
        return "The file is larger than any club; nothing was read from it."
    if _depth(text) > DEEPEST:
        return "The file is nested deeper than any club; nothing was read from it."
    try:
        given = _whole(json.loads(text, parse_constant=_refuse))
    except (ValueError, RecursionError):
        return "The file is not JSON text, or was cut on its way here; nothing here was changed."
    if not isinstance(given, dict) or given.get("kind") != KIND:
        other = isinstance(given, dict) and ("plan" in given or "plans" in given)
        return ("The file holds plans, not a club: open it on the shelf. Nothing here was changed." if other
                else "The file is no club of this program; nothing here was changed.")
    return given


def _same(left: object, right: object) -> bool:
    return json.dumps(left, sort_keys=True) == json.dumps(right, sort_keys=True)


def _without(row: Json, *names: str) -> Json:
    return {name: value for name, value in row.items() if name not in names}


def _known(row: Json, left: list[Json], names: tuple[str, ...]) -> Json | None:
    """The row that a row of the file is: of the same id, or, where one of them has none, alike in these parts."""
    own = row.get("id")
    for one in left:
        if own and one.get("id") == own:
            return one
    for one in left:
        if not (own and one.get("id")) and all(_same(one.get(name), row.get(name)) for name in names):
            return one
    return None


class _Merge:
    def __init__(self, here: Json) -> None:
        self.club = deepcopy(here)
        self.told: list[str] = []
        self.counts = {"added": 0, "here already": 0, "kept beside another": 0, "not read": 0}
        self.original = False

    def tell(self, sentence: str, what: str) -> None:
        """A line of the file has been dealt with."""
        self.told.append(sentence)
        self.counts[what] += 1
        self.original = self.original or what == "not read"

    def rows(self, key: str, word: str, names: tuple[str, ...], given: object) -> None:
        """Put the rows of a file among those here; one that says something else here is kept beside it."""
        standing = self.club.get(key)
        rows: list[Any] = standing if isinstance(standing, list) else []
        self.club[key] = rows
        if given is None:
            return
        if not isinstance(given, list):
            self.tell(f"The file’s {key} are no list; they were left aside.", "not read")
            return
        # A row here is found once: two of the file that say the same are two.
        left = [one for one in rows if isinstance(one, dict)]
        for at, row in enumerate(given, 1):
            if not isinstance(row, dict):
                self.tell(f"{word} {at} of the file cannot be read.", "not read")
                continue
            called = f"{word} “{typed(row.get('name'), LONGEST_NAME) or at}”"
            there = _known(row, left, names)
            if there is None:
                rows.append({**deepcopy(row), "id": self.free(rows, row.get("id"), f"{key[0]}{at}")})
                self.tell(f"{called}: added.", "added")
                continue
            left.remove(there)
            if all(_same(there.get(name), value) for name, value in row.items()):
                self.tell(f"{called}: here already.", "here already")
            else:
                self.beside(row, rows, called)

    @staticmethod
    def free(rows: list[Any], own: object, otherwise: str) -> str:
        """An id that no row has."""
        found = typed(own, LONGEST_NAME) or otherwise
        while any(isinstance(one, dict) and one.get("id") == found for one in rows):
            found += "-f"
        return found

    def beside(self, row: Json, rows: list[Any], called: str) -> None:
        """A row that says something else than the one of its id here: both are kept, once."""
        other = {**_without(row, "id"), "from_file": True}
        if any(isinstance(one, dict) and _same(_without(one, "id"), other) for one in rows):
            self.tell(f"{called}: here already, beside the one that was here before.", "here already")
            return
        rows.append({**deepcopy(other), "id": self.free(rows, row.get("id"), "f")})
        self.tell(f"{called}: here it says something else. Both are kept; take away the one you do not want.",
                  "kept beside another")

    def single(self, given: Json) -> None:
        """What a club says once: here it stays, and what the file says otherwise is told."""
        for key, words in SINGLE.items():
            if key not in given or _same(self.club.get(key), given[key]):
                continue
            if self.club.get(key) in (None, ""):
                self.club[key] = given[key]
            else:
                self.told.append(f"The file says otherwise of {words} (“{typed(given[key], 40) or given[key]}”); "
                                 "what stood here stays.")
                self.original = True
        for key in ("prices", "buyers"):
            there, more = self.club.get(key), given.get(key)
            self.club[key] = {**(more if isinstance(more, dict) else {}), **(there if isinstance(there, dict) else {})}
        for key, value in given.items():
            self.club.setdefault(key, value)

    def sum(self) -> str:
        """All of it in one sentence."""
        said = [f"{many} {what}" for what, many in self.counts.items() if many]
        return f"Lines of the file: {', '.join(said)}." if said else "The file holds a club without members or baths."


def merged(standing: list[Json], text: str) -> Json:
    """What a file's text brings to the clubs that stand here.

    ``club`` is what is to stand under its id from now on, ``None`` where nothing could be read; ``sum`` all of it in a
    sentence, ``told`` one for each line; ``original`` whether the text must be kept, not all of it being in ``club``.
    """
    given = read(text)
    if isinstance(given, str):
        return {"club": None, "sum": given, "told": [], "original": True}
    newer = isinstance(given.get("format"), int) and given["format"] > FORMAT
    own = _without(given, "kind", "format", "made_with", "version", *OF_THE_PAGE)
    # What has no id gets one from what it says, so that it is known when it comes again.
    own["id"] = typed(own.get("id"), LONGEST_NAME) or f"f{crc32(json.dumps(own, sort_keys=True).encode()):08x}"
    merge = _Merge(next((one for one in standing if one.get("id") == own["id"]), {}))
    merge.rows("members", "Member", ("name",), own.pop("members", None))
    merge.rows("baths", "Bath", ("name", "plan", "count"), own.pop("baths", None))
    merge.single(own)
    told = ["The file was made by a newer version; what is understood of it was read."] if newer else []
    told += merge.told
    if len(told) > MOST_TOLD:
        told = [*told[:MOST_TOLD], f"And {len(told) - MOST_TOLD} more."]
    return {"club": merge.club, "sum": merge.sum(), "told": told, "original": newer or merge.original}
