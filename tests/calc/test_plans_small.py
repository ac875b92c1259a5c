"""A tote, a bucket and a crate of still water: plans worked by hand or by other code."""

from math import ceil, log, pi

import pytest

from tests.calc.whole import (
    FOOT, GALLON, GALLON_IN3, INCH, LITRE, POUND, WATER_20_C, G, changed, check, codes, levels, plan)

# --- a US tote on an air stone -------------------------------------------------------------------------------------


def test_us_tote_water():
    # Walls taper evenly, so at 12 of 16 in the sides have gone three quarters of the way: 35 by 17 in; at half the
    # water's depth 33.5 by 15.5. Prismoidal rule: 12/6 (32*14 + 4*33.5*15.5 + 35*17) = 2 * 3120 = 6240 in3.
    volume = 12 / 6 * (32 * 14 + 4 * 33.5 * 15.5 + 35 * 17)
    assert volume == 6240
    check(plan("us_tote"), water__bath_volume=volume / GALLON_IN3 * GALLON, water__working_volume=volume * INCH**3,
          water__opening_length=35 * INCH, water__opening_width=17 * INCH, water__surface_area=35 * 17 * INCH**2,
          water__footprint=32 * 14 * INCH**2, water__rim_to_water=4 * INCH)


def test_us_tote_weight():
    # 27.013 gal at 8.3304 lb (998.2 kg/m3) and the 10 lb tote: 235.03 lb on 32 x 14 in, which is 75.5 psf.
    pounds = 6240 / GALLON_IN3 * (WATER_20_C * GALLON / POUND) + 10
    psf = pounds / (32 * 14 / 144)
    assert pounds == pytest.approx(235.03, abs=0.02) and psf == pytest.approx(75.5, abs=0.1)
    check(plan("us_tote"), water__bath_mass=(pounds * POUND, 1e-5),
          water__floor_pressure=(psf * POUND * G / FOOT**2, 1e-5),
          water__room_pressure=(pounds / 100 * POUND * G / FOOT**2, 1e-5))
    # 75 psf is over the 40 allowed where it stands, but 2.35 psf over a 100 ft2 room is not.
    assert levels(plan("us_tote"))["floor-load"] == "warning"
    assert levels(changed("us_tote", bath__room_area="5 ft2"))["floor-load"] == "danger"
    assert "floor-load" not in codes(changed("us_tote", bath__floor_allowance="76 psf"))
    assert "floor-load" in codes(changed("us_tote", bath__floor_allowance="75 psf"))
    assert "floor-load" not in codes(changed("us_tote", bath__stands_on="ground"))


def test_us_tote_board():
    # 1/4 in at each side leaves 34 1/2 by 16 1/2 in. Holes keep 1 1/2 in of foam at the edge: centers within
    # 34.5 - 3 - 1.875 = 29.625 by 11.625 in, so 4 by 2 of them 8 in apart.
    area_ft2 = 34.5 * 16.5 / 144
    holes_ft2 = 8 * pi / 4 * (1.875 / 12) ** 2
    check(plan("us_tote"), board__raft_length=34.5 * INCH, board__raft_width=16.5 * INCH, board__sites=8,
          board__count=1, board__area=area_ft2 * FOOT**2, board__site_density=8 / area_ft2 / FOOT**2,
          board__hole_share=holes_ft2 / area_ft2, board__web=(8 - 1.875) * INCH,
          board__cover=34.5 * 16.5 / (35 * 17), board__hole_diameter=1.875 * INCH)
    # Sheet of 96 by 24 in: two boards of 34.5 in end to end (one cut of 1/8 in), or, turned, five strips of 16.5 in
    # do not fit 24 in of width with their 34.5 in. So two, and one sheet is enough; 2 * 4 * 12 = 16 ft2 of foam.
    check(plan("us_tote"), board__pieces_per_sheet=2, board__sheets=1, board__waste=1 - area_ft2 / 16)


