"""Feed: salts against general libraries, published recipes there and back, and what must hold for any mix."""

import math

import numpy as np
import periodictable
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from molmass import Formula
from scipy.optimize import nnls as library

from calc.models import recipe
from calc.data import salts, targets
from calc.data.salts import ELEMENTS, NH4, NO3
from calc.declare import Result
from calc.errors import Unanswered
from calc.plan import Plan
from calc.relations import feed as physics
from calc.render import extras
from calc.sheet import Answer, Sheet
from calc.solve import SPECS, solve
from calc.topics import feed

IONS = st.fixed_dictionaries({name: st.floats(0.0, 4.0) for name in physics.IONS})
SALTS = {"feed.way": "salts"}
OPEN = [key for key in salts.BY_KEY if not salts.BY_KEY[key].restricted]


def sources(*keys):
    return tuple(recipe.salt_source(key) for key in keys)


def aim(**wanted):
    return recipe.Aim(tuple(wanted.items()))


def written(formula: str) -> str:
    """The formula as the library reads it: each part behind a point in brackets with its number."""
    parts = []
    for part in formula.split("."):
        number = part[: len(part) - len(part.lstrip("0123456789"))]
        parts.append(f"({part[len(number):]}){number or 1}")
    return "".join(parts)


@pytest.mark.parametrize("salt", [salt for salt in salts.SALTS if not salt.label], ids=lambda salt: salt.key)
def test_a_salt_weighs_and_holds_what_two_libraries_say(salt):
    theirs = periodictable.formula(written(salt.formula))
    assert salt.molar_mass == pytest.approx(theirs.mass, rel=1e-5)
    assert salt.molar_mass == pytest.approx(Formula(written(salt.formula)).mass, rel=1e-4)
    mine = salts.shares(salt.key)
    counts = {str(element): count for element, count in theirs.atoms.items()}
    assert {element for element in counts if element not in ("H", "O", "C")} == set(mine) - {NO3, NH4}
    for element, share in mine.items():
        if element not in (NO3, NH4):
            expected = counts[element] * getattr(periodictable, element).mass / theirs.mass
            assert share == pytest.approx(expected, rel=1e-5), element
    assert mine.get(NO3, 0.0) + mine.get(NH4, 0.0) == pytest.approx(mine.get("N", 0.0), rel=1e-12)


@pytest.mark.parametrize("oxide", sorted(salts.OXIDES))
def test_an_oxide_holds_what_a_library_says(oxide):
    element = salts.OXIDES[oxide][0]
    theirs = periodictable.formula(oxide)
    share = theirs.atoms[getattr(periodictable, element)] * getattr(periodictable, element).mass / theirs.mass
    assert salts.oxide_share(oxide) == pytest.approx(share, rel=1e-5)
    name, atoms, oxygen = salts.OXIDES[oxide]
    assert physics.element_from_oxide(100.0, salts.ATOMIC_MASS[name], atoms, oxygen) == pytest.approx(
        100.0 * salts.oxide_share(oxide), rel=1e-12)


def test_hoagland_from_its_own_salts_comes_back_to_its_published_grams():
    one = targets.BY_KEY["hoagland_1"].mg_l
    found = recipe.fit(aim(**{element: one[element] for element in ("N", "P", "K", "Ca", "Mg", "S")}),
                       sources("calcium_nitrate_4h", "potassium_nitrate", "mkp", "magnesium_sulfate"))
    # 5, 5, 1 and 2 mmol/L.
    expected = {"calcium_nitrate_4h": 1.1807, "potassium_nitrate": 0.5055, "mkp": 0.1361, "magnesium_sulfate": 0.4929}
    for key, grams in expected.items():
        assert found.grams_l[key] == pytest.approx(grams, abs=2e-4)
    # The sulfur of the table counts the traces' sulfate too, hence not nought.
    assert found.miss < 1e-3


@pytest.mark.parametrize(("wanted", "keys", "grams"), [
    ({"N": 189, "P": 39, "K": 341, "Ca": 170, "Mg": 48},
     ("calcium_nitrate_4h", "potassium_nitrate", "mkp", "magnesium_sulfate", "potassium_sulfate"),
     (1.0017, 0.5065, 0.1713, 0.4867, 0.2137)),
    ({"N": 150, "P": 31, "K": 210, "Ca": 90, "Mg": 24},
     ("calcium_nitrate_4h", "potassium_nitrate", "mkp", "magnesium_sulfate"), (0.5570, 0.4757, 0.1347, 0.2434)),
    ({"N": 150, "P": 31, "K": 210, "Ca": 90, "Mg": 24},
     ("calcium_nitrate", "potassium_nitrate", "mkp", "map", "magnesium_sulfate", "iron_dtpa"), None),
])
def test_grams_are_those_of_a_general_solver(wanted, keys, grams):
    chosen = sources(*keys)
    found = recipe.fit(aim(**wanted), chosen)
    matrix = np.array([[1000 * source.brings.get(element, 0.0) / amount for source in chosen]
                       for element, amount in wanted.items()])
    theirs, left = library(matrix, np.ones(len(wanted)))
    assert found.miss <= left + 1e-9
    for number, key in enumerate(keys):
        assert found.grams_l[key] == pytest.approx(theirs[number], abs=1e-7)
        if grams:
            assert found.grams_l[key] == pytest.approx(grams[number], abs=1e-4)


