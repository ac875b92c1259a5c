"""The shopping list on paper: by shop, in packs, for one bath and for many."""

import pytest

from calc import history, solve
from calc.plan import Plan
from calc.render.paper import files, leaf, shop
from tests.calc import whole


def design_of(name):
    return whole.plan(name) if name else solve(Plan({}))


NAMES = ["", "bucket", "us_tote", "four_baths", "farm_raft_30m", "club_of_twelve", "two_crops", "round_tub"]


@pytest.fixture(scope="module")
def designs():
    return {name: design_of(name) for name in NAMES}


def test_prices_on_the_list_come_to_the_cost_of_the_plan(designs):
    for name, design in designs.items():
        priced = sum(line.price or 0.0 for line in shop.lines(design))
        assert priced == pytest.approx(design.value("parts.cost")), name


def test_each_salt_has_its_grams_and_a_pack_that_covers_them(designs):
    for name, design in designs.items():
        copies = design.value("parts.copies")
        found = {line.thing: line for line in shop.lines(design)}
        for row in design.value("feed.masses"):
            line = found[row["salt"]]
            assert line.need == pytest.approx((row.get("volume") or row["mass"]) * copies), name
            many, size = shop.pack_of(line, design.system)
            assert many * size >= line.need * (1 - 1e-9) > (many - 1) * size


def test_packs_cover_what_is_missing_and_no_more_than_needed():
    line = shop.Line(shop.GARDEN, "Salt", "", 0.126, "mass", "salt")
    # 126 g: of 25 g, 100 g, 500 g ... the 500 g pack is the first that covers it.
    assert shop.to_buy(line, "metric") == "500 g"
    assert shop.pack_of(shop.Line(shop.SEEDS, "Pot", "", 634, ware="pots"), "us") == (7, 100)
    owned = shop.Line(shop.SEEDS, "Pot", "", 20, ware="pots", owned=20)
    assert shop.to_buy(owned, "us") == "have"
    assert shop.to_buy(shop.Line(shop.SEEDS, "Pot", "", 20, ware="pots", owned=11), "us") == "pack of 10"


def test_for_many_baths_needs_are_summed_before_they_are_rounded():
    one = [shop.Line(shop.PLUMBING, "Hose", "", 2.0, "length", "hose", price=3.0)]
    summed = shop.merged([one, one, one])
    # Three times 2 m are one coil of 10 m, not three of 5 m.
    assert [(line.need, line.price) for line in summed] == [(6.0, 9.0)]
    assert shop.to_buy(summed[0], "metric") == "10 m"


def test_a_bath_of_a_club_costs_its_share(designs):
    design = designs["club_of_twelve"]
    html = files.SHEETS["list"](leaf.Paper(design, "Club"))
    baths = design.value("parts.copies") * design.value("bath.count")
    assert baths == 12 and f"A bath, of {baths}" in html
    assert f"<td data-each>{design.money(design.value('parts.cost') / baths)}</td>" in html


def test_the_list_takes_one_or_two_sheets_and_says_nothing_of_elsewhere(designs):
    for name, design in designs.items():
        html = files.SHEETS["list"](leaf.Paper(design, "Plan"))
        assert 1 <= html.count('<section class="leaf') <= 2, name
        assert "elsewhere" not in html and "see the caution" not in html and "under Nutrients" not in html


def test_what_is_owned_is_ticked_off():
    plan, _ = history.plan_of({"plan": {"parts.owned": [{"name": "Net pot", "count": ""}]}, "version": 2})
    html = files.SHEETS["list"](leaf.Paper(solve(plan), "Plan"))
    row = html[html.index('<tr class="have">'):]
    row = row[:row.index("</tr>")]
    assert "Net pot" in row and " checked" in row and "<b>have</b>" in row


def test_a_name_of_no_file_is_told():
    with pytest.raises(ValueError, match="“nix.html” is not a file that can be written; the names are"):
        files.write(leaf.Paper(solve(Plan({})), "Plan"), "nix.html")


def test_what_is_typed_stays_text():
    plan, _ = history.plan_of({"plan": {"parts.own_lines": [{"name": "<b>x</b> & co", "count": "2"}]}, "version": 2})
    html = files.write(leaf.Paper(solve(plan), "<i>mine</i>"), "list.html")
    assert "<b>x" not in html and "<i>mine" not in html and "&lt;i&gt;mine" in html


def test_a_sum_with_lines_unpriced_is_no_total(designs):
    html = files.SHEETS["list"](leaf.Paper(designs[""], "Plan"))
    assert [line for line in shop.lines(designs[""]) if line.price is None] and ">Total so far<" in html