def test_us_tote_floats():
    # Archimedes in pounds: foam of 25 kg/m3 is 1.5607 lb/ft3, water of 20 C 62.316 lb/ft3.
    foam, water, thick = 25 * FOOT**3 / POUND, WATER_20_C * FOOT**3 / POUND, 1.5 / 12
    area = 34.5 * 16.5 / 144
    solid = area - 8 * pi / 4 * (1.875 / 12) ** 2
    load = 8 * (6 + 2) / 16
    board = solid * thick * foam
    draught = (board + load) / (solid * water)
    spare = solid * thick * (water - foam) - load
    # 4 lb of plants on 0.74 lb of foam: it floats 0.24 in deep, 1.26 in above the water, and could carry 24.9 lb more.
    assert (board, spare) == pytest.approx((0.741, 24.86), abs=0.01)
    check(plan("us_tote"), board__mass=((board + load) * POUND, 1e-5), board__draught=(draught * FOOT, 1e-5),
          board__freeboard=((thick - draught) * FOOT, 1e-5), board__spare_load=(spare * POUND, 1e-5),
          board__load=(load / area * POUND / FOOT**2, 1e-5),
          board__capacity=(thick * (water - foam) * solid / area * POUND / FOOT**2, 1e-5),
          # XPS of Type IV may drink 0.3 % of its volume.
          board__draught_soaked=((solid * thick * (foam + 0.003 * water) + load) / (solid * water) * FOOT, 1e-5))
    # R 5 an inch for 1 1/2 in; 1 ft2 F h/Btu is 0.17611 m2 K/W.
    assert plan("us_tote").value("board.r_value") == "R 7.5 (US), RSI 1.32 m² K/W"
    assert not codes(plan("us_tote")) & {"raft-sinks", "raft-awash", "raft-heels", "heavy-board"}


def test_us_tote_half_harvested():
    # Half the load on one half: mean depth with half of it, and a tilt whose righting moment, rho g L W^3/12 times the
    # slope, is the load's (P/2) W/4. At the edge, W/2 away, that is three quarters of the depth the load alone makes.
    foam_depth = 25 * 1.5 / WATER_20_C
    alone = plan("us_tote").value("board.draught") / INCH - foam_depth
    check(plan("us_tote"), board__edge_draught=((foam_depth + alone * 1.25) * INCH, 1e-5))


def test_us_tote_air():
    # The stone lies 11 in deep: 11 in of water, 0.998 of that at 39 F.
    pascal = 11 * INCH * WATER_20_C * G
    check(plan("us_tote"), air__stone_depth=11 * INCH, air__water_pressure=(pascal, 1e-5), air__pump_count=1,
          air__power=6, air__stones=1, air__check_valves=1, air__manifolds=1, air__hose_total=6 * FOOT, air__price=0,
          air__delivered_one_dead=0)
    # A straight curve from 10 L/min at nothing to none at 20 kPa, against 11 in of water, the wet stone and the hose.
    through = (20e3 - pascal - 1e3) / 20e3 * 10
    got = plan("us_tote").value("air.delivered") * 60 / LITRE
    assert 0.97 * through < got < through
    # Growers' practice: 28 L for each gallon as the optimum, 15 as the floor, a minute or an hour.
    gallons = 6240 / GALLON_IN3
    check(plan("us_tote"), air__optimum_per_minute=gallons * 28 * LITRE / 60, air__floor_per_minute=gallons * LITRE / 4,
          air__optimum_per_hour=gallons * 28 * LITRE / 3600, air__floor_per_hour=gallons * 15 * LITRE / 3600)


