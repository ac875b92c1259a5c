"""Baths without a reservoir, and without air: nothing of what is absent is asked, worked out, warned of or bought."""

import re

import pytest

from calc.plan import FIELDS, TABLES, Plan
from calc.render import page
from calc.solve import solve

AERATED, STILL = {"water.scheme": "aerated"}, {"water.scheme": "still"}


def design(*parts, **more):
    typed = {key: text for part in parts for key, text in part.items()}
    return solve(Plan({**typed, **{key.replace("__", "."): text for key, text in more.items()}}))


def words_of(found) -> str:
    """All that the page says of a design: cautions, lists, answers; questions are told by what is asked."""
    texts = [one.text for one in found.cautions] + [str(row) for row in found.value("parts.shopping")]
    # The formula of the balance is that of two bodies of water; its numbers name what is 0 here.
    put_in = re.compile(r'<ul class="put-in">.*?</ul>', re.S)
    texts += [re.sub(r"<[^>]+>", " ", put_in.sub(" ", html)) for html in page.everything(found).values()]
    return " ".join(texts).lower()


@pytest.mark.parametrize("scheme", [AERATED, STILL])
def test_without_a_reservoir_nothing_of_it_is_asked_or_answered(scheme):
    found = design(scheme)
    asked = {key for key, field in FIELDS.items() if found.plan.asked(field)}
    asked |= {key for key, table in TABLES.items() if found.plan.asked(table)}
    assert not [key for key in asked if key.startswith(("reservoir.", "circulation.")) or "reservoir" in key]
    assert not asked & {"bath.fill", "bath.film", "heat.pump_share", "energy.flood_minutes", "air.aerated"}
    assert not [key for key in found.answers if "reservoir" in key or key.startswith(("circulation.", "water.drain"))]
    assert not found.faults and not found.waiting
    for word in ("reservoir", "overflow", "water pump", "runs back"):
        assert word not in words_of(found), word
    # By hand: 48 x 24 x 10 in over 231 is 49.87 gal, and there is no more water than that.
    assert found.value("water.working_volume") / 3.785411784e-3 == pytest.approx(48 * 24 * 10 / 231)


def test_without_air_nothing_of_it_is_asked_answered_or_bought():
    found = design(STILL)
    assert not [key for key, field in FIELDS.items() if found.plan.asked(field) and key.startswith(("air.", "outage."))]
    assert not [key for key in found.answers if key.startswith(("air.", "outage."))]
    assert found.value("energy.power") == 0.0
    for word in ("air pump", "air stone", "battery"):
        assert word not in words_of(found), word


def test_a_still_bath_says_how_few_roots_its_surface_feeds():
    """By hand, at 20 C and 1 atm: 1 m2 of open water at 0.3 m/d brings 12.5 L/h; times 9.09 less 2 mg/L, 88 mg/h.

    A head with 1 g of roots at 4.6 mg/g/h takes 4.6, the 248 L of water 0.05 mg/L/h: (88 - 12.4) / 4.6 is 16.
    """
    plan = {"units": "metric", "bath.length": "1 m", "bath.width": "1 m", "bath.depth": "30 cm",
            "bath.water_depth": "24.8 cm", "oxygen.hottest": "20 C", "oxygen.conductivity": "0 mS/cm",
            "oxygen.plants": "60", "place.altitude": "0 m", "board.clearance": "1 mm", "bath.count": "1"}
    found = design(STILL, plan)
    share_open = 1 - found.value("board.cover")
    expected = int((12.5 * (9.09 - 2) * share_open - 0.05 * 248) / 4.6)
    assert found.value("oxygen.surface_plants") == max(expected, 0) == 0
    assert "oxygen-still" in {one.code for one in found.cautions}
    # With half of the water open it feeds some.
    half = design(STILL, plan, {"board.clearance": "15 cm"})
    by_hand = (12.5 * (9.09 - 2) * (1 - half.value("board.cover")) - 0.05 * 248) / 4.6
    assert half.value("oxygen.surface_plants") == pytest.approx(by_hand, abs=1)
    assert half.value("oxygen.surface_plants") >= 5
    assert "oxygen-still" not in {one.code for one in design(STILL, plan, {"board.clearance": "15 cm",
                                                                           "oxygen.plants": "3"}).cautions}