def test_where_several_mixes_are_as_good_it_says_so_and_takes_few_salts():
    wanted = aim(N=189, P=39, K=341, Ca=170, Mg=48)
    keys = ("calcium_nitrate_4h", "potassium_nitrate", "mkp", "magnesium_sulfate", "potassium_sulfate")
    alone = recipe.fit(wanted, sources(*keys))
    more = recipe.fit(wanted, sources(*keys, "calcium_chloride", "magnesium_nitrate"))
    assert alone.others == ()
    assert more.others and more.miss == pytest.approx(alone.miss, abs=1e-9)
    assert sum(grams > 0 for grams in more.grams_l.values()) <= 5


@st.composite
def mixes(draw):
    """Any aim, water and set of unrestricted salts."""
    wanted = {element: draw(st.floats(0.01, 2.0) if element in salts.MICROS else st.floats(5.0, 400.0))
              for element in draw(st.sets(st.sampled_from(ELEMENTS), min_size=1))}
    water = {element: draw(st.floats(0.0, 120.0)) for element in ("Ca", "Mg", "S", "Na", "Cl")}
    keys = draw(st.lists(st.sampled_from(OPEN), min_size=1, max_size=14, unique=True))
    return recipe.Aim(tuple(wanted.items()), tuple(water.items())), keys


@settings(max_examples=150, deadline=None)
@given(mixes())
def test_masses_are_never_negative_and_the_fit_never_worse_than_the_librarys(mix):
    wanted, keys = mix
    chosen = sources(*keys)
    found = recipe.fit(wanted, chosen)
    assert all(grams >= 0.0 for grams in found.grams_l.values())
    water = dict(wanted.water)
    # A trace salt is not weighed where none of its traces is wanted.
    may = [source for source in chosen if not source.is_micro or {element for element, _ in wanted.wanted}
           & set(source.brings) & set(salts.MICROS)]
    matrix = np.array([[1000 * source.brings.get(element, 0.0) / amount for source in may] or [0.0]
                       for element, amount in wanted.wanted])
    left = np.array([(amount - water.get(element, 0.0)) / amount for element, amount in wanted.wanted])
    # Weights stretch the aims up to 100 times; the solver's share of a milliardth is of that size.
    assert found.miss <= library(matrix, left)[1] + 1e-9 * max(1.0, float(np.linalg.norm(left)))


@settings(max_examples=150, deadline=None)
@given(mixes(), st.sampled_from(OPEN))
def test_one_more_salt_never_worsens_the_fit(mix, extra):
    wanted, keys = mix
    before = recipe.fit(wanted, sources(*keys)).miss
    after = recipe.fit(wanted, sources(*dict.fromkeys([*keys, extra]))).miss
    assert after <= before + 2e-9 * max(1.0, before)


@settings(max_examples=100, deadline=None)
@given(mixes())
def test_elements_are_conserved_from_salts_to_milligrams(mix):
    wanted, keys = mix
    found = recipe.fit(wanted, sources(*keys))
    water = dict(wanted.water)
    for element, reached in found.reached.items():
        added = sum(1000.0 * found.grams_l[key] * salts.shares(key).get(element, 0.0) for key in keys)
        assert reached == pytest.approx(water.get(element, 0.0) + added, rel=1e-9, abs=1e-12)


def with_bounds(wanted, **bounds):
    return recipe.Aim(tuple(wanted.items()), **bounds)


@settings(max_examples=300, deadline=None)
@given(st.fixed_dictionaries({"N": st.floats(50, 250), "P": st.floats(15, 60), "K": st.floats(50, 400),
                              "Ca": st.floats(1, 200), "Mg": st.floats(5, 60)}),
       st.floats(1.0, 80.0), st.floats(0.02, 0.5))
def test_floor_and_ceiling_hold_wherever_a_salt_can_keep_them(wanted, floor, ceiling):
    chosen = sources("calcium_nitrate", "potassium_nitrate", "mkp", "map", "magnesium_sulfate", "potassium_sulfate",
                     "magnesium_nitrate")
    found = recipe.fit(with_bounds(wanted, sulfur_floor_mg_l=floor, ammonium_ceiling=ceiling), chosen)
    assert found.broken == ()
    assert found.reached["S"] >= floor * (1 - 2e-4)
    assert found.reached.get(NH4, 0.0) <= ceiling * found.reached["N"] * (1 + 2e-4) + 1e-3
    assert found.miss >= recipe.fit(with_bounds(wanted), chosen).miss - 1e-9


