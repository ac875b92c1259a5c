"""Water blended, salts already added, and a chelate by its own label; each worked by hand."""

import pytest

from calc import Plan, solve
from calc.data.salts import ATOMIC_MASS as A
from calc.render.by_hand import by_hand

HARD = {"acidity.alkalinity": "180 mg/L", "acidity.start_ph": "7.6", "feed.water_na": "40 mg/L",
        "feed.water_ca": "70 mg/L", "acidity.water_volume": "90 L", "acidity.pure_left": "0 %"}


def design(**answers):
    return solve(Plan.from_mapping({"units": "metric", **answers}))


def said(found, code):
    return next((one for one in found.cautions if one.code == code), None)


# --- a blend --------------------------------------------------------------------------------------------------------


def test_two_parts_of_pure_water_thin_the_tap_to_a_third():
    found = design(**HARD, **{"acidity.blend_alkalinity": "60 mg/L"})
    assert found.value("acidity.blend_share") == pytest.approx(2 / 3)
    assert found.value("acidity.blend_pure") == pytest.approx(0.060)
    assert found.value("acidity.blend_tap") == pytest.approx(0.030)
    assert found.value("acidity.blend_holds").startswith("alkalinity 60 mg/L, calcium 23.3 mg/L")
    assert "type what the blend holds" in said(found, "blend-type").text
    assert by_hand("acidity.blend_share", found).endswith("(180 - 60) / (180 - 0) x 100 = 66.7 %")


def test_what_the_membrane_lets_through_takes_more_of_it():
    found = design(**{**HARD, "acidity.pure_left": "5 %"}, **{"acidity.blend_alkalinity": "60 mg/L"})
    # 9 mg/L are left: (180 - 60) over (180 - 9).
    assert found.value("acidity.blend_share") == pytest.approx(120 / 171)


def test_the_harder_of_two_aims_rules():
    found = design(**HARD, **{"acidity.blend_alkalinity": "120 mg/L", "acidity.blend_sodium": "10 mg/L"})
    assert found.value("acidity.blend_share") == pytest.approx(0.75)
    assert design(**HARD, **{"acidity.blend_alkalinity": "200 mg/L"}).value("acidity.blend_share") == 0.0
    assert design(**HARD).value("acidity.blend_share") is None


def test_an_aim_below_the_pure_water_is_told():
    found = design(**{**HARD, "acidity.pure_left": "10 %"}, **{"acidity.blend_sodium": "1 mg/L"})
    assert "less than pure water still holds, 4 mg/L" in found.faults["acidity.blend_sodium"]


# --- what I added ---------------------------------------------------------------------------------------------------

PURE = {f"feed.water_{one}": "0" for one in ("ca", "mg", "na", "cl", "s")} | {"acidity.alkalinity": "0 mg/L",
                                                                              "acidity.start_ph": "6"}


def test_grams_over_litres_times_the_share_of_each_element():
    found = design(**PURE, **{"feed.added_water": "100 L", "feed.added.1.name": "potassium_nitrate",
                              "feed.added.1.mass": "50 g", "feed.added.2.name": "magnesium_sulfate",
                              "feed.added.2.mass": "40 g"})
    # KNO3: 101.1 g/mol; MgSO4.7H2O: 246.5. 0.5 and 0.4 g/L.
    kno3 = A["K"] + A["N"] + 3 * A["O"]
    epsom = A["Mg"] + A["S"] + 11 * A["O"] + 14 * A["H"]
    n, k = 500 * A["N"] / kno3, 500 * A["K"] / kno3
    mg, s = 400 * A["Mg"] / epsom, 400 * A["S"] / epsom
    assert found.value("feed.added_elements") == f"N {n:.3g}, K {k:.3g}, Mg {mg:.3g}, S {s:.3g}"
    # 4.95 mmol/L of potassium nitrate is some 0.65 mS/cm (0.01 mol/L: 1.28 in handbooks), of Epsom salt 1.62 some 0.3.
    assert found.value("feed.added_ec") == pytest.approx(0.95, abs=0.08)
    assert found.value("feed.added_low") == pytest.approx(0.9 * found.value("feed.added_ec"))
    assert "Ca 0 mg/L" in said(found, "feed-added-off").text or "Ca 0 for" in said(found, "feed-added-off").text


def test_what_the_tap_brings_counts_and_water_defaults_to_the_mix():
    rows = {"feed.added.1.name": "potassium_nitrate", "feed.added.1.mass": "10 g"}
    soft, hard = design(**PURE, **rows), design(**{**PURE, "feed.water_ca": "80 mg/L"}, **rows)
    assert "Ca" not in soft.value("feed.added_elements") and "Ca 80" in hard.value("feed.added_elements")
    litres = soft.value("feed.batch") * 1000
    kno3 = A["K"] + A["N"] + 3 * A["O"]
    assert f"K {10_000 / litres * A['K'] / kno3:.1f}" in soft.value("feed.added_elements")


def test_too_strong_a_mix_is_told_before_a_plant_goes_in():
    found = design(**{"feed.added_water": "10 L", "feed.added.1.name": "calcium_nitrate", "feed.added.1.mass": "60 g"})
    assert said(found, "feed-added-strong").level == "warning"
    given = found.verdict("feed")
    assert given.state == "tight" and given.lead == "Too strong."


def test_nothing_added_says_nothing():
    found = design()
    assert found.value("feed.added_ec") is None and found.value("feed.added_elements") is None


# --- a chelate by its label -----------------------------------------------------------------------------------------


def test_a_weaker_chelate_is_weighed_in_proportion():
    usual, own = (design(**{"feed.way": "salts", **more}) for more in ({}, {"feed.chelate_iron": "7 %"}))

    def iron(found):
        return next(row for row in found.value("feed.masses") if row["key"] == "iron_dtpa")
    # The table reckons with 10 %: ten sevenths of it are needed for the same iron.
    assert iron(own)["mass"] == pytest.approx(iron(usual)["mass"] * 10 / 7, rel=1e-6)
    assert iron(own)["salt"] == "Iron chelate DTPA, 7 % by your label"
    assert iron(usual)["salt"] == "Iron chelate DTPA, 10 %"


def test_the_label_counts_for_what_was_added_too():
    rows = {**PURE, "feed.way": "salts", "feed.chelate_iron": "6 %", "feed.added_water": "100 L",
            "feed.added.1.name": "iron_dtpa", "feed.added.1.mass": "5 g"}
    # 5 g of 6 % in 100 L: 3 mg/L.
    assert "Fe 3," in design(**rows).value("feed.added_elements") + ","