def test_us_tote_oxygen():
    # Fresh water of 20 C under one atmosphere holds 9.09 mg/L, of 25 C 8.26 (USGS tables after Benson & Krause).
    # Half a thousandth of salt takes some 0.3 % away for each g/L.
    got = plan("us_tote").value("oxygen.saturation") * 1.0
    assert 9.00 < got < 9.09
    fresh = changed("us_tote", oxygen__conductivity="0")
    check(fresh, oxygen__saturation=(9.09, 1e-3), place__air_pressure=101325, oxygen__plant_count=8)
    # One mixed vessel, no circulation: what bubbles and surface bring is what roots and water take.
    design = plan("us_tote")
    intake = design.value("oxygen.transfer_bath") * 3600 * 6240 * INCH**3 / LITRE
    demand = design.value("oxygen.demand")
    # Eight heads with 1 g of dry root each at 4.6 mg/g an hour, and 102 L at 0.05 mg/L an hour.
    litres = 6240 * INCH**3 / LITRE
    assert demand == pytest.approx(8 * 1.0 * 4.6 + litres * 0.05, rel=1e-6)
    # In steady state: level = limit - demand / intake, the limit somewhere from the surface's to the bubbles'.
    low, high = got - demand / intake, got * (1 + 0.5 * 11 * INCH * WATER_20_C * G / 101325) - demand / intake
    assert low < design.value("oxygen.bath") < high


def test_us_tote_use_and_power():
    # Eight plants at 6 fl oz are 48 fl oz, 3/8 gal, a day. Two inches down, the walls stand at 34.5 by 16.5 in
    # (a step of 1/4 in for each inch): the prismoid between is 2/6 (35*17 + 4*34.75*16.75 + 34.5*16.5).
    gone = 2 / 6 * (35 * 17 + 4 * 34.75 * 16.75 + 34.5 * 16.5)
    day = 48 / 128 * GALLON_IN3
    check(plan("us_tote"), use__per_day=day * INCH**3, use__per_plant=6 / 128 * GALLON, use__usable=gone * INCH**3,
          use__fall_per_day=day / (35 * 17) * INCH, use__days_to_top_up=gone / day * 86400)
    # 13.4 days: enough for 10 away, not for 14, and 15 gal used up in a day would be dry within one.
    assert gone / day == pytest.approx(13.44, abs=0.01)
    assert "use-away" not in codes(plan("us_tote")) and "use-away" in codes(changed("us_tote", use__holiday="14 d"))
    assert "use-thirsty" in codes(changed("us_tote", use__litres_per_plant="1 gal"))
    # 6 W of air and 20 W of extras: 26 W * 8.76 kh = 227.76 kWh, at 17 cents $38.72. Two lamps of 65 W for 16 h:
    # 2.08 kWh a day, 759.2 a year, $129.06.
    check(plan("us_tote"), energy__power=26, energy__per_day=0.624, energy__per_year=227.76,
          energy__cost_per_year=38.7192, light__power=130, light__energy_per_day=2.08, energy__lamps_per_year=759.2,
          energy__lamps_cost_per_year=129.064, energy__all_cost_per_year=167.7832, energy__circuit_limit=1440,
          energy__circuit_share=156 / 1440)


def test_us_tote_light():
    # 65 W * 2.2 = 143 umol/s a lamp; two of them, 70 % of it, on 595 in2: 200.2 / 0.38387 = 521.5 umol/m2/s.
    lit = 35 * 17 * INCH**2
    flux = 2 * 143 * 0.7 / lit
    check(plan("us_tote"), light__area_lit=lit, light__lamp_photons=143, light__ppfd=flux,
          light__dli=flux * 16 * 3600e-6, light__dli_target=14, light__dli_share=flux * 16 * 3600e-6 / 14,
          # One lamp makes 15 mol/m2/d, more than the 14 aimed for.
          light__lamps_needed=1, light__lamps=2, light__hours_needed=14e6 / flux,
          light__ppfd_needed=14e6 / (16 * 3600))
    assert "light-high" in codes(plan("us_tote")) and "light-high" not in codes(changed("us_tote", light__have="1"))