def test_a_floor_matters_and_traces_are_never_piled_up_for_it():
    wanted = {"N": 150, "P": 31, "K": 210, "Ca": 90, "Mg": 24, "Zn": 0.13}
    keys = ("calcium_nitrate_4h", "potassium_nitrate", "mkp", "magnesium_nitrate", "magnesium_sulfate", "zinc_sulfate")
    assert recipe.fit(with_bounds(wanted), sources(*keys)).reached["S"] < 25.0
    floor = with_bounds(wanted, sulfur_floor_mg_l=40.0)
    # The traces' sulfate comes on top.
    assert 40.0 - 1e-3 <= recipe.fit(floor, sources(*keys)).reached["S"] < 40.2
    without = recipe.fit(floor, sources(*(key for key in keys if key != "magnesium_sulfate")))
    assert without.broken == ("sulfur",)
    assert without.reached["Zn"] == pytest.approx(0.13, rel=0.01)


def test_ammonium_is_held_where_it_would_run_away():
    wanted = {"N": 150, "P": 31, "K": 210, "Mg": 24}
    chosen = sources("potassium_nitrate", "mkp", "map", "magnesium_sulfate", "ammonium_sulfate")
    free, held = (recipe.fit(with_bounds(wanted, ammonium_ceiling=most), chosen) for most in (1.0, 0.15))
    assert free.reached[NH4] / free.reached["N"] > 0.2
    assert held.reached[NH4] / held.reached["N"] == pytest.approx(0.15, rel=1e-3)


def test_water_is_taken_off_first():
    wanted = {"N": 150.0, "P": 31.0, "K": 210.0, "Ca": 90.0, "Mg": 24.0}
    chosen = sources("calcium_nitrate", "potassium_nitrate", "mkp", "map", "magnesium_sulfate", "magnesium_nitrate")
    soft = recipe.fit(with_bounds(wanted), chosen)
    hard = recipe.fit(with_bounds(wanted, water=(("Ca", 40.0), ("Mg", 10.0))), chosen)
    assert hard.grams_l["calcium_nitrate"] < soft.grams_l["calcium_nitrate"]
    assert hard.reached["Ca"] == pytest.approx(90.0, rel=0.02)


def test_a_shortage_names_the_salt_that_mends_it():
    wanted = aim(N=189, P=39, K=341, Ca=170, Mg=48)
    owned = sources("calcium_nitrate_4h", "potassium_nitrate", "mkp", "magnesium_sulfate")
    before = recipe.fit(wanted, owned)
    assert [element for element, amount, got in recipe.missed(before, wanted) if got < amount] == ["K", "Ca"]
    assert recipe.remedy("K", wanted, owned) == "Potassium sulfate"
    assert recipe.fit(wanted, (*owned, *sources("potassium_sulfate"))).miss < 1e-9


@settings(deadline=None)
@given(IONS, st.floats(1.0, 1.5))
def test_conductivity_grows_with_concentration(ions, factor):
    if sum(ions.values()) < 1e-6:
        return
    more = {name: amount * factor for name, amount in ions.items()}
    if physics.ionic_strength(**more) <= 0.05:
        assert physics.conductivity_25(**more) >= physics.conductivity_25(**ions)


@given(st.floats(10.0, 500.0), st.floats(0.5, 3.0), st.floats(0.05, 0.95), st.floats(0.0, 0.4))
def test_thinned_and_replaced_baths_come_out_as_wanted(volume, reads, share, water):
    wanted = water + (reads - water) * share
    if not water < wanted < reads:
        return
    added = physics.water_to_add(volume, reads, wanted, water)
    assert (volume * reads + added * water) / (volume + added) == pytest.approx(wanted, rel=1e-9)
    out = physics.solution_to_replace(volume, reads, wanted, water)
    assert ((volume - out) * reads + out * water) / volume == pytest.approx(wanted, rel=1e-9)


FILTERED = {"acidity.alkalinity": "0", **{f"feed.water_{name}": "0" for name in ("ca", "mg", "na", "cl", "s")}}


def design(**changes):
    return solve(Plan({**SALTS, "units": "metric", **FILTERED,
                       **{f"feed.{key}": text for key, text in changes.items()}}))


def grams(found):
    return {row["salt"]: row["mass"] for row in found.value("feed.masses")}


def test_doubling_the_volume_doubles_the_grams():
    one, two = grams(design(volume="100 L")), grams(design(volume="200 L"))
    assert one.keys() == two.keys() and one
    for salt, mass in one.items():
        assert two[salt] == pytest.approx(2 * mass, rel=1e-12)


