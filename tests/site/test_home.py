"""Home, the page of guides and plans side by side: pictures as indexes, starting points, the reader's own plans."""

from __future__ import annotations

import json
import re
from html import unescape

import pytest

from calc import Plan, solve
from calc.render import link
from tests.calc import whole
from tests.site.access import AXE_COLOURS, AXE_RULES, WITHOUT_PYTHON, checker
from tests.site.test_keeping import answer, value, wait_kept
from tests.site.test_shelf import PUT, SETTLED, go, record
from tests.site.waiting import until

pytestmark = pytest.mark.browser


def page_of(dist, path: str) -> str:
    return (dist / path).read_text(encoding="utf-8")


def starts(dist) -> list[str]:
    """The starting points that Home offers, as links."""
    return [unescape(one) for one in re.findall(r'href="plan/index.html(#start=[^"]+)"', page_of(dist, "index.html"))]


def test_home_numbers_in_the_picture_are_those_of_the_list(dist):
    from tools import front
    home = page_of(dist, "index.html")
    for picture in re.findall(r"<svg.*?</svg>", home, flags=re.DOTALL)[:8]:
        numbers = re.findall(r'class="balloon".*?>(\d+)</text>', picture)
        assert numbers in ([], [str(one) for one in range(1, len(front.FACTS) + 1)])
    facts = re.findall(r"<li><b>(.*?)</b>", home)
    design = solve(Plan({}))
    assert facts[0] == f"{design.shown('board.sites')} plants" and facts[3].startswith(design.shown("circulation.flow"))
    # 49.9 gal of 3.785 L are 189 L, 435.4 lb of 0.4536 kg are 197.5 kg: with a metric tape one reads the same page.
    assert facts[1] == "49.9 gal (189 L), 435 lb (198 kg)"
    assert "–" not in "".join(facts) and "{" not in "".join(facts)


def test_every_starting_point_is_a_bath_that_could_be_built(dist):
    found = starts(dist)
    assert len(found) == 4
    shapes = set()
    for one in found:
        plan, notes = link.read(one)
        design = solve(Plan(plan))
        assert notes == [] and dict(design.faults) == {}
        assert "fails" not in {given.state for given in design.verdicts.values()}, one
        shapes.add((design.value("bath.shape"), design.value("water.scheme")))
    assert len(shapes) == 4
    lined = [one for one in found if "bath.liner=frame" in one]
    assert len(lined) == 1 and "A frame you build, with a liner" in page_of(dist, "index.html")
    assert "Liner" in [row["item"] for row in solve(Plan(link.read(lined[0])[0])).value("parts.shopping")]


def test_a_starting_point_opens_before_python_is_there(open_page, address, dist):
    watched = open_page(f"{address}/index.html", ready=False, script=WITHOUT_PYTHON)
    for one in starts(dist):
        plan, _ = link.read(one)
        watched.page.goto("about:blank")
        watched.page.evaluate("0")
        watched.page.goto(f"{address}/plan/index.html{one}")
        until(watched.page, "location.hash === '' || document.querySelector('dialog[open]') !== null")
        if watched.page.locator("dialog[open]").count():
            watched.page.click('dialog [data-choice="replace"]')
        for key, text in plan.items():
            until(watched.page, "([name, text]) => document.querySelector(`[name=\"${name}\"]`)?.value === text",
                  [key, text])
    assert watched.complaints == []


def test_a_whole_link_opens_without_python_as_calc_reads_it(open_page, address):
    page = open_page(f"{address}/offline/index.html", ready=False, script=WITHOUT_PYTHON).page
    for name in ("us_tote", "bucket", "club_of_twelve"):
        text = link.write(Plan.from_mapping(whole.typed(name)))
        page.evaluate("localStorage.clear(); sessionStorage.clear()")
        page.goto("about:blank")
        page.goto(f"{address}/plan/index.html{text}")
        until(page, "localStorage.getItem('raftwright.plan') !== null")
        kept = json.loads(page.evaluate("localStorage.getItem('raftwright.plan')"))["plan"]
        read, notes = link.read(text)
        assert notes == [] and {key: kept.get(key) for key in read} == read
        page.goto(f"{address}/offline/index.html")


