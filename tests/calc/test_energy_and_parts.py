"""Running cost, the circuit, and the two lists."""

import pytest

from calc.plan import Plan
from calc.solve import solve


def design(**plan):
    return solve(Plan({"light.by": "lamp", "feed.way": "salts", **{
        name.replace("__", "."): text for name, text in plan.items()}}))


def test_cost_follows_the_watts_and_the_tariff():
    one = design(energy__tariff="0.25")
    watts = one.value("air.power") + one.value("circulation.power")
    assert one.value("energy.power") == watts
    assert one.value("energy.per_year") == pytest.approx(watts * 8.76)
    assert one.value("energy.cost_per_year") == pytest.approx(watts * 8.76 * 0.25)


def test_fifteen_minutes_four_times_a_day_is_a_twenty_fourth():
    one = design()
    assert one.value("energy.flood_share") == pytest.approx(1 / 24)
    assert one.value("energy.flood_per_year") == pytest.approx(one.value("circulation.power") * 8.76 / 24)


def test_floods_longer_than_a_day_are_told():
    one = design(energy__floods_per_day="10", energy__flood_minutes="200 min")
    assert "144 min or less" in one.faults["energy.flood_minutes"]
    assert one.value("energy.cost_per_year") > 0


def test_lamps_are_counted_by_the_hours_they_burn():
    one = design(light__hours="10 h", light__have="3", light__lamp_power="100 W", energy__tariff="0.30")
    assert one.value("energy.lamps_per_year") == pytest.approx(3 * 0.1 * 10 * 365)
    assert one.value("energy.all_cost_per_year") == pytest.approx(
        one.value("energy.cost_per_year") + 3 * 0.1 * 10 * 365 * 0.30)
    assert one.value("energy.circuit_share") == pytest.approx((one.value("energy.power") + 300) / 1440)
    dark = design(light__by="none")
    assert dark.value("energy.lamps_per_year") == 0 and dark.value("energy.circuit_share") < 0.1


def test_a_loaded_circuit_is_a_danger():
    # NEC 210.20(A): 15 A at 120 V carries 1,440 W of continuous load.
    assert design().value("energy.circuit_limit") == pytest.approx(1440)
    assert "circuit" in {one.code for one in design(energy__other_power="2 kW").cautions}
    assert "circuit" not in {one.code for one in design().cautions}


def test_copies_multiply_both_lists():
    one, three = design(), design(parts__copies="3")
    for key in ("parts.shopping", "parts.cuts"):
        assert [row["quantity"] * 3 for row in one.value(key)] == [row["quantity"] for row in three.value(key)]


def test_the_list_names_what_the_topics_found():
    one = design()
    items = {row["item"]: row for row in one.value("parts.shopping")}
    flow, head = one.shown("circulation.flow"), one.shown("circulation.head")
    assert items[f"Water pump, {flow}"]["size"] == f"each gives {flow} at {head}, or a little more"
    assert not [line for line in items.values() if "Example" in str(line)]
    assert items["Net pot"]["quantity"] >= one.value("board.sites") * 1.1
    assert items["Foam sheet"]["quantity"] == one.value("board.sheets")
    holes = next(row for row in one.value("parts.cuts") if row["item"] == "Holes in the boards")
    assert holes["quantity"] == one.value("board.sites")


def test_a_price_is_taken_and_the_rest_is_counted_as_unpriced():
    before, after = design(), design(parts__prices__1__price="20")
    assert after.value("parts.unpriced") == before.value("parts.unpriced") - 1
    assert after.value("parts.cost") == pytest.approx(before.value("parts.cost") + 20 * before.value("board.sheets"))


def test_the_list_holds_what_growing_takes_and_says_what_it_leaves_out():
    one = design()
    lines = {row["item"]: row for row in one.value("parts.shopping")}
    assert lines["Grow lamp"]["quantity"] == one.value("light.lamps")
    assert lines["Seeds"]["quantity"] == one.value("schedule.seeds_total")
    assert one.shown("outage.battery") in lines["Backup air pump and battery"]["size"]
    assert one.shown("feed.total_mass") in lines["Fertilizer for the first fill"]["size"]
    assert any(item.startswith("For pH: ") for item in lines)
    assert "Grow lamp" not in {row["item"] for row in design(light__by="none").value("parts.shopping")}
    assert "reservoir" in next(one.text for one in one.cautions if one.code == "parts-not-listed")