@pytest.mark.parametrize("strength", ["50", "100", "200"])
@pytest.mark.parametrize("formula", ["leafy", "raft_lettuce", "sonneveld_cucumber"])
def test_bottles_a_and_b_diluted_give_the_direct_batch(strength, formula):
    found = design(volume="80 L", target=formula, stock_strength=strength, stock_volume="0.7 L")
    direct, batch = grams(found), {}
    bottles = found.value("feed.concentrate_each") / 0.7e-3
    for row in found.value("feed.concentrates"):
        if row["key"] == "stock":
            litres = row["volume"] * 1000.0 * bottles
            assert litres == pytest.approx(found.value("feed.micro_dose") * 1000.0, rel=1e-9)
            for trace in found.value("feed.micro_stock"):
                batch[trace["salt"]] = trace["mass"] * litres
        else:
            batch[row["salt"]] = batch.get(row["salt"], 0.0) + row["mass"] * bottles
    assert batch.keys() == direct.keys()
    for salt, mass in direct.items():
        assert batch[salt] == pytest.approx(mass, rel=1e-9)


def test_calcium_never_shares_a_bottle_with_sulfate_or_phosphate():
    for key, salt in salts.BY_KEY.items():
        brings = salts.shares(key)
        where = {bottle for bottle, _, _ in recipe.bottles_of(key)}
        assert sum(part for _, part, _ in recipe.bottles_of(key)) == pytest.approx(1.0)
        if "Ca" in brings:
            assert where == {"A"}, salt.name
        if "S" in brings or "P" in brings:
            assert where == {"B"}, salt.name


def test_the_printed_lettuce_recipe_comes_to_its_printed_numbers():
    # Grams for 100 US gallons and mg/L of Mattson & Peters (2014), both from memory: they confirm each other.
    litres = 378.541
    given_grams = {"calcium_nitrate": 184.0, "ammonium_nitrate": 14.4, "potassium_nitrate": 167.3, "iron_dtpa": 3.8,
                   "mkp": 51.5, "magnesium_sulfate": 92.0, "manganese_sulfate": 0.290, "zinc_sulfate": 0.217,
                   "boric_acid": 0.352, "copper_sulfate": 0.035, "sodium_molybdate": 0.023}
    reached = recipe.bring(sources(*given_grams), {key: mass / litres for key, mass in given_grams.items()})
    for element, printed in targets.BY_KEY["leafy"].mg_l.items():
        assert reached[element] == pytest.approx(printed, rel=0.025), element
    # Conductivity of this feed by PHREEQC (phreeqpython 1.6.2, vitens.dat): 1.491 mS/cm.
    assert physics.conductivity_25(**recipe.charges(reached)) == pytest.approx(1.491, rel=0.05)


@pytest.mark.parametrize("target", [one for one in targets.TARGETS if "balance exactly" in one.status],
                         ids=lambda one: one.key)
def test_formulas_said_to_balance_do(target):
    mg_l = {**target.mg_l, NH4: target.ammonium_mg_l}
    ions = recipe.charges(mg_l)
    plus = sum(physics.IONS[name][0] * amount for name, amount in ions.items() if physics.IONS[name][0] > 0)
    minus = -sum(physics.IONS[name][0] * amount for name, amount in ions.items() if physics.IONS[name][0] < 0)
    assert physics.charge_imbalance(plus, minus) < 0.001


def test_single_salts_always_balance_their_charges():
    for formula in targets.BY_KEY:
        assert design(target=formula).value("feed.imbalance") < 0.002, formula


def test_a_label_in_oxides_is_turned_into_elements():
    powder = {"name": "Mine", "p": "10 %", "k": "20 %", "n": "5 %", "mg": "3 %"}
    brought = {}
    for label in ("oxide", "elements", "all oxides"):
        found = solve(Plan.from_mapping({**FILTERED, "feed.way": "powders", "feed.label": label,
                                         "feed.powders": [powder]}))
        ppm = {row["element"]: row["reached"] for row in found.value("feed.reached")}
        mass = found.value("feed.masses")[0]["mass"] / found.value("feed.batch")
        brought[label] = {element: ppm[element] / (1000.0 * mass) for element in ("N", "P", "K", "Mg")}
    assert brought["elements"] == pytest.approx({"N": 0.05, "P": 0.10, "K": 0.20, "Mg": 0.03}, rel=1e-9)
    assert brought["oxide"] == pytest.approx({"N": 0.05, "P": 0.043643, "K": 0.16603, "Mg": 0.03}, rel=1e-4)
    assert brought["all oxides"]["Mg"] == pytest.approx(0.03 * 0.60304, rel=1e-4)