def test_metric_twin_has_the_same_answers():
    one, two = plan("us_tote"), plan("us_tote_in_metric")
    assert one.faults == two.faults == {}
    # Defaults are round in each system, so only what stands on typed sizes is the same.
    keys = ["water.bath_volume", "water.mass", "water.surface_area", "water.floor_pressure", "board.sites",
            "board.area", "board.hole_share", "board.draught", "board.spare_load", "board.mass", "board.edge_draught",
            "board.sheets", "board.waste", "light.ppfd", "light.dli", "use.per_day", "use.usable", "use.fall_per_day",
            "use.days_to_top_up", "energy.per_year", "energy.cost_per_year", "energy.lamps_cost_per_year",
            "energy.circuit_share", "oxygen.demand", "air.stone_depth", "air.water_pressure", "place.air_pressure"]
    for key in keys:
        assert one.value(key) == pytest.approx(two.value(key), rel=1e-6), key
    assert one.shown("water.bath_volume").endswith(" gal") and two.shown("water.bath_volume").endswith(" L")


# --- a bucket with one basil ---------------------------------------------------------------------------------------


def test_bucket_water_and_raft():
    # 27 of 36 cm up, the bucket is 29 cm wide. Cone between 26 and 29 cm: pi/12 h (D^2 + D d + d^2).
    litres = pi / 12 * 2.7 * (2.9**2 + 2.9 * 2.6 + 2.6**2)
    check(plan("bucket"), water__bath_volume=litres * LITRE, water__opening_length=0.29,
          water__surface_area=pi / 4 * 0.29**2, water__footprint=pi / 4 * 0.26**2, board__diameter=0.28,
          board__sites=1, board__area=pi / 4 * 0.28**2, board__cover=(0.28 / 0.29) ** 2)
    # 450 g in a disc of 616 cm2 with a hole of 38.5 cm2: 577 cm2 * 4 cm * 0.025 g/cm3 = 57.7 g of foam.
    solid = pi / 4 * (28**2 - 7**2)
    foam = solid * 4 * 0.025
    check(plan("bucket"), board__mass=((450 + foam) / 1000, 1e-6),
          board__draught=((450 + foam) / (solid * WATER_20_C / 1000) / 100, 1e-5),
          board__spare_load=((solid * 4 * (WATER_20_C / 1000 - 0.025) - 450) / 1000, 1e-5))
    # A whole disc tilts by pi R^4/4 under half the load at 4R/3pi: 8/3pi of the load's own depth at the edge.
    dry = 4 * 0.025 / (WATER_20_C / 1000)
    alone = 450 / (solid * WATER_20_C / 1000)
    check(plan("bucket"), board__edge_draught=((dry + alone * (0.5 + 8 / (3 * pi))) / 100, 1e-5))
    assert "raft-sinks" not in codes(plan("bucket"))
    # 577 cm2 * 4 cm * 0.973 g/cm3 is 2.25 kg: one more than that sinks.
    assert levels(changed("bucket", board__plant_mass="2.2 kg"))["raft-sinks"] == "warning"
    assert "raft-awash" in codes(changed("bucket", board__plant_mass="1.9 kg"))
    assert not codes(changed("bucket", board__plant_mass="1.6 kg")) & {"raft-awash", "raft-sinks"}


def test_bucket_strength_of_the_top_up():
    # Half strength: 0.4 + 0.5 (1.6 - 0.4) = 1.0 mS/cm. What holds the nutrients: 0.4 + 1.0 = 1.4.
    check(plan("bucket"), use__topup_ec=1.0, use__hold_ec=1.4, use__per_day=0.4e-3)
    # Three days away are 1.2 L of 16.06: nutrients 1.2 mS/cm in 16.06 L less 1.2 L taken at 1.0, in 14.86 L.
    litres = pi / 12 * 2.7 * (2.9**2 + 2.9 * 2.6 + 2.6**2)
    left = (1.2 * litres - 1.2 * 1.0) / (litres - 1.2)
    check(plan("bucket"), use__holiday_nutrients=left, use__holiday_ec=left + 0.4 * litres / (litres - 1.2))


