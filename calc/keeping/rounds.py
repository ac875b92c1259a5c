"""What the calendar says: the round of cleaning and checking, sowing and cutting, and the full change of solution."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from ..topics import scheme
from .acts import Act, Caution, Soon, day_words
from .bath import Bath
from .entries import Entry

# Days between two rounds of the same: common practice, no published source.
STRAINER_D, METERS_D = 7, 14
# How long a date of the calendar stays on the list when nobody ticked it, and how far ahead is soon.
LATE_D, AHEAD_D, CHANGE_AHEAD_D = 7, 7, 14
AFTER_CUT = timedelta(days=1)
WORDS = {"sow": "Sow", "transplant": "Move to the raft", "apart": "Move apart", "harvest": "Cut"}
CODES = {"sow": "sow", "transplant": "move", "apart": "apart", "harvest": "cut"}
KINDS = {"sow": "planted", "transplant": "moved", "apart": "moved", "harvest": "harvested"}
HANDS = Caution("Unplug the pump", "before your hand goes in.")
CLEAN = Caution("Clean hands, clean knife:", "this is eaten raw. Chill it at once.")
DRAIN = Caution("Unplug first.", "Old solution goes on soil or to the sewer, never into a stream or pond.")


@dataclass(frozen=True)
class Done:
    """Events by what they were about: when the last of a kind, or of a code, was done."""

    entries: Sequence[Entry]

    def last(self, kind: str, *codes: str) -> date | None:
        """Day of the last event of a kind; with codes, of one that names one of them."""
        days = [one.moment.date() for one in self.entries if one.kind in (kind, "done")
                and (_about(one, codes) if codes or one.kind == "done" else True)]
        return max(days, default=None)

    def ticked(self, code: str) -> bool:
        """Whether a line of the calendar was ever ticked."""
        return any(one.text("code") == code for one in self.entries)


def _about(entry: Entry, codes: Iterable[str]) -> bool:
    """Whether an event names one of these codes or is told in their words; a cleaning of nothing named is of all."""
    code, what = entry.text("code"), entry.text("what").lower()
    return code in codes or (not code and any(one in what for one in codes)) or (
        entry.kind == "cleaned" and not code and not what.strip())


def _plural(count: int, one: str) -> str:
    return f"{count:,} {one}{'' if count == 1 else 's'}"


def _every(last: date | None, every: int, today: date) -> tuple[bool, str, date]:
    """Whether a round is due, since when in words, and by which day."""
    if last is None:
        return True, f"The log does not say when it was last done. Every {every} days", today
    since = (today - last).days
    return since >= every, f"{_plural(since, 'day')} since the last time; every {every}", last + timedelta(every)


def strainer(bath: Bath, done: Done, today: date) -> tuple[Act | None, Soon | None]:
    """The overflow's strainer, where there is an overflow."""
    if not bath.circulates:
        return None, None
    due, since, by = _every(done.last("cleaned", "strainer"), STRAINER_D, today)
    if not due:
        return None, Soon("strainer", "Clean the overflow strainer", f"every {STRAINER_D} days", by,
                          day_words(by, bath.system))
    baths = bath.sheet.input_if_any("bath.count", int) or 1
    each = "" if baths == 1 else f" Each of the {baths} baths has one."
    return Act("strainer", "Clean the overflow strainer", f"{since} keeps roots from blocking it.{each}", caution=HANDS,
               then=("Then look:", "is the water back at its mark 5 minutes after the pump starts?"),
               minutes=5 * baths, log={"kind": "cleaned", "typed": {"code": "strainer", "what": "strainer"}}), None


def meters(bath: Bath, done: Done, today: date, in_use: bool) -> tuple[Act | None, Soon | None]:
    """The meters in their liquids; asked once a reading says that there are meters."""
    last = done.last("checked", "meters") or done.last("checked")
    if last is None:
        return None, (Soon("meters", "Check both meters in their liquids", f"every {METERS_D} days", None, "this week")
                      if in_use else None)
    due, since, by = _every(last, METERS_D, today)
    if not due:
        return None, Soon("meters", "Check both meters in their liquids", f"every {METERS_D} days", by,
                          day_words(by, bath.system))
    return Act("meters", "Check both meters in their liquids", f"{since}. A pH meter drifts, and every "
               "dose of acid hangs on it.", then=("Then rinse", "in clean water, and wet the pH tip's cap."),
               minutes=10, log={"kind": "checked", "typed": {"code": "meters"}}), None