def test_bottles_follow_their_dose():
    found = solve(Plan.from_mapping({**FILTERED, "feed.way": "bottles", "feed.volume": "100 L", "feed.strength": "50 %",
                                     "feed.bottles": [{"name": "A", "dose": "4 mL/L", "n": "5 %", "ca": "4 %"}]}))
    assert found.value("feed.masses")[0]["volume"] == pytest.approx(0.2e-3)
    ppm = {row["element"]: row["reached"] for row in found.value("feed.reached")}
    # 2 mL/L of a liquid of 1 kg/L is 2 g/L.
    assert ppm["N"] == pytest.approx(100.0) and ppm["Ca"] == pytest.approx(80.0)
    assert found.value("feed.concentrates") is None


def test_restricted_salts_are_left_out_until_allowed():
    plan = {"feed.way": "salts",
            "feed.salts": [{"name": key} for key in (*salts.default_salts()[:3], "magnesium_sulfate",
                                                    "ammonium_nitrate")]}
    left, used = solve(Plan.from_mapping(plan)), solve(Plan.from_mapping({**plan, "feed.allow_restricted": "yes"}))
    assert "Ammonium nitrate" not in grams(left) and "Ammonium nitrate" in grams(used)
    for one in (left, used):
        assert any(caution.code == "feed-restricted" and caution.level == "danger" for caution in one.cautions)


def test_a_running_bath_is_mended():
    fresh = design(volume="100 L").value("feed.ec")
    weak = design(volume="100 L", meter_reading=f"{fresh * 0.8:.9f}")
    assert weak.value("feed.correct_each") == pytest.approx(0.2 * 100.0 * 10e-6, rel=1e-6)
    whole = grams(weak)
    *salts_to_add, stock = weak.value("feed.correct_rows")
    assert stock["volume"] == pytest.approx(0.2 * weak.value("feed.micro_dose"), rel=1e-6)
    assert len(salts_to_add) == 6
    for row in salts_to_add:
        assert row["mass"] == pytest.approx(0.2 * whole[row["what"]], rel=1e-6)
    strong = design(volume="100 L", meter_reading="2000", meter_scale="ppm500", wanted_ec="2 mS/cm")
    assert strong.value("feed.bath_ec") == pytest.approx(4.0)
    assert strong.value("feed.correct_water") == pytest.approx(0.1)
    assert strong.value("feed.correct_replace") == pytest.approx(0.05)
    cold = solve(Plan({**SALTS, "units": "metric", "feed.meter_reading": "1", "feed.meter_compensates": "no",
                       "water.temperature": "20 C"}))
    assert cold.value("feed.bath_ec") == pytest.approx(1.0 / 0.9)


def with_acid(alkalinity, **found):
    """The feed solved after an acidity topic that found these."""
    plan = Plan({**SALTS, "units": "metric", **FILTERED, "feed.water_ca": "40 mg/L", "acidity.alkalinity": alkalinity})
    given = {key: answer for key, answer in solve(plan).answers.items()
             if key.split(".")[0] not in ("acidity", "feed")}
    for key, value in found.items():
        name = f"acidity.{key}"
        given[name] = Answer(Result(name, "number", name), value)
    sheet = Sheet(plan, SPECS, given)
    for step in feed.STEPS:
        try:
            step(sheet)
        except Unanswered:
            assert step is feed.mend
    return sheet


def test_the_acids_nutrients_are_taken_off_and_its_bicarbonate_is_gone():
    # 100 mg/L as CaCO3 is 2 mmol/L; so much nitric acid brings 28 mg/L of nitrogen.
    without = with_acid("100.09 mg/L")
    acid = with_acid("100.09 mg/L", nutrient_n=28.0, acid_needed=2.0, nutrient_p=0.0, nutrient_s=0.0)
    def nitrogen(sheet):
        return next(row for row in sheet.result_rows("feed.reached") if row["element"] == "N")

    def from_salts(sheet):
        brought = sum(row["mass"] * salts.shares(row["key"]).get("N", 0.0) for row in sheet.result_rows("feed.masses"))
        return brought * 1e3 / sheet.result("feed.batch")
    # With calcium in the water, less calcium nitrate is taken and nitrogen falls short; the acid makes up for it.
    assert nitrogen(without)["reached"] < 140.0
    assert nitrogen(acid)["reached"] == pytest.approx(150.0, rel=0.02)
    # Three quarters of the dose are sure to be poured.
    assert (nitrogen(without)["water"], nitrogen(acid)["water"]) == (0.0, 21.0)
    for sheet in (without, acid):
        assert from_salts(sheet) + nitrogen(sheet)["water"] == pytest.approx(nitrogen(sheet)["reached"], rel=1e-9)
        assert sheet.result("feed.imbalance") < 0.01


def test_the_plan_as_it_comes_counts_the_acid_and_balances():
    found = solve(Plan(SALTS))
    phosphorus = next(row for row in found.value("feed.reached") if row["element"] == "P")
    assert phosphorus["water"] == 0.75 * found.value("acidity.nutrient_p") > 20.0
    assert phosphorus["reached"] == pytest.approx(31.0, rel=0.03)
    assert found.value("feed.imbalance") < 0.005


