"""The pages of a running bath as they stand before any script runs: an invented bath, on a fixed day."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

# The day on which the invented bath is looked at, so that the same sources give the same bytes.
NOW = "2026-11-25T12:00"
NAMES = (("today", "Today", "What the bath needs now: what to top up, pour, clean, sow and cut."),
         ("log", "Log", "What was measured, poured and cut, and what two weeks and a year of it say."),
         ("trouble", "Trouble", "From what is seen to what to check, in order of likelihood and harm."),
         ("routine", "Rounds", "Checklists with your amounts: each day, each week, a holiday, a power cut, winter."))
REGIONS = ("verdict", "gauges", "todo", "soon", "wall")
# What a jug test is typed in.
JUG = {"today.jug_volume": ("L", "mL", "qt"), "today.jug_acid": ("drops", "mL")}


def _sentence(words: str) -> str:
    """Words that begin large and keep their capitals."""
    return words[:1].upper() + words[1:]


def contents() -> dict[str, Any]:
    """What the templates of all four pages take: HTML of the invented bath, and the fields of an entry."""
    from calc import keeping_api
    from calc.keeping.trouble.signs import WHERE
    from calc.plan import FIELDS, MADE_WITH
    from calc.render import signs

    def ask(name: str, **more: Any) -> dict[str, Any]:
        return keeping_api.run(name, {"now": NOW, "log": "pages", "root": "../", **more})
    bath = ask("invented_days", bath="invented")
    plan = bath["plan"]
    ask("log_open", plan=plan, entries=bath["entries"])
    day, pictures = ask("today", plan=plan), ask("log_pictures", plan=plan)
    narrow = ask("log_pictures", plan=plan, wide=False, parts=["strips", "year"])
    seen = ask("trouble_signs", plan=plan)
    why = ask("trouble", plan=plan, present=seen["present"], absent=seen["absent"], note=seen["note"])
    routine = ask("routine", plan=plan)
    fields, metric = ask("log_fields", plan={}), ask("log_fields", plan={"units": "metric"})
    in_metric = {one["key"]: one["unit"] for one in metric["reading"] + metric["event"]}
    rows = pictures["rows"]["html"].replace("data-reading=", "data-example=")
    return {
        "made_with": MADE_WITH, "bath_name": bath["name"], "symbols": Markup(signs.symbols()),
        "day": day, "day_html": {name: Markup(day["html"][name]) for name in REGIONS},
        "routine": routine, "routine_html": Markup(routine["html"]),
        "jug": [{"key": key, "label": _sentence(FIELDS[key].label.removeprefix("Jug test: ")),
                 "help": FIELDS[key].help, "units": units} for key, units in JUG.items()],
        "rows": Markup(rows), "count": pictures["readings"],
        "pictures": {name: {"wide": Markup(pictures[name]["svg"]), "narrow": Markup(
            narrow[name]["svg"].replace(f"{name}-hatch", f"{name}-narrow-hatch")),
                            "table": Markup(pictures[name]["table"]), "words": pictures[name]["words"]}
                     for name in ("strips", "year")} | {"yield": Markup(pictures["yield"].get("html", ""))},
        "findings": [one["text"] for one in ask("log_says", plan=plan)["findings"]],
        "where": [(where, title) for where, (title, _) in WHERE.items()],
        "signs": Markup(seen["html"]), "signs_ticked": len(seen["present"]),
        "why": {name: Markup(text) for name, text in why["html"].items()}, "why_lead": why["verdict"]["lead"],
        "reading": [{**one, "metric": in_metric[one["key"]]} for one in fields["reading"]],
        "event": [{**one, "metric": in_metric[one["key"]]} for one in fields["event"]], "kinds": fields["kinds"],
    }
