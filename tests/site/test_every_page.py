"""Every built page as one walk sees it: no rule of access broken, no page sideways or endless, no drawing too small."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

import pytest

from tests.site.access import AXE_COLOURS, AXE_RULES, WITHOUT_PYTHON, checker
from tests.site.hands import fill, reach
from tests.site.test_guides import NAMES
from tests.site.waiting import until

pytestmark = pytest.mark.browser

# A page is loaded once for all that is asked of it; the walk is parted so that workers can share it.
PARTS = 4
# Lettering of a drawing at the width of a phone, and the longest page of the reference, in pixels.
LEAST_LETTERING, LONGEST_PX = 13.0, 25_000
LAPTOP, PHONE = {"width": 1280, "height": 800}, {"width": 360, "height": 740}
# In the dark only colours are others, and these pages have every kind of thing that is coloured.
IN_THE_DARK = ("index.html", "plan/index.html", "guides/air/index.html", "checked/index.html", "safety/index.html")
# Pixels of each lettering of the drawings of a guide.
LETTERING = """() => [...document.querySelectorAll('figure.picture svg')].flatMap(svg =>
    [...svg.querySelectorAll('text')].map(text => parseFloat(getComputedStyle(text).fontSize)
        * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width))"""


@dataclass
class Seen:
    """What the walk found, by page."""

    pages: int = 0
    broken: list[tuple] = field(default_factory=list)
    wide: dict[str, int] = field(default_factory=dict)
    tall: dict[str, int] = field(default_factory=dict)
    calculators: dict[str, int] = field(default_factory=dict)
    lettering: dict[str, list[float]] = field(default_factory=dict)


def pages(dist: Path) -> list[str]:
    return sorted(file.relative_to(dist).as_posix() for file in dist.rglob("*.html"))


def broken(page, where: str) -> list[tuple]:
    """The rules of access that a page breaks as it stands, in the light and where it matters in the dark."""
    page.evaluate(checker())
    found = []
    schemes = (("light", AXE_RULES), ("dark", AXE_COLOURS)) if where in IN_THE_DARK else (("light", AXE_RULES),)
    for scheme, what in schemes:
        page.emulate_media(color_scheme=scheme)
        found += [(where, scheme, rule["id"], rule["nodes"][0]["html"][:160])
                  for rule in page.evaluate(what)["violations"]]
    page.emulate_media(color_scheme="light")
    return found


@pytest.fixture(scope="module", params=range(PARTS))
def seen(request, browser, address, dist) -> Seen:
    """One part of the pages, each loaded once, without Python: looked at on a laptop, then on a phone."""
    # The checker is put in by the test; readers' pages keep their policy, which other tests hold.
    context = browser.new_context(color_scheme="light", bypass_csp=True, service_workers="block", viewport=LAPTOP)
    page = context.new_page()
    page.add_init_script(WITHOUT_PYTHON)
    found = Seen()
    for where in pages(dist)[request.param::PARTS]:
        page.set_viewport_size(LAPTOP)
        page.goto(f"{address}/{where}")
        found.pages += 1
        found.tall[where] = page.evaluate("document.documentElement.scrollHeight")
        found.calculators[where] = page.evaluate("document.querySelector('.calculator')?.offsetHeight || 0")
        # The planner is looked at with Python in it, below.
        if where != "plan/index.html":
            found.broken += broken(page, where)
        page.set_viewport_size(PHONE)
        found.wide[where] = page.evaluate("document.documentElement.scrollWidth")
        if where.removeprefix("guides/").removesuffix("/index.html") in NAMES:
            found.lettering[where] = page.evaluate(LETTERING)
    context.close()
    return found


def test_the_walk_comes_to_every_page(seen, dist):
    assert seen.pages == len(seen.wide) > len(pages(dist)) / PARTS - 1 > 10


def test_no_page_breaks_a_rule_of_access(seen):
    assert seen.broken == []


def test_no_page_is_wider_than_a_phone(seen):
    assert {where: wide for where, wide in seen.wide.items() if wide > PHONE["width"]} == {}


def test_no_page_of_the_reference_is_endless(seen):
    # One page of it was 100,000 px tall. The keys for scripts are a list to search, not to read.
    assert {where: tall for where, tall in seen.tall.items() if where.startswith("reference/")
            and where != "reference/scripts/index.html" and tall > LONGEST_PX} == {}


def test_the_calculator_of_a_guide_fits_a_laptop(seen, dist):
    tall = {where: height for where, height in seen.calculators.items() if where.startswith("guides/")
            and 'id="calculator"' in (dist / where).read_text(encoding="utf-8")}
    assert {where: height for where, height in tall.items() if not 0 < height <= LAPTOP["height"]} == {}


def test_lettering_of_drawings_can_be_read_on_a_phone(seen):
    small = {where: min(sizes, default=0) for where, sizes in seen.lettering.items()}
    assert {where: size for where, size in small.items() if size < LEAST_LETTERING} == {}


def test_the_planner_at_work_breaks_no_rule_of_access(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    fill(page, "bath.length", "5 gal")
    page.locator('[name="bath.length"]').blur()
    # A working that does not hang on the faulty length.
    reach(page, 'details[data-keep="w-place.air_pressure"] summary')
    until(page, "document.querySelector('[data-working] math') !== null")
    assert broken(page, "plan/index.html") == []
