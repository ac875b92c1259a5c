"""Crops that are cut again, the room of each stage, salts that gather, and a battery's cut-out; worked by hand."""

import pytest

from calc import Plan, solve

INCH = 0.0254


def design(units="metric", **answers):
    return solve(Plan.from_mapping({"units": units, **answers}))


def said(found, code):
    return next((one for one in found.cautions if one.code == code), None)


# --- cut again ------------------------------------------------------------------------------------------------------

BASIL = {"crops.rows": [{"crop": "basil"}]}


def test_a_second_and_third_cut_keep_the_site_and_add_to_the_harvest():
    once = design(**BASIL)
    thrice = design(**BASIL, **{"schedule.cuts": "3", "schedule.cut_days": "10", "schedule.cut_share": "50 %"})
    days = once.value("schedule.per_crop")[0]["raft_days"]
    assert thrice.value("schedule.per_crop")[0]["raft_days"] == days + 20
    # One whole cut and two halves.
    assert thrice.value("schedule.harvest_factor") == pytest.approx(2.0)
    mass, heads = thrice.value("crops.fresh_mass"), thrice.value("schedule.heads_per_week")
    assert thrice.value("parts.mass_per_week") == pytest.approx(2 * mass * heads)
    # Fewer new plants a week fit, since each stays longer.
    assert heads < once.value("schedule.heads_per_week")
    assert f"the first {days} days after planting and then every 10 days" in said(thrice, "schedule-again").text
    # Roots do not shrink at a cut: the raft breathes at least as much.
    assert thrice.value("schedule.grown_plants") >= once.value("schedule.grown_plants")


def test_water_of_a_longer_stay_counts_all_cuts():
    thrice = design(**BASIL, **{"schedule.cuts": "3", "schedule.cut_days": "10", "schedule.cut_share": "50 %"})
    once = design(**BASIL)
    days = once.value("schedule.per_crop")[0]["raft_days"]
    each = [found.value("use.by_mass") / found.value("oxygen.plant_count") for found in (once, thrice)]
    assert each[1] == pytest.approx(each[0] * 2 * days / (days + 20))


def test_lettuce_is_cut_once_whatever_is_said():
    once, more = design(), design(**{"schedule.cuts": "4"})
    assert more.value("schedule.harvest_factor") is None
    assert more.value("schedule.heads_per_week") == once.value("schedule.heads_per_week")
    assert "to its first cut" in said(design(**BASIL), "schedule-again").text


# --- room of each stage ---------------------------------------------------------------------------------------------


def test_room_is_plants_times_the_square_of_their_spacing():
    found = design(**{"schedule.cell_spacing": "50 mm", "board.spacing": "200 mm"})
    assert found.value("schedule.nursery_area") == pytest.approx(found.value("schedule.nursery_cells") * 0.0025)
    # One spacing: all batches that stand at one time.
    assert found.value("schedule.wide_area") == pytest.approx(found.value("schedule.sites_needed") * 0.04)
    assert found.value("schedule.close_area") is None


def test_two_stages_show_the_close_board_apart():
    found = design(**{"schedule.stages": "two", "schedule.close_spacing": "100 mm", "schedule.close_days": "10",
                      "board.spacing": "200 mm", "bath.length": "240 cm"})
    assert found.value("schedule.close_area") == pytest.approx(found.value("schedule.close_places") * 0.01)
    one = design(**{"board.spacing": "200 mm", "bath.length": "240 cm"})
    assert found.value("schedule.wide_area") < one.value("schedule.wide_area") * 1.3


# --- calcium, magnesium and sulfur gather ---------------------------------------------------------------------------

HARD = {"feed.way": "salts", "feed.water_ca": "160 mg/L", "feed.water_mg": "40 mg/L", "acidity.alkalinity": "300 mg/L",
        "use.topup_strength": "90 %"}


def test_hard_water_gathers_what_plants_leave():
    found = design(**HARD)
    rows = {row["element"]: row["reached"] for row in found.value("feed.reached")}
    litres, drunk = found.value("water.working_volume") * 1000, found.value("use.per_day") * 1000
    # Plants take 3.13 mmol of calcium, 125.4 mg, with a liter; the tap alone brings 160.
    gained = 160 + 0.9 * max(rows["Ca"] - 160, 0.0) - 3.13 * 40.078
    assert found.value("use.calcium_after") == pytest.approx(litres * rows["Ca"] / (drunk * gained) * 86400)
    magnesium = 40 + 0.9 * max(rows["Mg"] - 40, 0.0) - 0.86 * 24.305
    assert found.value("use.magnesium_after") == pytest.approx(litres * rows["Mg"] / (drunk * magnesium) * 86400)


def test_the_first_to_gather_is_told_where_it_comes_before_the_full_change():
    found = design(**HARD, **{"use.gather_to": "110 %", "use.volumes": "100", "use.sodium_limit": "5000 mg/L",
                              "use.chloride_limit": "5000 mg/L"})
    first = min((found.value(f"use.{name}_after"), name) for name in ("calcium", "magnesium", "sulfur")
                if found.value(f"use.{name}_after") is not None)
    assert said(found, "use-gathers").lead == f"{first[1].capitalize()} gathers"


def test_soft_water_and_a_weak_top_up_gather_no_calcium():
    assert design(**{"use.topup_strength": "0 %"}).value("use.calcium_after") is None


# --- the battery's cut-out ------------------------------------------------------------------------------------------

OWN = {"outage.backup": "dc", "outage.own_charge": "20 Ah", "outage.depth_of_discharge": "100 %",
       "outage.margin": "100 %"}


@pytest.mark.parametrize("volts, share", [("12.0 V", 0.75), ("12.3 V", 0.375), ("11 V", 1.0)])
def test_a_cut_out_voltage_leaves_charge_unused(volts, share):
    found = design(**OWN, **{"outage.cutout_voltage": volts})
    assert found.value("outage.own_share") == pytest.approx(share)


def test_the_stricter_of_charge_and_voltage_rules():
    found = design(**OWN, **{"outage.cutout_voltage": "12.0 V", "outage.cutout": "60 %"})
    assert found.value("outage.own_share") == pytest.approx(0.4)
    # Of a battery of 24 V both figures double.
    twice = design(**OWN, **{"outage.cutout_voltage": "24.4 V", "outage.voltage": "24 V"})
    assert twice.value("outage.own_share") == pytest.approx(0.5)


def test_a_cut_out_at_full_charge_is_told():
    found = design(**OWN, **{"outage.cutout_voltage": "12.6 V"})
    assert "a full one rests at about 12.6 V" in found.faults["outage.cutout_voltage"]