def test_one_vessel_says_how_far_its_water_falls():
    found = design(AERATED, use__basis="own", use__litres_per_plant="150 mL", oxygen__plants="20", use__fall="2 in")
    # 20 x 150 mL is 3 L a day; over 48 x 24 in (0.7432 m2) that is 4.04 mm; 2 in (37.75 L) last 12.6 days.
    assert found.value("use.fall_per_day") == pytest.approx(0.003 / 0.74322432, rel=1e-6)
    assert found.value("use.days_to_top_up") / 86400 == pytest.approx(48 * 24 * 2 / 231 * 3.785411784 / 3, rel=1e-6)
    assert "less than the water depth" in design(AERATED, use__fall="12 in").faults["use.fall"]


def test_no_air_is_an_answer_and_what_follows_uses_it():
    none = design(air__rule="own", air__own_rate="0 L/min/gal")
    assert none.value("air.target") == none.value("air.delivered") == none.value("air.power") == 0.0
    assert none.value("air.pumps_chosen") == [] and "air.own_rate" not in none.faults
    # Only the surface and what still is pumped round: the bath ends near where roots stop, as a still one does.
    assert none.value("oxygen.bath") == pytest.approx(design(STILL).value("oxygen.bath"), abs=0.1)
    empty = design({f"air.pumps.{row}.name": "" for row in range(1, 20)})
    assert empty.value("air.delivered") == 0.0 and "air-no-pump" in {one.code for one in empty.cautions}


def test_the_hottest_hour_is_the_days_own():
    """One bath is not 70 F and 77 F at once: the air is sized for the day that it itself cools."""
    found = design()
    assert found.value("oxygen.hottest_used") == pytest.approx(found.value("heat.high"), abs=0.05)
    assert "settled in" in found.answers["oxygen.hottest_used"].note
    typed = design(oxygen__hottest="80 F")
    assert typed.shown("oxygen.hottest_used") == "80 °F"
    assert "overrules" in typed.answers["oxygen.hottest_used"].note
    assert typed.value("air.oxygen_need") > found.value("air.oxygen_need")


def test_the_settled_air_and_temperature_agree_with_each_other():
    for place in ("summer greenhouse", "heated room"):
        found = design(place__setting=place)
        again = design(place__setting=place, oxygen__hottest=f"{found.value('oxygen.hottest_used'):.6f} C")
        assert again.value("air.delivered") == pytest.approx(found.value("air.delivered"), rel=1e-6), place
        assert again.value("heat.high") == pytest.approx(found.value("oxygen.hottest_used"), abs=0.06), place


def test_without_a_day_a_stated_temperature_is_taken():
    found = design(place__air_high="wet")
    assert found.shown("oxygen.hottest_used") == "77 °F"
    assert "No day could be worked out" in found.answers["oxygen.hottest_used"].note


def test_lamps_warm_the_water():
    dark, lit = design(light__by="none"), design(light__by="ppfd", light__ppfd_reading="600 µmol/m2/s")
    assert lit.value("heat.high") > dark.value("heat.high") + 0.2
    # By hand: 600 µmol/m2/s over 4.7 µmol/J is 127.7 W/m2.
    lamps = {row["way"]: row["energy"] for row in lit.value("heat.streams")}["Light of the lamps"]
    assert 0.0 < lamps < 127.7 * lit.value("light.area_lit") * 16 / 1000


def test_roots_are_counted_by_the_calendars_heaviest_week():
    found, every = design(), design(oxygen__crop="crops")
    assert found.value("oxygen.plant_count") < every.value("oxygen.plant_count") == found.value("board.sites")
    assert found.value("air.oxygen_likely") < every.value("air.oxygen_likely")
    # One sowing for the whole raft: on its last day every plant is full-grown.
    once = design(schedule__weeks="1", schedule__every="60", schedule__start="2027-03-01")
    batch = once.value("schedule.batches")[0]["plants"]
    assert once.value("schedule.grown_plants") == pytest.approx(batch)


