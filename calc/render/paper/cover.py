"""Sheet 1 of the build sheet: what it is, drawn with a builder's dimensions, what fits, and what can hurt."""

from __future__ import annotations

from html import escape

from ... import steps
from ...figures import count
from ...solve import Design
from .. import signs, svg, verdicts
from ..drawing import length_of, vessel
from . import boards, ink, leaf, shop, stand

WIDE = 124.0
LINES_A_STEP, MOST_BRIEFS = 2, 8
# Room for the dangers beside the rest on a sheet of Letter, in lines of text of 86 mm.
DANGER_LINES, LINE_WIDE = 14, 80.0


def dangers(design: Design) -> list[tuple[str, str, str]]:
    """(state, lead, text) of every danger, the plan's own first, then what is tight or fails under the bath itself."""
    own = [one for one in design.cautions if one.level == "danger" and not one.standing]
    standing = [one for one in design.cautions if one.level == "danger" and one.standing]
    floor = design.verdict("water")
    found = [("danger", one.lead, one.text) for one in own]
    if floor is not None and floor.state in ("tight", "fails"):
        # A flood is a danger and a verdict in the same words: it is told once.
        begins = floor.text.partition(". ")[0].casefold()
        if not any(begins in one.text.casefold() for one in own):
            found.append((floor.state, floor.lead, floor.text))
    return found + [("danger", one.lead, without_lead(one.text)) for one in standing]


def without_lead(text: str) -> str:
    """The text without the words ahead of its colon, where the lead says the same."""
    ahead, colon, rest = text.partition(": ")
    return rest[0].upper() + rest[1:] if colon and len(ahead) < 20 and rest else text


def lines_of(found: list[tuple[str, str, str]]) -> list[int]:
    """How many lines each takes in half a sheet."""
    return [len(svg.wrap(f"{lead}. {text}", LINE_WIDE * 1.08, ink.LETTER)) for _, lead, text in found]


def dangers_fit(design: Design) -> bool:
    """Whether the dangers have room on the cover."""
    return sum(lines_of(dangers(design))) <= 2 * DANGER_LINES


def danger_block(design: Design) -> str:
    """All dangers in full, in two columns."""
    found = dangers(design)
    own = sum(state != "danger" for state, _, _ in found) + sum(
        one.level == "danger" and not one.standing for one in design.cautions
    )
    said = (
        "the first is this plan’s own"
        if own == 1
        else f"the first {own} are this plan’s own"
        if own
        else "of every bath like this"
    )
    tall = lines_of(found)
    cut = min(range(1, len(found) + 1), key=lambda at: max(sum(tall[:at]), sum(tall[at:])))
    columns = "".join(
        "<div>" + "".join(_danger(*one) for one in part) + "</div>" for part in (found[:cut], found[cut:])
    )
    title = "Dangers, in full" if dangers_fit(design) else ""
    return leaf.block(title, f'<div class="cols two top ruled">{columns}</div>', said, "dangers-in-full")


def _danger(state: str, lead: str, text: str) -> str:
    return (
        f'<p class="hurt">{signs.sign(state).replace("sign ", "sign big ")}<span><strong class="{state}">'
        f"{escape(lead.rstrip('.'))}.</strong> {leaf.keep(text)}</span></p>"
    )


def _seven(design: Design) -> str:
    made = ""
    for number, step in enumerate(steps.STEPS, 1):
        said = verdicts.given(step, design)
        rows = [(one.figure, one.state) for one in said if one.figure][:LINES_A_STEP]
        rows += [(one.lead, "danger") for one in verdicts.triggered(design, step.topics)]
        lines = "".join(
            f"<p><span>{leaf.keep(figure)}</span>{leaf.state(state, SHORT.get(state, ''))}</p>"
            for figure, state in rows
        )
        made += f"<li><b>{number}</b><div><h4>{escape(step.title)}</h4>{lines}</div></li>"
    return f'<ol class="seven">{made}</ol>'


SHORT = {"fails": "no", "open": "to answer"}


def _tools(design: Design) -> str:
    saw = design.shown("board.hole_diameter")
    mine = [
        f"{saw} hole saw" if saw else "hole saw",
        "drill",
        "fine saw",
        "level",
        "tape measure",
        "marker",
        "bucket",
        "watch",
        "goggles",
        "mask",
    ]
    words = ", ".join(mine)
    return f"<h3>Tools</h3><p>{leaf.keep(words[0].upper() + words[1:])}.</p>"


