"""Light: factors against standard spectra, lamps whole and enough, and what must hold for any lamp at all."""

import math
import warnings

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.data import light as data
from calc.errors import OutOfRange
from calc.plan import Plan
from calc.relations import light as physics
from calc.render import rulers
from calc.render.extras import light as shown
from calc.solve import solve

with warnings.catch_warnings():
    # The library tells at import that drawing is not installed; nothing here draws.
    warnings.simplefilter("ignore")
    import colour

PPFD, HOURS = st.floats(0.0, 3000.0), st.floats(0.0, 24.0)
LAMPS = {"area_m2": st.floats(0.01, 1000.0), "hours": st.floats(0.1, 24.0), "photons_umol_s": st.floats(0.1, 20000.0),
         "share": st.floats(0.01, 1.0)}
NANOMETRES = range(380, 781)
PLANCK, LIGHT_SPEED, AVOGADRO = 6.62607015e-34, 299792458.0, 6.02214076e23
HOUR = 3600.0


def plan(**given_text):
    return solve(Plan({"light.by": "lamp", **{key.replace("__", "."): text for key, text in given_text.items()}}))


def spectrum(name):
    every = colour.SpectralShape(380, 780, 1)
    eye = colour.colorimetry.SDS_LEFS_PHOTOPIC["CIE 1924 Photopic Standard Observer"].copy().interpolate(every).values
    watts = colour.SDS_ILLUMINANTS[name].copy().interpolate(every).values
    plants = [(nm, w) for nm, w in zip(NANOMETRES, watts, strict=True) if 400 <= nm <= 700]
    photons = sum(w * nm * 1e-9 for nm, w in plants) / (PLANCK * LIGHT_SPEED * AVOGADRO) * 1e6
    lux = 683.002 * sum(w * seen for w, seen in zip(watts, eye, strict=True))
    return lux / photons, photons / sum(w for _, w in plants)


@pytest.mark.parametrize(("kind", "names", "within"), [
    ("sun", ("D50", "D55", "D65", "D75"), 0.04), ("sodium", ("HP1",), 0.05), ("fluorescent", ("FL2",), 0.04),
    ("white led", ("LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5"), 0.05),
])
def test_a_lux_factor_agrees_with_standard_spectra(kind, names, within):
    one = data.SOURCES[kind]
    for name in names:
        factor = spectrum(name)[0]
        assert one.lux_per_umol == pytest.approx(factor, rel=within), name
        assert one.low - 0.5 <= factor <= one.high + 0.5, name


@pytest.mark.parametrize("name", ["LED-V1", "LED-V2", "LED-BH1"])
def test_odd_white_leds_lie_in_the_range_that_is_told(name):
    assert data.SOURCES["white led"].low - 0.5 <= spectrum(name)[0] <= data.SOURCES["white led"].high + 0.5


def test_energy_of_lamp_light_agrees_with_standard_spectra():
    found = [spectrum(f"LED-B{number}")[1] for number in range(1, 6)]
    assert pytest.approx(sum(found) / len(found), rel=0.01) == data.LAMP_MOL_PER_MJ
    assert min(found) > 4.45 and max(found) < 4.95


@given(PPFD, HOURS, st.floats(0.0, 3.0))
def test_daily_light_grows_in_step_with_flux_and_with_hours(ppfd, hours, times):
    once = physics.daily_light(ppfd, hours)
    assert physics.daily_light(ppfd * times, hours) == pytest.approx(once * times, rel=1e-12, abs=1e-300)
    if hours * times <= 24.0:
        assert physics.daily_light(ppfd, hours * times) == pytest.approx(once * times, rel=1e-12, abs=1e-300)


@given(st.floats(0.0, 90.0), st.floats(0.1, 24.0))
def test_the_flux_for_a_daily_light_brings_it(dli, hours):
    flux = physics.flux_for_daily_light(dli, hours)
    assert physics.daily_light(flux, hours) == pytest.approx(dli, rel=1e-12)


@settings(max_examples=300)
@given(st.floats(0.0, 90.0), st.fixed_dictionaries(LAMPS))
def test_lamps_are_whole_and_enough_and_one_fewer_is_not(dli, lamp):
    count = physics.lamps_needed(dli, **lamp)
    assert isinstance(count, int) and count >= 0

    def brought(lamps):
        rest = {key: lamp[key] for key in ("photons_umol_s", "share", "area_m2")}
        return physics.daily_light(physics.flux_under_lamps(lamps=lamps, **rest), lamp["hours"])
    assert brought(count) >= dli * (1 - 1e-9) - 1e-12
    if count:
        assert brought(count - 1) < dli * (1 + 1e-9)


