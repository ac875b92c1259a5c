"""A plan as one picture to show around: its drawing, four figures and where it stands, complete in a file of its own.

The style is inside, in light colors, so that it looks the same in a mail, on a wall and in another program.
"""

from __future__ import annotations

import re
from html import escape

from .. import overview
from ..solve import Design
from ..steps import STEPS
from . import section, signs, svg, verdicts

WIDTH, EDGE = 900.0, 44.0
_FONT = "Segoe UI, Roboto, Helvetica Neue, Liberation Sans, Noto Sans, sans-serif"
_SERIF = "Charter, Sitka Text, Palatino, P052, Georgia, Noto Serif, serif"
_COLORS = {"fits": "#2c6234", "tight": "#7a4600", "fails": "#96190f", "open": "#5b2a86", "danger": "#96190f"}
# The hand of the drawings, as the pages have it in the light.
_STYLE = (
    f"text{{font-family:{_FONT};fill:#1b2733}}.title{{font-family:{_SERIF};font-weight:700}}"
    ".ink,.thin{fill:none;stroke:#1b2733;stroke-width:1.4px}.wall{fill:none;stroke:#1b2733;stroke-width:2.6px;"
    "stroke-linejoin:round;stroke-linecap:round}.water{fill:#b4d6e6}.wood{fill:#ead9b8}.edge{stroke:#1b2733;"
    "stroke-width:1.2px}.cut{fill:#fdfaf2;stroke:#1b2733;stroke-width:1.4px}.root{fill:none;stroke:#fffefa;"
    "stroke-width:1.2px}.plant{fill:#b9cf9a;stroke:#1b2733;stroke-width:.9px}.solid{fill:#1b2733}.lead{fill:none;"
    "stroke:#4b5763;stroke-width:1px}.pipe{fill:none;stroke:#1b2733;stroke-width:4px;stroke-linejoin:round}.tube{"
    "stroke:#1b2733}.bore{stroke:#fdfaf2}.air{fill:none;stroke:#1f6787;stroke-width:1.6px}.dim{fill:none;"
    "stroke:#5b2a86;stroke-width:1.3px}.stopped{fill:none;stroke:#5b2a86;stroke-width:1.4px;stroke-dasharray:5 3}"
    ".hole{fill:#f5efdf;stroke:#1b2733;stroke-width:1.3px}.seam{fill:none;stroke:#1b2733;stroke-width:1.3px;"
    "stroke-dasharray:7 4}.centre{fill:none;stroke:#5b2a86;stroke-width:1px}text.dim{fill:#5b2a86;stroke:none;"
    "font-weight:700}text.no{fill:#96190f;font-weight:700}text.tight{fill:#7a4600;font-weight:700}text.strong{font-weight:700}text.faded{fill:#4b5763}text.halo{paint-order:stroke;stroke:#fdfaf2;"
    "stroke-width:4px}.lit{display:none}.sign{fill:none;stroke-width:2.4;stroke-linecap:round;stroke-linejoin:round}")


def draw(design: Design, name: str) -> str:
    """The picture of a plan under its reader's own name, as the text of an SVG file."""
    parts = ['<rect width="100%" height="100%" fill="#fdfaf2"/>']
    y = 66.0
    room = (WIDTH - 2 * EDGE) * 0.94
    first, *rest = svg.wrap(name, room, 34.0) or [""]
    for line in (first, *([svg.shorten(" ".join(rest), room, 34.0)] if rest else [])):
        parts.append(f'<text class="title" x="{EDGE:g}" y="{y:g}" font-size="34">{escape(line)}</text>')
        y += 40.0
    parts.append(_standings(design, y - 10.0))
    y += 18.0
    drawing, tall = _drawing(design, y)
    parts.append(drawing)
    y += tall + 26.0
    parts.append(svg.dim_across(EDGE, WIDTH - EDGE, y))
    parts.append(_figures(design, y + 30.0))
    y += 92.0
    for line in _dangers(design)[:3]:
        parts.append(f'<text x="{EDGE:g}" y="{y:g}" font-size="16" font-weight="700" style="fill:{_COLORS["danger"]}">'
                     f"{escape(line)}</text>")
        y += 24.0
    parts.append(f'<text class="faded" x="{EDGE:g}" y="{y + 14:g}" font-size="14">Planned with Raftwright. A picture '
                 "is no building plan: print the sheets for that.</text>")
    height = y + 40.0
    return (f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH:g}" height="{height:g}" viewBox="0 0 {WIDTH:g} '
            f'{height:g}" font-size="14" role="img" aria-label="{escape(f"Raft bath: {name}")}"><style>{_STYLE}</style>'
            f'{"".join(parts)}</svg>')


def _drawing(design: Design, y: float) -> tuple[str, float]:
    """The section with its sizes, as a drawing in this one; a sentence where the bath has no size yet."""
    drawn = section.tank(design, True)
    if not drawn:
        return f'<text x="{EDGE:g}" y="{y + 30:g}" font-size="18">The bath has no size yet.</text>', 40.0
    box = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', drawn)
    assert box is not None
    wide, tall = float(box[1]), float(box[2])
    scale = (WIDTH - 2 * EDGE) / wide
    place = f'<svg x="{EDGE:g}" y="{y:g}" width="{wide * scale:.1f}" height="{tall * scale:.1f}" '
    return drawn.replace("<svg ", place, 1), tall * scale


def _standings(design: Design, y: float) -> str:
    parts, x = [], EDGE
    for one in overview.standings(design):
        color = _COLORS[one.state]
        parts.append(f'<svg class="sign" x="{x:g}" y="{y - 17:g}" width="21" height="21" viewBox="0 0 32 32" '
                     f'stroke="{color}">{signs.shape(one.state)}</svg>'
                     f'<text x="{x + 28:g}" y="{y:g}" font-size="18" font-weight="700" style="fill:{color}">'
                     f"{escape(one.words)}</text>")
        x += 58.0 + svg.text_width(one.words, 18.0)
    return "".join(parts)


def _figures(design: Design, y: float) -> str:
    found = overview.figures(design)
    step = (WIDTH - 2 * EDGE) / len(found)
    return "".join(
        f'<text class="faded" x="{EDGE + at * step:g}" y="{y:g}" font-size="15">{escape(label)}</text>'
        f'<text x="{EDGE + at * step:g}" y="{y + 28:g}" font-size="24" font-weight="700">'
        f"{escape(svg.shorten(shown, step - 10.0, 24.0))}</text>" for at, (label, shown) in enumerate(found))


def _dangers(design: Design) -> list[str]:
    """The dangers that this plan brings about, in a line each: a picture that is passed on must not hide them."""
    found = verdicts.triggered(design, [name for step in STEPS for name in step.topics])
    lines = [svg.shorten(f"Danger: {one.lead}. {one.brief}", WIDTH - 2 * EDGE, 15.0) for one in found]
    if len(lines) > 3:
        return [*lines[:2], f"And {len(lines) - 2} more dangers."]
    return lines
