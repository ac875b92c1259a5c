"""Signs that the log tells: readings outside their bands, what climbs or falls, a power cut, late seedlings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from .. import trends
from ..bath import Bath
from ..entries import Entry
from ..latest import latest
from ..sanity import can_be

# A reading older than this is no sign of today; a solution changed and a failure are, for as long.
RECENT, POWER = timedelta(days=3), timedelta(days=2)
BANDS = {"temperature": ("warm", "cold"), "ph": ("ph-high", "ph-low"), "ec": ("ec-high", "ec-low"),
         "oxygen": ("", "oxygen-low")}
MOVES = {"ph": ("ph-climbs", "ph-falls"), "ec": ("ec-rises", "")}


@dataclass(frozen=True)
class Told:
    """Signs that the log shows, signs that it rules out, and a few words for each of either."""

    present: tuple[str, ...]
    absent: tuple[str, ...]
    note: dict[str, str]


def told(bath: Bath, entries: Iterable[Entry], now: datetime) -> Told:
    """What the readings of the last days say of the signs."""
    log = [one for one in entries if one.moment <= now + timedelta(hours=1)]
    known = latest(log, now, bath.system)
    present: list[str] = []
    absent: list[str] = []
    note: dict[str, str] = {}
    for name, (over, under) in BANDS.items():
        value, band = known.values.get(name), bath.bands.get(name)
        if value is None or band is None or not can_be(name, value) or now - known.at[name] > RECENT:
            continue
        word = band.word(value)
        shown = bath.show(name, value)
        far = bath.apart(name, band.beyond(value))
        words = f"{shown}, {far} {'above' if word == 'high' else 'below'} its band"
        for sign, mark in ((over, "high"), (under, "low")):
            if not sign:
                continue
            (present if word == mark else absent).append(sign)
            note[sign] = words if word == mark else f"{shown}, {'in its band' if word == 'in' else 'the other way'}"
    for name, (up, down) in MOVES.items():
        line = trends.trend(trends.points(log, name, now, bath.system))
        if line is None or not line.sure or abs(line.slope) < trends.WORTH[name]:
            continue
        sign = up if line.slope > 0 else down
        if sign:
            present.append(sign)
            note[sign] = f"{bath.apart(name, abs(line.slope))} a day"
    for entry in log:
        if entry.kind == "changed" and now - entry.moment <= RECENT:
            present.append("fresh")
            note["fresh"] = "changed in the last three days"
        if entry.kind == "failed" and "power" in f"{entry.text('what')} {entry.text('remark')}".lower() and (
                now - entry.moment <= POWER):
            present.append("power")
            note["power"] = "noted in the log"
    return Told(tuple(dict.fromkeys(present)), tuple(dict.fromkeys(absent)), note)