@given(st.floats(0.0, 90.0), st.floats(0.0, 90.0), st.fixed_dictionaries(LAMPS))
def test_more_light_never_takes_fewer_lamps(one, other, lamp):
    less, more = sorted((one, other))
    assert physics.lamps_needed(less, **lamp) <= physics.lamps_needed(more, **lamp)


@pytest.mark.parametrize("wrong", [
    lambda: physics.daily_light(-1.0, 16.0), lambda: physics.daily_light(200.0, 24.1),
    lambda: physics.flux_for_daily_light(14.0, 0.0), lambda: physics.flux_from_lux(1000.0, 39.0),
    lambda: physics.daily_light_of_sun(45.1), lambda: physics.daily_light_under_cover(20.0, 1.01),
    lambda: physics.lamp_photons(60.0, 5.86), lambda: physics.flux_under_lamps(1, 100.0, 0.7, 0.0),
    lambda: physics.lamps_needed(14.0, 1.0, 16.0, 0.0, 0.7), lambda: physics.lamps_needed(14.0, 1.0, 0.0, 100.0, 0.7),
    lambda: physics.lamps_needed(14.0, 1.0, 16.0, 100.0, 0.0), lambda: physics.daily_light(math.nan, 16.0),
])
def test_outside_its_range_a_relation_says_so(wrong):
    with pytest.raises(OutOfRange, match="[a-z] .*\\.$"):
        wrong()


def test_the_lamps_of_the_first_page_reach_the_aim():
    for system in ("us", "metric"):
        found = plan(units=system)
        wanted = (found.value("crops.dli_low") + found.value("crops.dli_high")) / 2
        assert found.value("light.dli") >= found.value("light.dli_target") == wanted
        assert found.value("light.power") == 65.0 * found.value("light.lamps") == 130.0
        assert found.value("light.energy_per_day") == pytest.approx(found.value("light.power") * 16 / 1000)
        assert found.value("light.hours_needed") <= 16 * HOUR


def test_light_from_lux_is_told_with_its_range():
    found = plan(light__by="lux", light__lux_reading="14000 lux", light__lux_source="white led", light__hours="10 h")
    assert found.value("light.ppfd") == pytest.approx(200.0)
    assert found.value("light.ppfd_low") < 200.0 < found.value("light.ppfd_high")
    assert found.value("light.dli") == pytest.approx(7.2)
    assert {"light-lux", "light-low"} <= {one.code for one in found.cautions}


def test_power_of_hung_lamps_waits_until_it_is_put_in():
    waiting = plan(light__by="ppfd")
    assert waiting.value("light.power") is None and "light.all_power" in waiting.waiting["light"]
    assert waiting.value("light.dli") == pytest.approx(200 * 16 * 0.0036)
    told = plan(light__by="ppfd", light__all_power="100 W")
    assert told.value("light.energy_per_day") == pytest.approx(1.6)


def test_sun_and_lamps_add_up_and_sun_saves_lamps():
    dark = plan(light__lamp_power="20 W")
    light = plan(light__lamp_power="20 W", light__sun="dli", light__outdoor="10", light__cover="60 %")
    assert light.value("light.dli_sun") == pytest.approx(6.0)
    assert light.value("light.dli") == pytest.approx(light.value("light.dli_lamps") + 6.0)
    assert light.value("light.lamps") < dark.value("light.lamps")
    bright = plan(light__sun="radiation", light__radiation="40", light__cover="100 %")
    assert bright.value("light.lamps") == 0 and bright.value("light.power") == 0.0
    assert "light-high" in {one.code for one in bright.cautions}


def test_no_lamps_need_no_power_and_no_caution_of_lamps():
    found = plan(light__by="none", light__sun="none")
    assert found.value("light.power") == 0.0 and found.value("light.energy_per_day") == 0.0
    assert found.value("light.dli") == 0.0
    assert not {"light-over-water", "light-eyes"} & {one.code for one in found.cautions}


def test_there_is_no_lamp_until_it_is_asked_for_and_the_aim_is_told_all_the_same():
    found = solve(Plan({}))
    assert found.value("light.dli_target") > 0.0 and found.value("light.lamps") == found.value("light.power") == 0
    assert found.value("energy.lamps_cost_per_year") == 0.0
    # What sun there is nobody said, so nothing is held against the aim, and no step that needs it is at fault.
    assert found.value("light.dli") is None and found.value("use.by_light") is None and not found.waiting
    told = found.verdicts["light"]
    assert told.state == "open" and found.shown("light.dli_target") in told.text
    assert not [one for one in found.cautions if one.topic == "light"]
    assert not [row for row in found.value("parts.shopping") if row["item"].startswith("Grow lamp")]
    # Beside a lamp, sun that nobody knows is not counted on.
    assert plan().value("light.dli_sun") == 0.0 and plan().value("light.dli") > 0.0