@pytest.mark.parametrize("bad", ["#plan=2&bath.length=55+in&end=000000", "#start=1&bath.length=55+in",
                                 "#start=2&bath.length=55+in&no.such=1"])
def test_what_only_calc_can_tell_is_left_to_it(open_page, address, bad):
    page = open_page(f"{address}/plan/index.html{bad}", ready=False, script=WITHOUT_PYTHON).page
    page.wait_for_timeout(500)
    assert value(page, "bath.length") == "48 in"


def test_home_shows_a_returning_readers_plans(open_page, address):
    watched = open_page(f"{address}/index.html", ready=False)
    page = watched.page
    assert page.is_hidden("[data-your-plans]")
    page.goto(f"{address}/plan/index.html#step=air")
    page.wait_for_selector('html[data-engine="ready"]')
    answer(page, "bath.length", "61 in")
    wait_kept(page, "61 in")
    go(watched)
    page.goto(f"{address}/index.html")
    until(page, "document.querySelectorAll('[data-your-plans] li').length === 1")
    assert page.text_content("[data-your-plans] header p") == "1 on this machine"
    assert "step 3 Air and flow" in page.text_content("[data-your-plans] li small")
    assert page.locator("[data-your-plans] .word").count() > 0
    page.click("[data-your-plans] li a")
    page.wait_for_selector('html[data-engine="ready"]')
    assert page.get_attribute("section[data-here]", "data-step") == "air"
    assert value(page, "bath.length") == "61 in"


def test_the_page_of_guides_follows_what_the_guides_say_of_themselves(dist):
    from tools import guides
    found = guides.read_all(guides.FOLDER, [name for name in __import__("calc.topics", fromlist=["BY_NAME"]).BY_NAME])
    page = page_of(dist, "guides/index.html")
    listed = re.findall(r'<li id="guide-(\d+)".*?<h3><a href="([^"]+)/index.html">(.*?)</a></h3><p>(.*?)</p>', page,
                        flags=re.DOTALL)
    assert [(int(number), name, unescape(title), unescape(promise)) for number, name, title, promise in listed] == [
        (one.order, one.name, one.title, one.promise) for one in found]
    for narrow in (0, 1):
        picture = re.findall(r'<svg[^>]*aria-labelledby="guides-.*?</svg>', page, flags=re.DOTALL)[narrow]
        circles = {int(one) for one in re.findall(r'href="#guide-(\d+)"', picture)}
        assert circles == {one.order for one in found if one.at != "whole"}