def picture(design: Design) -> tuple[str, str]:
    """(drawing, what stands under it) of section and plan at one scale; two empty texts while a size is missing."""
    found = stand.of(design)
    if found is None:
        return "", ""
    across = _across(design)
    section = stand.Section(found, 27, 14, 70, 88, also=across)
    section.vessels()
    section.supply()
    section.drain()
    parts = section.parts
    _heights(section, parts)
    long = vessel(design, "bath")[0] or found.length
    parts.append(
        ink.across(
            section.x(0),
            section.x(found.shown_length),
            section.y(found.depth) - 10,
            f"{shop.length(design, long)} at the rim",
            True,
        )
    )
    top = section.bottom + 13
    bottom = _plan(section, design, parts, top, across)
    drawn = ink.drawing(WIDE, bottom, "The bath cut through and from above", _described(design), parts)
    notes = "; ".join(found.notes)
    said = f"Section and plan, {section.said_scale}." + (f" {notes[0].upper()}{notes[1:]}." if notes else "")
    stopped = (
        " When the pump stops, the reservoir rises to the dashes."
        if found.reservoir and found.reservoir.stopped > found.reservoir.level + 0.002
        else ""
    )
    caption = (
        f'{leaf.keep(said)} <b class="mine">Bold sizes</b> are yours, measured inside; plain sizes follow from '
        f"them.{stopped}"
    )
    return drawn, caption


def _across(design: Design) -> float:
    """The bath's size the other way, in m."""
    if "round" in str(design.value("bath.shape")):
        return length_of(design, "bath.diameter") or 0.0
    return length_of(design, "bath.width") or length_of(design, "water.opening_width") or 0.0


def _described(design: Design) -> str:
    return f"{design.shown('water.bath_volume')} in the bath, filled {design.shown('bath.water_depth')} deep"


def _heights(section: stand.Section, parts: list[str]) -> None:
    """Upright dimensions beside the bath, on the side where no hose goes up, and the levels."""
    found, design = section.stand, section.stand.design
    store = found.reservoir
    left = found.beside
    edge, way = (section.x(0), -1.0) if left else (section.x(found.shown_length), 1.0)
    for height in (found.depth, 0.0):
        parts.append(ink.line("hair", (edge + way, section.y(height)), (edge + way * 18, section.y(height))))
    said = design.shown("bath.depth")
    parts.append(ink.upright(edge + way * 17, section.y(found.depth), section.y(0), said, True, left))
    parts.append(ink.line("hair", (edge, section.y(found.water)), (edge + way * 5, section.y(found.water))))
    filled = design.shown("bath.water_depth")
    parts.append(ink.upright(edge + way * 4, section.y(found.water), section.y(0), filled, True, left))
    if found.ground < -0.02 and (store or not found.notes):
        parts.append(
            ink.upright(
                edge + way * 17, section.zero, section.y(found.ground), shop.length(design, -found.ground), False, left
            )
        )
    if found.water * section.per > 9:
        middle = section.x(found.shown_length * 0.55), section.y(found.water * 0.35) + 1.2
        parts.append(ink.text(*middle, design.shown("water.bath_volume"), "bold halo", "middle", 4.2))
    if store is None:
        return
    x = section.x(store.left + store.top) + 14 if found.beside else section.x(store.left) - 3.5
    deep = design.shown("reservoir.depth")
    ends = section.y(store.floor + store.depth), section.y(store.floor)
    parts.append(ink.upright(x, *ends, deep, True, not found.beside))
    parts.append(
        ink.text(
            section.x(store.left + store.top * (0.25 if found.beside else 0.62)),
            section.y(store.floor + store.level * 0.25),
            design.shown("water.reservoir_volume"),
            "bold halo",
            "middle",
        )
    )
    rise = store.stopped - store.level
    if rise > 0.002:
        over = section.x(store.left + store.top)
        y = section.y(store.floor + store.stopped)
        parts.append(ink.line("hair", (over - 1, y), (over + 2.5, y)))
        parts.append(
            ink.text(over + 3.2, y - 0.6, "rises", "halo")
            + ink.text(over + 3.2, y + 3.8, shop.length(design, rise), "halo")
        )
    if not found.beside and section.stand.design.value("circulation.lift"):
        low = section.y(store.floor + store.level * 0.3)
        high = section.y(found.depth if design.value("bath.fill") == "rim" else 0.0)
        parts.append(ink.upright(section.x(0) - 10.5, high, low, "", False))
        parts.append(
            ink.text(section.x(0) - 12, (high + low) / 2, design.shown("circulation.lift"), "", "end")
            + ink.text(section.x(0) - 12, (high + low) / 2 + 4.4, "lift", "", "end")
        )