def test_lamps_too_many_for_a_circuit_are_warned_of():
    found = plan(light__have="30")
    assert found.value("light.power") == 30 * 65.0
    warned = next(one for one in found.cautions if one.code == "light-circuit")
    assert warned.level == "danger" and "1,440 W" in warned.text and "electrician" in warned.text


def test_a_typed_aim_rules_and_a_fault_in_it_is_told():
    assert plan(light__target="20").value("light.dli_target") == 20.0
    wrong = plan(light__target="200")
    assert "Daily light to aim for must be 70 mol/m²/d or less" in wrong.faults["light.target"]
    assert wrong.value("light.lamps") is None and wrong.value("light.dli_sun") == 0.0


def test_so_small_a_lamp_is_refused_with_a_sentence():
    found = plan(light__lamp_power="0.1 W", light__lamp_efficacy="0.1", light__share="1 %", light__target="70")
    assert found.faults["light.lamp_power"].startswith("Power of one lamp: so small a lamp")


def test_the_picture_and_tables_are_there_and_gone_without_numbers():
    page = shown.extra(plan())
    assert "High-pressure sodium" in page and "µmol/J" in page
    assert "aim 14.5" in rulers.light(plan(), True) and rulers.light(plan(light__target="200"), True) == ""


@settings(max_examples=60, deadline=None)
@given(st.fixed_dictionaries({
    "light.by": st.sampled_from(["lamp", "ppfd", "lux", "none"]),
    "light.hours": st.sampled_from(["0 h", "1 s", "24 h"]),
    "light.lamp_power": st.sampled_from(["0.1 W", "5000 W"]), "light.lamp_efficacy": st.sampled_from(["0.1", "5.85"]),
    "light.lamp_output": st.sampled_from(["", "0.1", "30000"]), "light.share": st.sampled_from(["1 %", "100 %"]),
    "light.have": st.sampled_from(["", "0", "100000"]), "light.ppfd_reading": st.sampled_from(["0", "3000"]),
    "light.lux_reading": st.sampled_from(["0 lux", "250000 lux"]),
    "light.lux_source": st.sampled_from(sorted(set(data.SOURCES) - {"sun"})),
    "light.sun": st.sampled_from(["none", "dli", "radiation"]), "light.outdoor": st.sampled_from(["0", "90"]),
    "light.radiation": st.sampled_from(["0", "45"]), "light.cover": st.sampled_from(["0 %", "100 %"]),
    "light.target": st.sampled_from(["", "0.5", "70"]), "light.area": st.sampled_from(["", "0.01 m2", "20000 m2"]),
    "units": st.sampled_from(["us", "metric"]),
}))
def test_extreme_answers_give_finite_numbers_or_a_sentence(text):
    found = solve(Plan(text))
    for key, answer in found.answers.items():
        if key.startswith("light.") and isinstance(answer.value, (int, float)):
            assert math.isfinite(answer.value) and answer.value >= 0, key
            assert "nan" not in found.shown(key)
    shown.extra(found)


def test_the_worked_case_of_the_guide_is_what_is_worked_out():
    found = plan(units="us", light__target="14 mol/m2/d", light__lamp_power="60 W")
    shown_texts = {key: found.shown("light." + key) for key in (
        "area_lit", "lamp_photons", "ppfd_needed", "lamps", "ppfd", "dli", "energy_per_day")}
    assert shown_texts == {"area_lit": "8 ft²", "lamp_photons": "132", "ppfd_needed": "243 µmol/m²/s", "lamps": "2",
                           "ppfd": "249 µmol/m²/s", "dli": "14.3 mol/m²/d", "energy_per_day": "1.92 kWh"}


@pytest.mark.parametrize("have, words", [("0", "2 more are needed."), ("1", "1 more is needed."),
                                         ("2", "they are enough.")])
def test_lamps_that_are_lacking_are_counted_in_good_english(have, words):
    # The default raft asks for 2 lamps of 65 W.
    found = plan(light__have=have)
    assert found.value("light.lamps_needed") == 2
    assert found.value("light.owned_words") == f"You have {have} of the 2 lamps needed: {words}"
