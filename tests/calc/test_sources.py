"""What was read and what is from memory: the shares are counted, and numbers read stand as they were printed."""

import pytest

from calc.data import crops, salts, shares, targets
from calc.plan import Plan
from calc.solve import solve

SALTS = {"feed.way": "salts", "units": "metric"}


def share(counted, kind):
    return counted[kind] / sum(counted.values())


def test_no_more_than_a_third_of_the_crop_cells_is_from_memory():
    counted = shares.crop_cells()
    assert sum(counted.values()) == len(crops.CROPS) * (len(crops.CELLS) + len(crops.WORDS)) == 352
    assert share(counted, shares.REMEMBERED) <= 1 / 3
    # Of the figures alone, without the words beside them, too.
    cells = [shares.kind(getattr(crop, name).status) for crop in crops.CROPS for name in crops.CELLS]
    assert cells.count(shares.REMEMBERED) <= len(cells) / 3


def test_no_more_than_a_quarter_of_the_formulas_elements_is_from_memory():
    counted = shares.formula_elements()
    assert sum(counted.values()) > 100 and share(counted, shares.REMEMBERED) <= 1 / 4


def test_a_status_is_counted_for_no_more_than_it_says():
    assert shares.kind("published, abstract read") == shares.READ
    assert shares.kind("published, but from memory, not verified") == shares.REMEMBERED
    assert shares.kind("common practice, no published source") == shares.USUAL
    assert shares.kind("engineering judgment, no source") == shares.JUDGED


def test_a_formula_that_is_offered_no_more_is_still_read_and_says_so():
    found = solve(Plan({**SALTS, "feed.target": "florida_1"}))
    assert "feed.target" not in found.faults and found.value("feed.total_mass") > 0.0
    assert "no longer offered" in found.value("feed.formula")
    refused = solve(Plan({**SALTS, "feed.target": "florida"})).faults["feed.target"]
    assert "raft_lettuce" in refused and "florida_1" not in refused


@pytest.mark.parametrize(("key", "element", "printed"), [
    # Hoagland & Arnon 1950, Circular 347, amounts as set out by D. R. Hershey 1997; mg/L by IUPAC weights.
    ("hoagland_1", "N", 210.1), ("hoagland_1", "K", 234.6), ("hoagland_1", "Mg", 48.6), ("hoagland_1", "S", 64.1),
    ("hoagland_1", "Mo", 0.0110),
    # De Rijck & Schrevens 1998, J. Plant Nutrition 21:2115-2125, in a copy of the table.
    ("sonneveld_cucumber", "Mg", 34.03), ("sonneveld_cucumber", "S", 44.89), ("steiner", "K", 261.57),
    ("cooper", "P", 59.78),
])
def test_formulas_hold_the_numbers_that_were_read(key, element, printed):
    assert targets.BY_KEY[key].mg_l[element] == pytest.approx(printed, rel=0.003)


def test_every_hoagland_has_iron_within_what_its_readers_use():
    for key, full in (("hoagland_1", 1.0), ("hoagland_2", 1.0), ("hoagland_half", 0.5)):
        assert 1.0 * full <= targets.BY_KEY[key].mg_l["Fe"] <= 5.0 * full


# Grams of the salt for each kg of water as the tables print them, at 20 C (Wikipedia's table and the CRC Handbook, as
# open data files), with the density of the full solution after Laliberte & Cooper 2004 in kg/m3 (thermo 0.6.1).
PRINTED = {"potassium_nitrate": (316, 1163), "mkp": (226, 1135), "potassium_sulfate": (111, 1081),
           "magnesium_sulfate": (1137, 1295), "magnesium_nitrate": (2403, 1377), "ammonium_sulfate": (754, 1246),
           "potassium_chloride": (342, 1173), "calcium_chloride": (1302, 1424), "ammonium_nitrate": (1920, 1313),
           "iron_sulfate": (615, 1230), "manganese_chloride": (2022, 1481), "zinc_sulfate": (1656, 1468),
           "copper_sulfate": (355, 1191), "sodium_molybdate": (866, 1448)}


@pytest.mark.parametrize("key", PRINTED)
def test_what_dissolves_is_by_the_litre_of_solution(key):
    in_water, density = PRINTED[key]
    assert salts.BY_KEY[key].solubility_g_l == pytest.approx(in_water / (1000 + in_water) * density, rel=0.005)


def test_no_salt_dissolves_better_in_the_cold_and_none_fills_the_bottle_with_itself():
    for salt in salts.SALTS:
        assert salt.cold_g_l is None or salt.cold_g_l <= salt.solubility_g_l
        assert salt.solubility_g_l < 1600.0


def test_potassium_nitrate_is_warned_of_for_a_cold_shed():
    # A litre holds 279 g of it at 20 C and 193 g at 10 C, so there is a strength that only the cold cannot keep.
    def codes(strength):
        found = solve(Plan({**SALTS, "feed.target": "sonneveld_cucumber", "feed.stock_strength": strength}))
        return {one.code for one in found.cautions}
    assert {"feed-full-A", "feed-full-B"} & codes("400")
    seen = {strength: {code for code in codes(str(strength)) if code.startswith(("feed-cold", "feed-full"))}
            for strength in range(20, 400, 20)}
    assert any(any(code.startswith("feed-cold") for code in found) for found in seen.values())
    for found in seen.values():
        assert not ({"feed-cold-A", "feed-full-A"} <= found or {"feed-cold-B", "feed-full-B"} <= found)


@pytest.mark.parametrize(("typed", "words"), [
    # McGehee & Raudales 2023, HortTechnology 33:125-130: shoots lost at 0.5, 1, 1.5, 2 and 4 mg/L before the salts.
    ("0.5 mg/L", "30% of its leaf at 0.5"), ("1.2 mg/L", "55% of its leaf at 1 "), ("4 mg/L", "92% of its leaf at 4 "),
    ("9 mg/L", "92% of its leaf at 4 "), ("0.4 mg/L", None), ("0", None), ("", None),
])
def test_chlorine_of_the_tap_is_told_from_the_least_that_was_tried(typed, words):
    found = [one for one in solve(Plan({"feed.water_chlorine": typed})).cautions if one.code == "feed-chlorine"]
    assert bool(found) == (words is not None)
    assert words is None or (words in found[0].text and "carbon" in found[0].text and "Premuzic" in found[0].text)


@pytest.mark.parametrize(("room", "psf"), [
    # International Residential Code 2000, table R301.4, uniform live loads, as printed by a building department.
    ("bedroom", 30), ("room", 40), ("garage", 50), ("deck", 40), ("balcony", 60),
])
def test_a_floor_is_built_for_its_kind_of_room_unless_told(room, psf):
    found = solve(Plan({"bath.stands_on": "floor", "bath.room": room}))
    # A pound on a square foot is 0.45359237 kg x 9.80665 m/s2 on 0.3048 m squared.
    assert found.value("water.floor_allowance") == pytest.approx(psf * 0.45359237 * 9.80665 / 0.3048**2)
    typed = solve(Plan({"bath.stands_on": "floor", "bath.room": room, "bath.floor_allowance": "2 kPa"}))
    assert typed.value("water.floor_allowance") == pytest.approx(2000.0)