def test_what_is_owned_is_counted_first_and_not_bought():
    plain = {row["item"]: row for row in solve(Plan({})).value("parts.shopping")}
    owned = solve(Plan({"parts.owned.1.name": "net pot", "parts.owned.1.count": "12", "parts.owned.2.name": "Hole saw",
                        "parts.prices.2.name": "Net pot", "parts.prices.2.price": "0.50"}))
    rows = {row["item"]: row for row in owned.value("parts.shopping")}
    # 18 sites and a tenth spare are 20 pots; 12 are there, so 8 are bought at 50 cents.
    assert plain["Net pot"]["quantity"] == 20 and rows["Net pot"]["quantity"] == 8
    assert rows["Net pot"]["total"] == pytest.approx(4.0) and "you own 12" in rows["Net pot"]["note"]
    assert rows["Hole saw"]["quantity"] == 0 and rows["Hole saw"]["owned"] == 1


def test_lamps_that_are_there_are_not_bought():
    needed = solve(Plan({"light.by": "lamp"})).value("light.lamps_needed")
    some = solve(Plan({"light.by": "lamp", "light.have": "1"}))
    lamps = {row["item"]: row["quantity"] for row in some.value("parts.shopping")}.get("Grow lamp", 0)
    assert lamps == needed - 1
    assert f"{needed - 1} more" in some.value("light.owned_words")
    all_there = solve(Plan({"light.by": "lamp", "light.have": str(needed)}))
    assert "enough" in all_there.value("light.owned_words")
    assert not [row for row in all_there.value("parts.shopping") if row["item"] == "Grow lamp"]


def _bought(**plan):
    found = solve(Plan.from_mapping({key.replace("__", "."): value for key, value in plan.items()}))
    return {row["item"]: row["quantity"] for row in found.value("parts.shopping")}


MINE = {"name": "Mine", "free_flow": "10 L/min", "shutoff": "20 kPa", "power": "4 W", "price": "10"}
WATER = {"name": "Own", "shutoff_head": "2 m", "top_flow": "1000 L/h", "power": "10 W", "price": "30"}


@pytest.mark.parametrize("copies, own, air, water, lamps", [
    # One pump of 8.37 L/min at depth is enough for the 2.8 L/min of one copy, and one water pump; a copy takes 2 lamps.
    # Three copies take 3, 3 and 6; who owns 1 of each buys 2, 2 and 5; who owns 3 of each buys none, none and 3.
    ("1", "1", 0, 0, 1), ("3", "", 3, 3, 6), ("3", "1", 2, 2, 5), ("3", "3", 0, 0, 3), ("2", "6", 0, 0, 0),
])
def test_what_is_owned_is_owned_once_for_all_copies(copies, own, air, water, lamps):
    found = _bought(air__pumps=[{**MINE, "owned": own}], circulation__pumps=[{**WATER, "owned": own}],
                    light__by="lamp", light__have=own, parts__copies=copies)
    assert found.get("Air pump: Mine", 0) == air
    assert found.get("Water pump: Own", 0) == water
    assert found.get("Grow lamp", 0) == lamps


def test_each_copy_buys_its_own_where_those_owned_do_not_suffice():
    # A pump of 3 L/min gives some 2.5 at depth, a copy aims at some 2.8: two a copy. Three copies take 6; 1 is there.
    weak = {**MINE, "free_flow": "3 L/min"}
    assert _bought(air__pumps=[{**weak, "owned": "1"}], oxygen__plants="17")["Air pump: Mine"] == 1
    assert _bought(air__pumps=[{**weak, "owned": "1"}], oxygen__plants="17", parts__copies="3")["Air pump: Mine"] == 5


def test_a_plan_that_draws_nothing_says_so_and_no_share_of_a_circuit():
    still = solve(Plan({"water.scheme": "still"})).verdict("energy")
    assert still.state == "fits" and still.lead == "No power drawn." and "circuit" not in still.text
    lit = solve(Plan({"water.scheme": "still", "light.by": "lamp"})).verdict("energy")
    assert lit.lead == "One circuit carries it." and "kWh a year" in lit.text


def test_an_air_pump_is_asked_for_by_its_box_and_by_what_arrives_at_depth():
    one = design()
    row = next(row for row in one.value("parts.shopping") if row["item"].startswith("Air pump"))
    running = one.value("air.pumps_running")[0]
    free = next(pump["free_flow"] for pump in one.value("air.pump_flows") if pump["name"] == running["name"])
    assert free > running["delivered"]
    assert row["item"] == f"Air pump, {one.shown_as('air.delivered', free)} on its box"
    assert row["size"].startswith(f"each gives {one.shown('air.delivered')} against ")
    assert "at the stones" in row["size"]
    assert "a box prints free flow" in row["note"]
