"""Feed: salts against general libraries, published recipes there and back, and what must hold for any mix."""

import math

import pytest
from hypothesis import strategies as st

from calc.data import salts, targets
from calc.data.salts import ELEMENTS, NH4
from calc.declare import Result
from calc.errors import Unanswered
from calc.models import recipe
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
        assert one.words in found.value("feed.formula")
        assert found.answers["feed.formula"].source == one.source
        told = any(caution.code == "feed-formula-memory" for caution in found.cautions)
        assert told == any("from memory" in one.status_of(element) for element in one.mg_l)


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
     "more than the EC of your plain water"),
    ({"feed.strength": "300 %"}, "feed.strength", "between 5 % and 200 %"),
    ({"feed.own_target": [], "feed.target": "my recipe"}, "feed.target", "must be one of"),
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
    full |= design(way="bottles", **{"added.1.name": "potassium_nitrate", "added.1.mass": "5 g"}).answers.keys()
    assert [key for key in SPECS if key.startswith("feed.") and key not in full] == []