def test_what_the_water_shows_beyond_its_analysis_is_added():
    plain, measured = design(), design(water_ec="0.3 mS/cm")
    assert measured.value("feed.ec") == pytest.approx(plain.value("feed.ec") + 0.3)
    assert measured.value("feed.water_conductivity") == 0.3


def test_a_coarse_scale_is_told():
    fine, coarse = design(scale="0.01 g", volume="20 L"), design(scale="1 g", volume="20 L")
    def worst(found):
        return max(abs(row["off"]) for row in found.value("feed.rounded"))
    assert worst(fine) < 0.05 < worst(coarse)
    assert {"feed-coarse-scale", "feed-rounding"} <= {one.code for one in coarse.cautions}


def test_memory_is_carried_to_the_reader():
    for one in targets.TARGETS:
        found = design(target=one.key)
        assert one.status in found.value("feed.formula")
        assert found.answers["feed.formula"].source == one.source
        told = any(caution.code == "feed-formula-memory" for caution in found.cautions)
        assert told == ("from memory" in one.status)


@pytest.mark.parametrize(("plan", "key", "words"), [
    ({"feed.way": "salts", "feed.salts": []}, "feed.salts", "List at least one salt"),
    ({"feed.target": "own", "feed.own_target": []}, "feed.own_target", "is empty: add a row"),
    ({"feed.target": "own", "feed.own_target": [{"element": "N", "amount": "100"}, {"element": "N", "amount": "9"}]},
     "feed.own_target", "lists nitrogen twice"),
    ({"feed.way": "powders", "feed.powders": [{"name": "X", "n": "60 %", "p": "50 %"}]}, "feed.powders",
     "adds up to more than 100 %"),
    ({"feed.way": "bottles", "feed.bottles": [{"name": "X", "dose": "2", "n": "1 %", "nh4": "2 %"}]}, "feed.bottles",
     "more ammonium nitrogen than nitrogen"),
    ({"feed.meter_reading": "1600"}, "feed.meter_reading", "check what the meter shows"),
    ({"feed.meter_reading": "3", "feed.water_ec": "1", "feed.wanted_ec": "0.5"}, "feed.wanted_ec",
     "more than the conductivity of your plain water"),
    ({"feed.strength": "300 %"}, "feed.strength", "between 5 % and 200 %"),
    ({"feed.own_target": [], "feed.target": "my own"}, "feed.target", "must be one of"),
])
def test_what_cannot_be_used_is_answered_with_a_sentence(plan, key, words):
    assert words in solve(Plan.from_mapping(plan)).faults[key]


def test_a_fault_leaves_the_rest_answered():
    found = design(meter_reading="1600")
    assert found.value("feed.ec") > 1.0 and found.value("feed.bath_ec") is None
    assert found.waiting["feed"] == {"feed.meter_reading"}


def finite(value):
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, dict):
        return all(map(finite, value.values()))
    return all(map(finite, value)) if isinstance(value, (list, tuple)) else True


EXTREMES = [
    {}, {"feed.strength": "5 %"}, {"feed.strength": "200 %", "feed.target": "sonneveld_lettuce"},
    {"feed.volume": "0.1 L", "feed.scale": "1 g"}, {"feed.volume": "1000000 L"},
    {"feed.water_ca": "500", "feed.water_mg": "300", "feed.water_na": "1000", "feed.water_cl": "1000",
     "feed.water_s": "500", "feed.water_ec": "5"},
    {"feed.stock_strength": "400", "feed.micro_strength": "40000"}, {"feed.sulfur_floor": "200 mg/L"},
    {"feed.ammonium_ceiling": "0 %"}, {"feed.meter_reading": "0"}, {"feed.meter_reading": "20", "feed.wanted_ec": "6"},
    {"feed.way": "powders"}, {"feed.way": "powders", "feed.label": "all oxides"}, {"feed.way": "bottles"},
    {"feed.way": "bottles", "feed.bottles": [{"name": "A", "dose": "0 mL/L"}]},
    {"feed.way": "bottles", "feed.bottles": [{"name": "A", "dose": "100 mL/L", "k": "100 %"}]},
    {"feed.way": "powders", "feed.powders": [{"name": "Empty label"}]},
    {"feed.salts": [{"name": key} for key in salts.BY_KEY], "feed.allow_restricted": "yes"},
    {"feed.salts": [{"name": "sodium_molybdate"}]}, {"feed.salts": [{"name": "zinc_sulfate"}]},
    {"feed.target": "own", "feed.own_target": [{"element": element, "amount": "1000 mg/L"} for element in ELEMENTS]},
    {"feed.target": "own", "feed.own_target": [{"element": "Mo", "amount": "0.001 mg/L"}]},
]


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("plan", EXTREMES, ids=range(len(EXTREMES)))
def test_extremes_are_answered_in_both_systems(plan, system):
    found = solve(Plan.from_mapping({**SALTS, "units": system, **plan}))
    for key, answer in found.answers.items():
        if key.startswith("feed."):
            assert finite(answer.value), key
            assert found.shown(key) != "not a number"
            if answer.spec.kind != "rows" and isinstance(answer.value, float) and not key.endswith("index"):
                assert answer.value >= 0.0, key
    text = extras.OF_TOPIC["feed"](found)
    assert "nan" not in text.lower().replace("nanometre", "") and "None" not in text