@pytest.mark.parametrize("wide", [True, False])
def test_no_two_circles_of_the_picture_touch_and_none_is_cut(dist, wide):
    page = page_of(dist, "guides/index.html")
    picture = re.findall(r'<svg[^>]*aria-labelledby="guides-.*?</svg>', page, flags=re.DOTALL)[0 if wide else 1]
    width, height = (float(one) for one in re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', picture).groups())
    spots = [tuple(map(float, one)) for one in re.findall(r'class="balloon" cx="([\d.]+)" cy="([\d.]+)"', picture)]
    assert len(spots) > 10
    for at, (x, y) in enumerate(spots):
        assert 12 <= x <= width - 12 and 12 <= y <= height - 12
        for a, b in spots[:at]:
            assert (x - a) ** 2 + (y - b) ** 2 >= 24.5 ** 2, (x, y, a, b)


def test_guides_show_the_readers_own_numbers(open_page, address):
    page = open_page(f"{address}/offline/index.html", ready=False).page
    page.evaluate(PUT, [record(1, plan={"bath.length": "96 in"})])
    page.goto(f"{address}/guides/index.html")
    until(page, SETTLED.replace("data-shelf", "data-guide-numbers"), seconds=60)
    design = solve(Plan({"bath.length": "96 in"}))
    shown = dict(page.evaluate("[...document.querySelectorAll('[data-living]')].map((one) => [one.dataset.living, "
                               "one.textContent])"))
    assert len(shown) > 10
    assert shown["water.working_volume"] == design.shown("water.working_volume")
    assert page.text_content("[data-whose] a") == "Plan 1"


def test_chosen_plans_stand_side_by_side(open_page, address):
    watched = open_page(f"{address}/offline/index.html", ready=False)
    page = watched.page
    page.evaluate(PUT, [record(1, plan={"bath.length": "48 in"}), record(2, plan={"bath.length": "96 in"}),
                        record(3, name="<b>Bold</b>", plan={"energy.tariff": "0.34"}, copyOf="plan0001")])
    go(watched)
    for number in (2, 1, 3):
        page.locator(f'[data-id="plan000{number}"] .choose input').check(force=True)
    page.click(".shelf-acts [data-side-by-side]")
    until(page, "document.querySelector('[data-sides][data-settled]') !== null", seconds=60)
    assert page.locator(".named").all_text_contents() == ["AA: Plan 2", "BB: Plan 1", "CC: <b>Bold</b>copy of B"]
    assert page.is_hidden("[data-invented]")
    assert "bath length 48 in instead of 96 in" in page.locator(".in-a-sentence").first.text_content()
    row = page.locator('[data-outcome="energy.all_cost_per_year"]')
    assert row.locator(".change.worse").count() == 1
    page.click("[data-open-first]")
    until(page, "document.querySelector('[name=\"bath.length\"]')?.value === '96 in'", seconds=60)


def test_side_by_side_of_plans_that_are_gone_says_so(open_page, address):
    page = open_page(f"{address}/side-by-side/index.html#plans=nosuchplan,another", ready=False).page
    until(page, "document.getElementById('action-status').textContent.includes('Fewer than two')")
    assert page.locator("[data-comparison] tr").count() > 8


def test_side_by_side_fits_on_one_page_of_paper(open_page, address):
    import pypdfium2
    watched = open_page(f"{address}/offline/index.html", ready=False)
    page = watched.page
    plans = [{**record(number), "plan": Plan.from_mapping(whole.typed(name)).text}
             for number, name in enumerate(("us_tote", "four_baths", "two_crops", "bucket"), 1)]
    page.evaluate(PUT, plans)
    page.goto(f"{address}/side-by-side/index.html#plans=plan0001,plan0002,plan0003,plan0004")
    until(page, "document.querySelector('[data-sides][data-settled]') !== null", seconds=60)
    for paper in ("A4", "Letter"):
        assert len(pypdfium2.PdfDocument(page.pdf(format=paper, print_background=True))) == 1
    page.set_viewport_size({"width": 360, "height": 740})
    assert page.evaluate("document.documentElement.scrollWidth") == 360


def test_these_pages_break_no_rule_of_access_with_plans_in_them(open_page, address):
    page = open_page(f"{address}/offline/index.html", ready=False).page
    page.evaluate(PUT, [record(1), record(2, copyOf="plan0001")])
    for path, settled in (("shelf/index.html", SETTLED), ("index.html", "true"),
                          ("side-by-side/index.html#plans=plan0001,plan0002",
                           "document.querySelector('[data-sides][data-settled]') !== null")):
        page.goto(f"{address}/{path}")
        until(page, settled, seconds=120)
        page.evaluate(checker())
        for scheme, what in (("light", AXE_RULES), ("dark", AXE_COLOURS)):
            page.emulate_media(color_scheme=scheme)
            assert [(path, one["id"], one["nodes"][0]["html"][:200])
                    for one in page.evaluate(what)["violations"]] == []
