"""The sheet of the test day and the first week: the plan says, you read, off by so much, what then."""

from __future__ import annotations

from dataclasses import dataclass

from ... import units
from ...declare import Row
from ...solve import Design
from ...topics import scheme
from . import leaf, shop, stand

# Levels may be off by that much of the depth, flow by that share, before something is to be done: common practice.
LEVEL_SHARE, FLOW_SHARE = 0.04, 0.20
DAYS = 7


@dataclass(frozen=True)
class Check:
    """One line of the test day: what to do, what the plan says, how far off it may be, and what to do then."""

    do: str
    says: str
    off: str = ""
    then: str = ""


def checks(design: Design) -> list[Check]:
    """The test day of this plan, in order."""
    shown = design.shown
    wet, stones = design.value("water.scheme") == "circulating", int(design.value("air.stones") or 0)
    found: list[Check] = []
    depth = design.value("bath.water_depth")
    slack = _slack(design, depth) if isinstance(depth, float) else ""
    place = stand.of(design)
    store = place.reservoir if place else None
    top = shop.standpipe_top(design)
    if not wet:
        found.append(
            Check(
                "Fill the bath to its line; tape the line",
                shown("bath.water_depth"),
                slack,
                "Level the stand, fill again.",
            )
        )
    else:
        if top:
            found.append(
                Check(
                    "Fill the bath until it runs over the pipe",
                    shop.length(design, top),
                    slack,
                    "Shorten or raise the pipe.",
                )
            )
        if store:
            found.append(
                Check(
                    "Fill the reservoir; tape both lines",
                    shop.length(design, store.level),
                    "",
                    "The tape says “running”.",
                )
            )
        found.append(
            Check("Pump on, 10 minutes: bath holds at", shown("bath.water_depth"), slack, "Higher: clear the strainer.")
        )
        bucket = 3.785411784e-3 if design.system == "us" else 1e-2
        # The flow is that of all baths; what can be timed is one inlet, while the others run.
        flow, baths = design.value("circulation.flow"), int(design.value("bath.count") or 1)
        if flow:
            size = "1 gal" if design.system == "us" else "10 L"
            where = "the inlet" if baths == 1 else "the inlet of each bath"
            found.append(
                Check(
                    f"Bucket and watch at {where}: {size} takes",
                    _seconds(bucket * baths / flow),
                    f"{FLOW_SHARE * 100:.0f} %",
                    "Slower: a kink, or the pump’s grille.",
                )
            )
        if store:
            found.append(
                Check(
                    "Pump off, 5 minutes: reservoir at",
                    shop.length(design, store.stopped),
                    slack,
                    "Higher: clear the siphon hole.",
                )
            )
        if shown("water.depth_after_stop"):
            found.append(Check("and the bath at", shown("water.depth_after_stop"), slack, "Lower: a fitting leaks."))
        found.append(Check("Pump on again: it starts and primes", "yes", "", "Bleed the hose, tilt the pump."))
    if stones:
        found.append(
            Check(
                "Every stone bubbles end to end",
                f"{stones} of {stones}",
                "",
                "Open the manifold’s valve." if stones > 1 else "Clean the stone; look for a kink.",
            )
        )
    if wet or stones:
        found.append(Check("GFCI (RCD) test button cuts every pump", "yes", "", "Do not go on. Electrician."))
    warm = shown("heat.mean") or shown("water.temperature")
    off = "4 °F" if design.system == "us" else "2 °C"
    found.append(Check("A day on: floor dry, water at", warm, off, "See step 5, Light and warmth."))
    found.append(Check("Chlorine, by a pool strip", "none", "", "Air on, wait, test again. Then mix."))
    return found


def _seconds(value: float) -> str:
    return f"{value:.0f} s" if value >= 5 else f"{value:.1f} s"


def _slack(design: Design, depth: float) -> str:
    """How far a level may be off: a share of the depth, up to the next quarter inch or 5 mm."""
    step = 0.00635 if design.system == "us" else 0.005
    return shop.length(design, max(round(depth * LEVEL_SHARE / step), 1) * step)