def test_grown_roots_by_hand():
    """Butterhead that stays 24 days, as typed; sown every 8 days, three batches stand side by side.

    A root grows from 0.15 to 1.0 g evenly on a logarithmic scale: on the day before the cut the batches are 24, 16 and
    8 days old, so each plant has 1, (0.15)^(1/3) = 0.531 and (0.15)^(2/3) = 0.282 of a full root.
    """
    found = design({"crops.rows.1.crop": "butterhead", "crops.rows.1.raft_days": "24"}, schedule__every="8",
                   schedule__pace="slow")
    rows = {row["crop"]: row for row in found.value("schedule.per_crop")}
    assert rows["butterhead"]["raft_days"] == 24
    plants = rows["butterhead"]["plants"]
    assert found.value("schedule.grown_plants") == pytest.approx(plants * (1 + 0.15 ** (1 / 3) + 0.15 ** (2 / 3)),
                                                                 rel=1e-9)


def test_an_own_pump_counts_first_and_is_not_bought():
    row = {"air.pumps.5.name": "Mine", "air.pumps.5.free_flow": "30 L/min", "air.pumps.5.shutoff": "30 kPa",
           "air.pumps.5.power": "18 W", "air.pumps.5.owned": "1"}
    found = design(row)
    assert found.value("air.pumps_chosen") == []
    assert [one["name"] for one in found.value("air.pumps_running")] == ["Mine"]
    assert found.value("air.power") == 18.0
    assert "enough" in found.value("air.owned_words") and "times" in found.value("air.owned_words")
    assert not [line for line in found.value("parts.shopping") if line["item"].startswith("Air pump")]
    # Example pumps step back once there is a real one.
    assert {one["name"] for one in found.value("air.pump_flows")} == {"Mine"}
    small = design({**row, "air.pumps.5.free_flow": "1 L/min"})
    assert "not enough" in small.value("air.owned_words")


def test_a_pump_near_its_shut_off_is_no_choice_without_a_caution():
    weak = {"air.pumps.5.name": "Weak", "air.pumps.5.free_flow": "60 L/min", "air.pumps.5.shutoff": "3.6 kPa",
            "air.pumps.5.power": "1 W"}
    strong = {"air.pumps.6.name": "Strong", "air.pumps.6.free_flow": "20 L/min", "air.pumps.6.shutoff": "30 kPa",
              "air.pumps.6.power": "20 W"}
    alone, both = design(weak), design(weak, strong)
    assert "air-pump-strained" in {one.code for one in alone.cautions}
    assert {one["name"] for one in both.value("air.pumps_chosen")} == {"Strong"}
    assert "air-pump-strained" not in {one.code for one in both.cautions}


def test_fewer_pumps_are_preferred_where_watts_hardly_differ():
    small = {"air.pumps.5.name": "Small", "air.pumps.5.free_flow": "2 L/min", "air.pumps.5.shutoff": "30 kPa",
             "air.pumps.5.power": "2 W"}
    large = {"air.pumps.6.name": "Large", "air.pumps.6.free_flow": "8 L/min", "air.pumps.6.shutoff": "30 kPa",
             "air.pumps.6.power": "9 W"}
    found = design(small, large, air__rule="own", air__own_rate="0.1 L/min/gal", air__hose_length="1 ft")
    # 6.6 L/min: four small ones draw 8 W, one large 9 W; three plugs more are not worth a watt.
    assert [(one["name"], one["quantity"]) for one in found.value("air.pumps_chosen")] == [("Large", 1)]


def test_a_floor_has_a_stone_for_each_stated_area():
    # 48 x 24 in is 8 square feet: two stones at 4 each, however little air there is.
    found = design(air__rule="own", air__own_rate="0.01 L/min/gal")
    assert found.value("air.stones_per_bath") == 2
    assert design(air__stone_area="1 ft2").value("air.stones_per_bath") == 8
