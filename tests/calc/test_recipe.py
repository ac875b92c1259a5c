"""Salts and grams: what a salt holds, the masses that come nearest to an aim, and what conducts."""


import numpy as np
import periodictable
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from molmass import Formula
from scipy.optimize import nnls as library

from calc.data import salts, targets
from calc.data.salts import ELEMENTS, NH4, NO3
from calc.models import recipe
from calc.relations import feed as physics

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