def _test(design: Design) -> str:
    rows = "".join(
        f'<tr><td class="tick"><span class="tick-box"></span></td><td>{leaf.keep(one.do)}</td><td class="n"><b>'
        f'{leaf.keep(one.says)}</b></td><td class="read"><span class="read-box"></span></td><td class="n">'
        f"{leaf.keep(one.off)}</td><td>{leaf.keep(one.then)}</td></tr>"
        for one in checks(design)
    )
    heads = (
        '<thead><tr><td></td><th scope="col">Do</th><th scope="col" class="n">Plan says</th><th scope="col">You read'
        '</th><th scope="col" class="n">Off by</th><th scope="col">If more</th></tr></thead>'
    )
    return leaf.block(
        "Test day", f'<table class="test">{heads}<tbody>{rows}</tbody></table>', "plain water, in this order"
    )


def _fertilizer(design: Design) -> list[tuple[str, str]]:
    """What goes into the water, in the plan's own order: calcium last, and trace elements from their stock."""
    left = list(design.value("feed.masses") or [])
    stock = {row["key"] for row in design.value("feed.micro_stock") or []}
    dose = design.value("feed.micro_dose")
    said = []
    for step in design.value("feed.order") or []:
        if dose and "trace-element stock" in step["words"]:
            said.append(("Trace-element stock", shop.amount(dose, "volume", design.system)))
            left = [row for row in left if row["key"] not in stock]
        for row in [row for row in left if _is_about(step["words"], row["salt"])]:
            said.append(_poured(row, design))
            left.remove(row)
    return [*said, *(_poured(row, design) for row in left)]


def _is_about(words: str, thing: str) -> bool:
    """Whether a step of the plan's order pours this salt or bottle."""
    return words.startswith((f"{thing}:", f"{thing} last of all", f"Measure {thing} into"))


def _poured(row: Row, design: Design) -> tuple[str, str]:
    liquid = row.get("volume")
    much = shop.amount(liquid or row["mass"], "volume" if liquid else "mass", design.system)
    return str(row["salt"]).split(", ")[0].split(" (")[0], much


def _mix(design: Design) -> str:
    """What is poured in, in order: salts or bottles, then half of the acid, a reading, the rest."""
    said = _fertilizer(design)
    acid = design.value("acidity.volume")
    name = str(design.value("acidity.product") or "").split(",")[0]
    target = design.shown("acidity.target_ph")
    if acid:
        half = shop.amount(acid / 2, "volume", design.system)
        said += [(f"{name}, half", half), ("Stir, wait 15 min, measure", "pH"), ("The rest by half, to pH", target)]
    if not said:
        return ""
    items = "".join(
        f'<p><span class="tick-box"></span>{leaf.keep(one)} <b>{leaf.keep(much)}</b></p>' for one, much in said
    )
    batch = design.shown("feed.batch") or design.shown("water.working_volume")
    return leaf.block(
        "Then mix",
        f'<div class="cols three tight-cols">{items}</div>',
        f"{batch}, in this order, each dissolved before the next",
    )


def _rows(design: Design) -> list[tuple[str, str, str]]:
    """(what, plan says, leave alone) of the daily readings."""
    shown = design.shown
    found = []
    ec = design.value("feed.ec") or design.value("use.target_ec")
    if ec:
        low, high = (units.show(ec * share, "conductivity", design.system, "mS/cm", "mS/cm") for share in (0.9, 1.1))
        found.append(
            (
                "EC, mS/cm",
                units.show(ec, "conductivity", design.system, "mS/cm", "mS/cm").removesuffix(" mS/cm"),
                f"{low.removesuffix(' mS/cm')} to {high.removesuffix(' mS/cm')}",
            )
        )
    found.append(("pH", shown("acidity.target_ph"), f"{shown('crops.ph_low')} to {shown('crops.ph_high')}"))
    unit = "°F" if design.system == "us" else "°C"
    found.append(
        (
            f"Water, {unit}",
            shown("heat.mean").split(" ")[0],
            f"{shown('heat.band_low').split(' ')[0]} to {shown('heat.band_high').split(' ')[0]}",
        )
    )
    gone = design.value("use.gone")
    # A still vessel is not filled up again: the roots above its falling water breathe air.
    if gone and design.value(scheme.KEY) != scheme.STILL:
        number, _, unit = design.shown("use.gone").partition(" ")
        more, _, unit_of_more = design.shown_as("use.gone", gone * 2).partition(" ")
        # What is foretold is the drink of all sites, and what evaporates; in the first week young plants take less.
        alone = f"0 to {more}" if unit_of_more == unit else ""
        found.append((f"Top-up since yesterday, {unit}", f"under {number}", alone))
    return [row for row in found if row[1]]


