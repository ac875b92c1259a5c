"""Sixty invented days of an invented bath, each entry marked so, in which three things go wrong: to try everything on.

Days are counted back from the moment that the page says. What goes wrong: the acid is forgotten over a time away, a
stone clogs, and a hot week warms the water until roots turn brown.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from random import Random

from .entries import Entry, in_order

NAME = "Tote by the wash-house (invented)"
# A plan of its own, so that its amounts do not move with the example plan of the planner.
PLAN = {"units": "us", "feed.way": "salts", "acidity.strength_percent": "10 %", "heat.keep_low": "62 F",
        "heat.keep_high": "71 F", "bath.length": "48 in", "bath.width": "24 in", "bath.depth": "12 in",
        "bath.water_depth": "10 in"}
DAYS, SEED = 60, 20
AWAY, CLOGGED, HOT = (22, 24), (36, 39), 55
FULL_IN = 10.0
DRINKS_IN, PH_A_DAY = 0.32, 0.08


def _moment(now: datetime, day: int, hour: int, minute: int) -> datetime:
    """A moment of one of the sixty days; the last is today, if that hour is past."""
    at = (now - timedelta(days=DAYS - 1 - day)).replace(hour=hour, minute=minute)
    return min(at, now - timedelta(minutes=1))


def entries(now: datetime, bath: str = "") -> list[Entry]:
    """The invented log up to ``now``; the same for the same day."""
    dice = Random(SEED)
    found: list[Entry] = []

    def note(kind: str, at: datetime, typed: dict[str, str], units: dict[str, str] | None = None) -> None:
        stamp = at.strftime("%Y-%m-%dT%H:%M")
        found.append(Entry(f"invented-{len(found) + 1:03d}", kind, stamp, {**({"time": stamp} if kind == "reading" else
                                                                            {}), **typed}, units or {}, bath, stamp,
                           True))
    meter = {"temperature": "F", "ec": "mS/cm", "oxygen": "mg/L", "level": "in"}
    level, ph, ec = FULL_IN, 5.8, 1.50
    note("changed", _moment(now, 5, 9, 0), {"remark": "fresh solution, 66 gal"})
    for day in range(DAYS):
        level -= DRINKS_IN * (0.8 + 0.4 * dice.random())
        pace = 1.5 if day >= HOT else 2.2 if AWAY[0] <= day <= AWAY[1] else 1.0
        ph += PH_A_DAY * (0.6 + 0.8 * dice.random()) * pace
        ec -= 0.008 * (0.5 + dice.random())
        warm = 67.0 + 1.5 * dice.random() + (1.6 * (day - HOT + 1) if day >= HOT else 0.0)
        oxygen = 8.1 - 0.11 * (warm - 67.0) - 0.3 * dice.random()
        if CLOGGED[0] <= day <= CLOGGED[1]:
            oxygen -= 1.0 * (day - CLOGGED[0] + 1)
        if AWAY[0] <= day <= AWAY[1]:
            continue
        at = _moment(now, day, 7, 2 + int(18 * dice.random()))
        typed = {"temperature": f"{warm:.0f}", "ec": f"{ec:.2f}", "ph": f"{ph:.1f}", "level": f"{level:.1f}"}
        if day % 2 == 0 or CLOGGED[0] <= day <= CLOGGED[1] + 1 or day >= HOT:
            typed["oxygen"] = f"{oxygen:.1f}"
        remark = {AWAY[1] + 1: "back from three days away, nobody poured acid", CLOGGED[1]: "one stone hardly bubbles",
                  HOT + 2: "hot week, shade cloth ordered", DAYS - 1: "roots look brown at row 3"}.get(day)
        if remark:
            typed["remark"] = remark
        topping = day < DAYS - 5 and (level < 8.4 or day in (7, 15, AWAY[1] + 1, DAYS - 6))
        if topping:
            gallons = (FULL_IN - level) * 1.6
            typed |= {"added": f"{gallons:.1f}", "fertilizer": f"{gallons * 15:.0f}"}
            level, ec = FULL_IN, min(ec + 0.06 * gallons / 2.0, 1.52)
        if day < HOT and ph > 6.25 and day != AWAY[0] - 1:
            typed["acid"] = "25" if ph > 6.6 else "15"
            ph = 5.8
        note("reading", at, typed, {**meter, **({"added": "gal", "fertilizer": "mL"} if "added" in typed else {}),
                                    **({"acid": "mL"} if "acid" in typed else {})})
        later = at + timedelta(minutes=20)
        if day % 7 == 1 and day < DAYS - 5:
            note("cleaned", later, {"what": "strainer", "code": "strainer"})
        if day in (3, 17, 31, 45):
            note("checked", later, {"what": "pH and EC meter", "code": "meters"})
        if day % 7 == 4:
            note("planted", later, {"what": "Leaf lettuce", "count": "4"})
            note("moved", later, {"what": "Leaf lettuce", "count": "3"})
        if day % 7 == 5 and day > 10:
            note("harvested", later, {"what": "Leaf lettuce", "count": "3", "mass": f"{15 + 2 * dice.random():.1f}"},
                 {"mass": "oz"})
        if day == CLOGGED[1]:
            note("failed", later, {"what": "air stone", "remark": "clogged; brushed and soaked"})
    return in_order(found)