def _plan(section: stand.Section, design: Design, parts: list[str], top: float, across: float) -> float:
    """The bath from above below its section; where the drawing ends."""
    found = section.stand
    left, right = section.x(0), section.x(found.shown_length)
    tall = across * section.per
    bottom = top + tall
    if "round" in str(design.value("bath.shape")):
        radius = (right - left) / 2
        parts.append(ink.circle("basin", left + radius, top + radius, radius))
        base = found.base / 2 * section.per
        if base < radius - 0.5:
            parts.append(ink.circle("part bare", left + radius, top + radius, base))
        bottom = top + 2 * radius
    else:
        parts.append(ink.rect("basin", left, top, right - left, tall))
        side = length_of(design, "bath.base_width") if design.value("bath.shape") == "tapered box" else None
        if side and found.base < found.length:
            dx, dy = section.inset(0) * section.per, (across - side) / 2 * section.per
            parts.append(ink.rect("part bare", left + dx, top + dy, right - left - 2 * dx, tall - 2 * dy))
            said = f"{design.shown('bath.base_length')} at the floor"
            parts.append(ink.across(left + dx, right - dx, top + tall * 0.3, said, True))
    if found.water * section.per <= 9:
        middle = (left + right) / 2, (top + bottom) / 2 + 1.2
        parts.append(ink.text(*middle, design.shown("water.bath_volume"), "bold halo", "middle", 4.2))
    if found.reservoir and not found.beside:
        store = found.reservoir
        deep = min(store.top * section.per, tall * 0.8)
        parts.append(ink.rect("dash", section.x(store.left), (top + bottom - deep) / 2, store.top * section.per, deep))
        parts.append(
            ink.text(
                section.x(store.left + store.top / 2),
                top + (bottom - top) * 0.36,
                "reservoir below",
                "faded halo",
                "middle",
            )
        )
    if "round" not in str(design.value("bath.shape")):
        said = design.shown("bath.width") or shop.length(design, across)
        parts.append(ink.upright(right + 7, top, bottom, said, True, False))
    _standpipe(section, design, parts, top, bottom)
    return bottom + 9


def _standpipe(section: stand.Section, design: Design, parts: list[str], top: float, bottom: float) -> None:
    """Where the standpipe stands, with its two sizes from the walls."""
    place = standpipe_place(design)
    if place is None or section.stand.broken:
        return
    bath = section.stand
    x = section.x(place[0])
    y = bottom - place[1] * section.per
    parts.append(
        ink.circle("part", x, y, 1.6)
        + ink.line("hair", (x - 3.4, y), (x + 3.4, y))
        + ink.line("hair", (x, y - 3.4), (x, bottom + 3))
    )
    near = place[0] > bath.length / 2
    wall = section.x(bath.shown_length if near else 0)
    size = shop.length(design, bath.length - place[0] if near else place[0])
    parts.append(ink.across(min(x, wall), max(x, wall), bottom + 3.5, ""))
    parts.append(
        ink.text(
            min(x, wall) - 2 if near else max(x, wall) + 2,
            bottom + 4.7,
            f"standpipe {size} from the rim",
            "",
            "end" if near else "start",
        )
    )
    if "round" not in str(design.value("bath.shape")):
        side = section.x(0) - 6
        parts.append(ink.line("hair", (side - 1, y), (x - 3, y)))
        parts.append(ink.upright(side, y, bottom, shop.length(design, place[1])))


def standpipe_place(design: Design) -> tuple[float, float] | None:
    """Centre of the first standpipe from the rim's front left corner, in m; ``None`` where there is none."""
    length, _ = vessel(design, "bath")
    opening = length_of(design, "water.opening_length"), length_of(design, "water.opening_width")
    if length is None or opening[0] is None or opening[1] is None:
        return None
    wide = length if "round" in str(design.value("bath.shape")) else length_of(design, "bath.width")
    gap = length_of(design, "board.clearance") or 0.0
    if wide is None:
        return None
    for board in boards.of(design):
        for notch in board.notches:
            if notch.what != "standpipe":
                continue
            x, y = notch.centre[0] / boards.MM, notch.centre[1] / boards.MM
            if board.disc:
                return length / 2 + x, wide / 2 + y
            piece = next(one for one in design.value("board.pieces") if one["board"] == board.numbers[0])
            corner = (
                min(one["x"] for one in design.value("board.pieces")),
                min(one["y"] for one in design.value("board.pieces")),
            )
            return (
                (length - opening[0]) / 2 + gap + piece["x"] - corner[0] + x,
                (wide - opening[1]) / 2 + gap + piece["y"] - corner[1] + y,
            )
    return None