def test_every_declared_result_can_be_answered():
    full = design(meter_reading="0.5").answers.keys() | design(meter_reading="3").answers.keys()
    assert [key for key in SPECS if key.startswith("feed.") and key not in full] == []


def test_weights_that_stand_on_an_acid_say_so():
    from calc.plan import Plan as P
    from calc.solve import solve as worked
    said = {one.code: one.text for one in worked(P({})).cautions}
    assert "of phosphorus" in said["feed-acid"] and "Phosphoric" in said["feed-acid"]
    plain = worked(P({"acidity.alkalinity": "0", "acidity.start_ph": "5.8"}))
    assert "feed-acid" not in {one.code for one in plain.cautions}


def words_of(found, about):
    return [row["words"] for row in found.value("feed.advice") if row["about"] == about]


def test_an_acid_that_brings_little_is_not_counted_and_one_that_counts_is_counted_for_three_quarters():
    # 6 mg/L of alkalinity take 0.12 - 0.03 mmol/L of acid, 2 mg/L of phosphorus: less than a tenth of the 31 wanted.
    little = solve(Plan({**SALTS, "units": "metric", "acidity.alkalinity": "6 mg/L", "acidity.start_ph": "7"}))
    none = solve(Plan({**SALTS, "units": "metric", "acidity.alkalinity": "0 mg/L", "acidity.start_ph": "5.8"}))
    assert 0.0 < little.value("acidity.nutrient_p") < 3.1
    assert grams(little)["Monoammonium phosphate (MAP)"] == pytest.approx(grams(none)["Monoammonium phosphate (MAP)"])
    assert "feed-acid" not in {one.code for one in little.cautions}
    # The default dose of 201 mL is counted for 151.
    said = {one.code: one.text for one in solve(Plan({**SALTS, "units": "metric"})).cautions}["feed-acid"]
    assert "151 mL" in said and "three quarters" in said


def test_the_acid_is_blamed_and_another_offered_where_it_passes_the_aim():
    # Ordinary tap water, 150 mg/L at pH 7.5: 3.0 meq/L, of which 78 % go by pH 5.8, 2.3 mmol/L; over 1.037 and times
    # 30.97 that is 69 mg/L of phosphorus where 31 is wanted: 45 % of the acid may be phosphoric.
    found = solve(Plan({**SALTS, "units": "metric", "acidity.alkalinity": "150 mg/L"}))
    assert found.value("acidity.nutrient_p") == pytest.approx(69, abs=2)
    text = {one.code: one.text for one in found.cautions}["feed-acid-passes"]
    assert "acid's doing, not your water's" in text and "sulfuric acid" in text
    assert found.show(0.448 * found.value("acidity.volume"), "volume", "mL", "mL")[:2] in text
    about = words_of(found, "Phosphorus")[0]
    assert "not your water" in about and "your water alone" not in about
    # The rest by hand: 2.33 x 0.555 = 1.29 mmol/L of hydrogen, 2 from each sulfuric acid; for 240 L and 1.087 mol/L 143
    # mL.
    assert "143 mL of 10 % sulfuric acid" in text
    # Nitric acid brings nitrogen the same way.
    nitric = solve(Plan({**SALTS, "units": "metric", "acidity.alkalinity": "600 mg/L", "acidity.acid": "nitric",
                         "feed.strength": "50 %"}))
    assert "phosphoric acid" in {one.code: one.text for one in nitric.cautions}["feed-acid-passes"]
    assert "feed-acid-passes" not in {one.code for one in solve(Plan(SALTS)).cautions}


def test_a_formula_without_iron_says_so_and_offers_a_chelate():
    # 1 mg/L for 100 L is 100 mg of iron, and 1 g of a chelate of 10 %.
    found = design(target="hoagland_half", volume="100 L")
    assert "1 g of Iron chelate DTPA, 10 %" in words_of(found, "Iron")[0]
    assert "feed-no-iron" in {one.code for one in found.cautions}
    assert words_of(design(volume="100 L"), "Iron") == []
    assert "Sodium molybdate" in words_of(design(target="steiner"), "Molybdenum")[0]