def _week(design: Design) -> str:
    boxes = '<td class="day"><span class="read-box"></span></td>' * DAYS
    rows = "".join(
        f'<tr><th scope="row">{leaf.keep(what)}</th><td class="n"><b>{leaf.keep(says)}</b></td>'
        f'<td class="n">{leaf.keep(alone)}</td>{boxes}</tr>'
        for what, says, alone in _rows(design)
    )
    ticks = '<td class="day"><span class="tick-box"></span></td>' * DAYS
    last = (
        "Pumps run, strainer clear, floor dry"
        if design.value("water.scheme") == "circulating"
        else "Stones bubble, floor dry"
    )
    rows += f'<tr><th scope="row" colspan="3">{last}</th>{ticks}</tr>'
    heads = "".join(f'<th scope="col" class="day">{day}</th>' for day in range(1, DAYS + 1))
    head = (
        '<thead><tr><th scope="col">Day</th><th scope="col" class="n">Plan says</th><th scope="col" class="n">Leave '
        f"alone</th>{heads}</tr></thead>"
    )
    note = []
    rebound = design.shown("acidity.rebound_ph")
    if rebound and (design.value("acidity.rebound_ph") or 0) > (design.value("acidity.target_ph") or 0):
        note.append(
            f"<b>pH climbs toward {rebound}</b> as carbon dioxide leaves: expected within days. Correct it only above "
            f"{design.shown('crops.ph_high')}, with a quarter of the first dose at most."
        )
    if design.value(scheme.KEY) == scheme.STILL:
        note.append(
            "<b>The water falls</b> as plants drink: do not fill it up to the board again, for the roots above it "
            "breathe air."
        )
    else:
        strength = design.value("use.topup_strength")
        what = f"nutrient solution of {leaf.keep(design.shown('use.topup_ec'))}" if strength and design.value(
            "use.topup_ec") else "plain water"
        note.append(
            f"<b>EC falls</b> as plants take nutrients up, rises as they drink: top up with {what}, then measure. "
            "Above the band, plain water; below it, a tenth of the first mix."
        )
    return leaf.block(
        "First week",
        f'<table class="week">{head}<tbody>{rows}</tbody></table><p class="note">{" ".join(note)}</p>',
        "same hour each day",
    )


def _last(design: Design) -> str:
    hours = design.shown("outage.plan_for")
    cut = (
        f"<p><b>Power cut:</b> with all pumps off, plan for {leaf.keep(hours)} until the roots lack oxygen. Scoop and "
        "pour water from a height, or run the air pump from a battery.</p>"
        if hours
        else "<p><b>Nothing is pumped here:</b> look at the level and the roots each day.</p>"
    )
    names = (
        '<p><label>Passed on (date, name) <input type="text" maxlength="60" autocomplete="off"></label></p>'
        '<p><label>First plants in <input type="text" maxlength="60" autocomplete="off"></label></p>'
    )
    return f'<div class="cols two top">{leaf.block("", cut)}{leaf.block("", names)}</div>'


def sheet(paper: leaf.Paper, number: int, pages: int) -> str:
    """The whole sheet."""
    design = paper.design
    body = f"{_test(design)}{_mix(design)}{_week(design)}{_last(design)}"
    return leaf.leaf(
        "Test day and first week",
        ["No plants until every box", "of the first table is ticked"],
        body,
        [
            ("Plan", paper.name),
            (f"Sheet {number} of {pages}", "Test and first week"),
            ("Fill in", "with a pencil"),
            ("Built by, date", ""),
        ],
        str(number),
    )