def sheet(paper: leaf.Paper, pages: int) -> str:
    """The cover."""
    design = paper.design
    drawn, caption = picture(design)
    figure = (
        f"<figure>{drawn}<figcaption>{caption}</figcaption></figure>"
        if drawn
        else "<p>There is no drawing yet: a size of the bath is missing or cannot be worked with.</p>"
    )
    aside = f"<div><h3>The plan in seven steps</h3>{_seven(design)}{_tools(design)}</div>"
    body = f'<div class="cover-work">{figure}{aside}</div>'
    if dangers_fit(design):
        body += danger_block(design)
    else:
        many = len(dangers(design))
        body += leaf.block("Dangers", _many(design), f"{many} of them; in full on sheet 2, to read first")
    head = _headline(design)
    return (
        f'<section class="leaf cover" aria-label="Cover"><header><div><h1>{escape(paper.name)}</h1>'
        f'<p class="said">{leaf.keep(head)}</p></div><p class="facts"><span>Build sheet, {pages} pages</span>'
        f"<span>{'QR code below: this plan' if paper.code else 'made with Raftwright'}</span></p></header>"
        f'<div class="leaf-body">{body}</div>{_title_block(paper, pages)}</section>'
    )


def _many(design: Design) -> str:
    """Each danger in one line, where they stand in full on a sheet of their own."""
    if len(dangers(design)) > MOST_BRIEFS:
        leads = ", ".join(lead.rstrip(".").lower() for _, lead, _ in dangers(design))
        return f"<p>{leaf.keep(leads[0].upper() + leads[1:])}.</p>"
    own = [one for one in design.cautions if one.level == "danger"]
    floor = [one for one in dangers(design) if one[0] != "danger"]
    rows = [("danger", one.lead, one.brief) for one in sorted(own, key=lambda one: one.standing)]
    rows[sum(not one.standing for one in own):0] = [(state, lead, "") for state, lead, _ in floor]
    return f'<div class="cols two top ruled">{"".join(_danger(*one) for one in rows)}</div>'


def _headline(design: Design) -> str:
    sites = int(design.value("board.sites") or 0) * int(design.value("bath.count") or 1)
    baths = int(design.value("bath.count") or 1)
    what = "A raft bath" if baths == 1 else f"{count(baths)} raft baths"
    plants = f" for {count(sites)} plant{'' if sites == 1 else 's'}" if sites else ""
    held = design.shown("water.bath_volume")
    said = f"{what}{plants}: {held}{' each' if baths > 1 else ''}"
    if design.value("bath.legs"):
        said += " on a stand"
    if design.value("water.scheme") == "circulating" and design.shown("water.reservoir_volume"):
        said += f", {design.shown('water.reservoir_volume')} in the reservoir"
    return said


def _title_block(paper: leaf.Paper, pages: int) -> str:
    design = paper.design
    found = stand.of(design)
    scale = stand.Section(found, 27, 14, 70, 88, also=_across(design)).said_scale if found else "none"
    units = "inches, US gallons" if design.system == "us" else "millimeters, liters"
    cells = [
        ("Plan", paper.name),
        (f"Sheet 1 of {pages}", "Cover"),
        ("Drawn in", units),
        ("Built by", ""),
        ("Date", ""),
        ("Scale", f"{scale}, print at 100 %"),
    ]
    made = "".join(leaf.cell(label, words) for label, words in cells)
    code = f'<div class="code">{paper.code}</div>' if paper.code else ""
    link = f'<p class="link-of-plan">This plan: {escape(paper.link)}</p>' if 0 < len(paper.link) < 130 else ""
    return f'{link}<footer class="strip tall{" coded" if code else ""}">{made}{code}</footer>'


def danger_sheet(paper: leaf.Paper, number: int, pages: int) -> str:
    """The dangers on a sheet of their own, where the cover has no room for them."""
    found = dangers(paper.design)
    return leaf.leaf(
        "Dangers, in full",
        ["Read all of it before you begin", f"{len(found)} for this plan"],
        danger_block(paper.design),
        [("Plan", paper.name), (f"Sheet {number} of {pages}", "Dangers"), ("Read by", ""), ("Built by, date", "")],
        str(number),
        "from-top",
    )