def test_bucket_four_weeks_of_topping_up_counted_one_by_one():
    design = plan("bucket")
    litres = pi / 12 * 2.7 * (2.9**2 + 2.9 * 2.6 + 2.6**2)
    # 6 cm may be used: the cone above 21 cm, where it is 26 + 4 * 21/36 cm wide.
    narrow = 2.6 + 0.4 * 21 / 36
    usable = pi / 12 * 0.6 * (2.9**2 + 2.9 * narrow + narrow**2)
    check(design, use__usable=usable * LITRE, use__days_to_top_up=usable / 0.4 * 86400)
    times = ceil(28 / (usable / 0.4))
    drunk = 0.4 * 28 / times
    grams, salt = 1.2 * litres, 0.4 * litres
    plain, plain_salt = grams, salt
    for _ in range(times):
        grams, salt = grams - drunk * 1.0 + drunk * 0.6, salt + drunk * 0.4
        plain, plain_salt = plain - drunk * 1.0, plain_salt + drunk * 0.4
    check(design, use__ec_feed=((grams + salt) / litres, 1e-6))
    if plain / litres > 0.5:
        check(design, use__ec_plain=((plain + plain_salt) / litres, 1e-6))


def test_bucket_light_by_lux():
    # A white LED makes 70 lux of each umol (53 to 73): 14,000 lux are 200, from 191.8 to 264.2 umol/m2/s.
    check(plan("bucket"), light__ppfd=200, light__ppfd_low=14000 / 73, light__ppfd_high=14000 / 53,
          light__dli_lamps=200 * 16 * 0.0036, light__energy_per_day=0.32, energy__lamps_cost_per_year=0.32 * 365 * 0.3)
    assert levels(plan("bucket"))["light-lux"] == "note"


def test_bucket_citric_acid_is_eaten():
    # Once microbes have eaten the acid, the water is what it was: 100 mg/L are 1.998 meq/L in balance with 420 ppm.
    # Alkalinity in the air, without carbonate and hydroxide: [HCO3-] = K1 KH pCO2 / [H+], at 20 C pK1 + pKH = 7.79.
    bicarbonate = 100 / 50.0435
    rough = 7.79 + log(bicarbonate * 1e-3 / 420e-6) / log(10)
    assert plan("bucket").value("acidity.eaten_ph") == pytest.approx(rough, abs=0.1)
    assert {"acidity-citric", "acidity-rebound"} <= codes(plan("bucket"))
    check(plan("bucket"), acidity__alkalinity_charge=(1.998, 1e-3))


# --- a crate of still water ----------------------------------------------------------------------------------------


def test_still_crate():
    design = plan("still_crate")
    # 60 x 40 x 20 cm are 48 L. Centers within 59 - 8 - 4.5 = 46.5 by 26.5 cm: 3 by 2 sites 20 cm apart.
    check(design, water__bath_volume=48e-3, board__sites=6, board__raft_length=0.59, board__raft_width=0.39,
          board__cover=0.59 * 0.39 / 0.24, water__leg_load=((48 * WATER_20_C / 1000 + 2) / 4, 1e-5),
          # 40 mm of 24 dm2 are 9.6 L; six plants at 100 mL drink 0.6 L, so 16 days; 2.5 mm a day.
          use__usable=9.6e-3, use__per_day=0.6e-3, use__days_to_top_up=16 * 86400, use__fall_per_day=2.5e-3,
          # Half of 30 mol/m2/d come in; 14 are wanted.
          light__dli_sun=15, light__dli=15, light__dli_share=15 / 14, light__power=0, energy__lamps_per_year=0)
    assert "use-away" not in codes(design)
    assert "use-away" in codes(changed("still_crate", use__holiday="17 d"))
    for absent in ("air.delivered", "circulation.flow", "water.reservoir_volume", "water.drain_back_volume"):
        assert design.value(absent) is None
    assert {"oxygen-still"} <= codes(design)
    # Half full-grown roots: 0.4 g at 4.6 mg/g an hour and plant, and 48 L at 0.05 mg/L.
    check(design, oxygen__demand=6 * 0.4 * 4.6 + 48 * 0.05)