def test_short_iron_is_never_mended_with_rust():
    owned = sources("calcium_nitrate", "potassium_nitrate", "mkp", "magnesium_sulfate")
    wanted = aim(N=150, P=31, K=210, Ca=90, Mg=24, Fe=1.0)
    assert "chelate" in recipe.remedy("Fe", wanted, owned)
    chelates = tuple(key for key in salts.BY_KEY if "iron" not in key)
    assert "sulfate" not in (recipe.remedy("Fe", wanted, sources(*chelates[:6])) or "")


def test_bottles_are_made_up_for_what_the_bath_takes():
    # 240 L of feed from bottles of a hundred times: 2.4 L of each.
    found = solve(Plan({**SALTS, "units": "metric", "feed.volume": "240 L"}))
    assert found.value("feed.stock_size") == pytest.approx(0.0024)
    assert found.value("feed.stock_size") == found.value("feed.concentrate_each")
    nitrate = next(row for row in found.value("feed.concentrates") if row["key"] == "calcium_nitrate")
    assert nitrate["mass"] == pytest.approx(
        next(row for row in found.value("feed.masses") if row["key"] == "calcium_nitrate")["mass"])
    assert solve(Plan({**SALTS, "units": "metric", "feed.stock_volume": "1 L"})).value("feed.stock_size") == 1e-3


def test_calcium_phosphate_is_told_at_the_highest_ph_and_not_promised():
    # With PHREEQC and the product of -6.62 the lettuce feed passes 0 at pH 6.9, the strong one at 6.2 to 6.3.
    still = {"acidity.alkalinity": "0 mg/L", "acidity.start_ph": "5.6"}
    def index(target, ph):
        water = {f"feed.water_{one}": "0" for one in ("ca", "mg", "na", "cl", "s")}
        return solve(Plan({**SALTS, "units": "metric", **still, **water, "feed.target": target,
                           "acidity.target_ph": ph}))
    assert index("leafy", "6").value("feed.calcium_phosphate_index") == pytest.approx(-0.62, abs=0.06)
    assert "feed-lime" not in {one.code for one in index("leafy", "6.5").cautions}
    assert "feed-lime" in {one.code for one in index("leafy", "7.2").cautions}
    strong = index("sonneveld_lettuce", "6.8")
    assert "feed-lime" in {one.code for one in strong.cautions}
    rows = {row["element"]: row for row in strong.value("feed.reached")}
    # One calcium goes with each phosphorus: 40.08 with 30.97.
    assert rows["P"]["falls"] > 0.0
    assert rows["P"]["falls"] / rows["Ca"]["falls"] == pytest.approx(30.974 / 40.078, rel=1e-4)
    assert rows["P"]["reached"] < 61.9


def test_the_mend_of_a_running_bath_does_not_count_the_first_acid():
    # The weight of monoammonium phosphate depends on no pH question: the acid of the first fill is long spent.
    found = [solve(Plan({**SALTS, "units": "metric", "feed.meter_reading": "0.9", "feed.wanted_ec": "1.5",
                         "acidity.alkalinity": mg})) for mg in ("0 mg/L", "60 mg/L", "150 mg/L")]
    masses = [{row["what"]: row["mass"] for row in one.value("feed.correct_rows")}["Monoammonium phosphate (MAP)"]
              for one in found if one.value("feed.correct_rows")]
    assert len(masses) >= 2 and max(masses) == pytest.approx(min(masses))


@pytest.mark.parametrize("formula", ["hoagland_1", "hoagland_2"])
def test_iron_sulfate_is_no_way_to_sulfur_where_the_formula_names_no_iron(formula):
    # Hoagland wants 64.16 mg/L of sulfur: the water has 1.5, and Epsom salt for the 45.6 mg/L of magnesium it lacks
    # brings 45.6 / 24.305 x 32.06 = 60.15. The 2.5 still lacking would be 2.5 / 0.1153 = 22 mg/L of iron(II) sulfate
    # heptahydrate, with 4.3 mg/L of iron: four times what a feed has.
    own = {"feed.way": "salts", **{f"feed.salts.{row}.name": "" for row in range(1, 15)}}
    for row, key in enumerate(("calcium_nitrate", "potassium_nitrate", "mkp", "magnesium_sulfate", "iron_sulfate"), 1):
        own[f"feed.salts.{row}.name"] = key
    found = solve(Plan({**own, "feed.target": formula}))
    assert not [row for row in found.value("feed.masses") if row["key"] == "iron_sulfate" and row["mass"] > 0]
    assert "feed-no-iron" in {one.code for one in found.cautions}
    iron = solve(Plan({**own, "feed.target": "leafy"}))
    reached = {row["element"]: row["reached"] for row in iron.value("feed.reached")}
    assert reached["Fe"] == pytest.approx(1.0, rel=0.02)
