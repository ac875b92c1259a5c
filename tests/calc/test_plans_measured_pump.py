"""A pump by its measured points, filled through the floor: plans worked by hand or by other code."""

from math import pi

import fluids
import numpy as np
import pytest
from scipy import optimize

from tests.calc.whole import LITRE, WATER_20_C, G, changed, check, codes, plan

# --- a pump by its measured points, filled through the floor -------------------------------------------------------


def test_measured_curve():
    # Straight lines between the points are what the eye would lay; the curve used goes through the points too, so at
    # the flow where it runs, its head is between those of the neighbors.
    design = plan("measured_curve")
    flow = design.value("circulation.flow") * 3.6e6
    head = design.value("circulation.head")
    bore = 0.013
    def asked(litres):
        speed = litres / 3.6e6 / (pi / 4 * bore**2)
        reynolds = WATER_20_C * speed * bore / 1.0016e-3
        factor = fluids.friction_factor(Re=reynolds, eD=1.5e-6 / bore, Method="Colebrook")
        # 1/2 in elbows K 2.1 each, the exit, and a ball valve fully open, 3 times 0.02554.
        return 1 + (factor * 20 / bore + 2 * 2.1 + 1.0 + 3 * 0.02554) * speed**2 / (2 * G)
    assert head == pytest.approx(asked(flow), rel=2e-3)
    line = optimize.brentq(lambda q: np.interp(q, [0, 500, 900, 1200], [3, 2, 1, 0]) - asked(q), 1, 1199)
    assert flow == pytest.approx(line, rel=0.05)
    # Between 2 and 3 m of head the points leave 0 to 500 L/h; 2 /h of 180 L are 360 L/h wanted.
    speed = flow / 3.6e6 / (pi / 4 * bore**2)
    check(design, circulation__target_flow=360 / 3.6e6, circulation__velocity=speed,
          circulation__fitting_loss=(2 * 2.1 + 1 + 3 * 0.02554) * speed**2 / (2 * G),
          circulation__hydraulic_power=(WATER_20_C * G * flow / 3.6e6 * head, 1e-5),
          circulation__turnover=flow / 180 / 3600)
    assert circulation_sum(design) == pytest.approx(head, rel=1e-6)


def circulation_sum(design):
    return 1 + design.value("circulation.friction") + design.value("circulation.fitting_loss")


def test_measured_curve_floods():
    # Filled through an inlet 5 cm up: 20 cm of 0.72 m2 run back, 144 L, with 20 m of 13 mm hose, 2.65 L; 20 L of room.
    design = plan("measured_curve")
    hose = pi / 4 * 0.13**2 * 200
    check(design, water__drain_back_volume=(144 + hose) * LITRE, water__depth_after_stop=0.05,
          water__reservoir_headroom=20e-3, outage__bath_kept=36e-3,
          water__drain_back_rim=(0.72 * 12 + hose) * LITRE)
    assert {"drain-back-flood", "outage-flood", "roots-dry"} <= codes(design)
    # Over the rim only the film's 8.64 L and the hose come back, 11.3 of 20 L.
    over = changed("measured_curve", bath__fill="rim")
    assert not codes(over) & {"drain-back-flood", "outage-flood", "roots-dry", "check-valve"}
    check(over, outage__room_left=(20 - 8.64 - hose) * LITRE, outage__bath_kept=0.72 * 0.238)
    valve = changed("measured_curve", bath__fill="floor with check valve")
    assert {"check-valve", "valve-flood"} <= codes(valve) and "drain-back-flood" not in codes(valve)


def test_measured_curve_hose_speed():
    # 1.5 m/s is usual: through 13 mm that is 717 L/h.
    assert "hose-speed" not in codes(plan("measured_curve"))
    short = changed("measured_curve", circulation__hose_length="1 m", circulation__lift="10 cm")
    assert ("hose-speed" in codes(short)) == (short.value("circulation.velocity") > 1.5)
    assert short.value("circulation.velocity") > 1.5