def change(bath: Bath, done: Done, today: date) -> tuple[Act | None, Soon | None]:
    """The full change of solution."""
    after, last = bath.number("use.replace_after"), done.last("changed")
    if after is None:
        return None, None
    days = int(after // 86400)
    if last is None:
        return None, Soon("change", "Change the solution", f"every {_plural(days, 'day')}; note the last change in the "
                          "log", None, "when was the last?")
    by, old = last + timedelta(days), (today - last).days
    reason = str(bath.design.value("use.replace_reason") or "the calendar").lower()
    if today >= by:
        liters = bath.design.shown("water.working_volume")
        return Act("change", "Change the solution", f"It is {_plural(old, 'day')} old, and {_plural(days, 'day')} is "
                   f"the most ({reason}). Nothing is corrected in a solution that goes out: mix {liters} anew.", liters,
                   DRAIN, ("Then measure", "EC, pH and temperature of the new solution after half an hour."),
                   minutes=90, log={"kind": "changed", "typed": {}}), None
    if (by - today).days > CHANGE_AHEAD_D:
        return None, None
    weeks = f"{days // 7} weeks old" if days % 7 == 0 else f"{days} days old"
    return None, Soon("change", "Change the solution", f"{weeks} on {day_words(by, bath.system).split(',')[0]}", by,
                      f"by {day_words(by, bath.system)}")


def _plant_words(row: dict[str, Any], what: str, day: date) -> tuple[str, str, str]:
    """(title, amount, reason) of a date of the calendar."""
    name, batch = row["name"], row["batch"]
    if what == "sow":
        return (f"Sow tray {batch}", _plural(row["seeds"], "seed"),
                f"{name}: ready for its holes on {row['transplant']}, where {row['plants']} are needed.")
    if what == "transplant":
        return f"Move tray {batch} to the raft", _plural(row["plants"], "plant"), f"{name}: keep the even seedlings."
    if what == "apart":
        return f"Move batch {batch} apart", _plural(row["plants"], "plant"), f"{name}: from close to full spacing."
    age = (day - date.fromisoformat(row["sow"])).days
    return (f"Cut batch {batch}", _plural(row["heads"], "head"),
            f"Day {age} for {name}; its holes are needed for the next batch.")


def plants(bath: Bath, done: Done, today: date) -> tuple[list[Act], list[Soon]]:
    """The dates of the plan's calendar that are here, and the next ones."""
    acts: list[Act] = []
    soon: list[Soon] = []
    for row in bath.design.result("schedule.batches") or []:
        for what in ("sow", "transplant", "apart", "harvest"):
            if not row[what]:
                continue
            day = date.fromisoformat(row[what])
            code = f"{CODES[what]}:{row['batch']}-{row['crop'].replace(' ', '-')}"
            ahead = (day - today).days
            if ahead < -LATE_D or ahead > AHEAD_D or done.ticked(code):
                continue
            title, amount, reason = _plant_words(row, what, day)
            late = f" It was due on {day_words(day, bath.system)}." if ahead < 0 else ""
            if ahead > 0:
                soon.append(Soon(code, title, amount, day, day_words(day, bath.system)))
                continue
            cut = what == "harvest"
            acts.append(Act(code, title, reason + late, amount, CLEAN if cut else None,
                            ("Then weigh", "them: the log keeps the harvest.") if cut else None, minutes=10, log={
                                "kind": KINDS[what], "typed": {"code": code, "what": row["name"],
                                                               "count": amount.split()[0].replace(",", "")}}))
    return acts, soon


def outage(bath: Bath, done: Done, now: datetime) -> Act | None:
    """After a power cut that the log tells: what to look at, and how long the plan says that roots have."""
    cuts = [one for one in done.entries if one.kind == "failed" and timedelta(0) <= now - one.moment <= AFTER_CUT
            and "power" in f"{one.text('what')} {one.text('remark')}".lower()]
    if not cuts or any(one.text("code") == "outage" and one.moment >= cuts[-1].moment for one in done.entries):
        return None
    lasts = bath.design.shown("outage.plan_for")
    plan = f" Your plan counts on {lasts} of oxygen with both pumps stopped." if lasts else ""
    return Act("outage", "After the power cut: look first", f"See that every stone bubbles, that water runs, and that "
               f"the floor is dry.{plan} Roots that lacked air show it within three days.", caution=HANDS,
               then=("Then lift", "a net pot each day for three days."), minutes=5,
               log={"kind": "done", "typed": {"code": "outage"}})


def look(bath: Bath, done: Done, today: date) -> Act | None:
    """The look of every day."""
    if done.last("done", "look") == today:
        return None
    stones = scheme.has_air(bath.sheet)
    parts = (["every stone bubbles"] if stones else []) + [
        "water runs in and over the rim" if bath.circulates else
        "the water is not below its lowest" if bath.still else "the water is at its mark"]
    return Act("look", "Look and listen", f"{' and '.join(parts).capitalize()}; one net pot lifted shows white roots "
               "that smell of nothing.", minutes=2, log={"kind": "done", "typed": {"code": "look"}})


def acts(bath: Bath, entries: Iterable[Entry], now: datetime, in_use: bool) -> tuple[list[Act], list[Soon]]:
    """All that the calendar asks for today, and what is coming."""
    done, today = Done(tuple(entries)), now.date()
    found: list[Act | None] = []
    soon: list[Soon | None] = []
    for act, coming in (change(bath, done, today), strainer(bath, done, today), meters(bath, done, today, in_use)):
        found.append(act)
        soon.append(coming)
    planted, next_dates = plants(bath, done, today)
    found += [look(bath, done, today), outage(bath, done, now)]
    return [*planted, *filter(None, found)], [*filter(None, soon), *next_dates]
