"""A link as a square code for a printed sheet; its encoder is an extra that the page installs only when asked."""

from __future__ import annotations

from . import svg

QUIET = 4


def picture(link: str) -> tuple[str, str]:
    """(SVG, "") of a code that a phone's camera reads, or ("", sentence) where the link is too long for one.

    Follows ISO/IEC 18004 through the segno package, which must be installed: raises ImportError where it is not.
    """
    import segno
    try:
        code = segno.make(link, error="m", micro=False, boost_error=False)
    except segno.DataOverflowError:
        return "", (f"This plan's link has {len(link):,} characters, more than a square code holds. Save it as a file "
                    "instead.")
    rows = [list(row) for row in code.matrix]
    side = len(rows) + 2 * QUIET
    dark = "".join(f"M{x + QUIET} {y + QUIET}h1v1h-1z" for y, row in enumerate(rows) for x, cell in enumerate(row)
                   if cell)
    parts = [svg.rect("code-ground", 0, 0, side, side), f'<path class="code-dark" d="{dark}"/>']
    return svg.drawing("square-code", side, side, "Square code of the link to this plan",
                       "A phone's camera opens the plan from it.", parts), ""
