"""Rafts and trials in print, as plans: each figure within what the printed one allows, or told apart with a reason."""

import pytest

from calc.plan import FIELDS, TABLES
from calc.solve import SPECS
from tests import published

BUILDS = published.builds()
FIGURES = [(build, row) for build in BUILDS for row in build.rows if not (row.lacks or row.refused)]
REFUSED = [(build, row) for build in BUILDS for row in build.rows if row.refused]


def named(pair):
    return f"{pair[0].key}: {pair[1].quantity}"


@pytest.mark.parametrize("pair", FIGURES, ids=named)
def test_figure(pair):
    build, row = pair
    value = published.got(build, row)
    assert value is not None, f"the plan gives no {row.result or row.by}: {dict(published.design(build, row).faults)}"
    # A row that differs must go on differing: mended, it loses its reason.
    assert published.within(row, value) == (not row.differs), (
        f"{value} beside {row.published} {row.unit}, of which {row.low} to {row.high} is allowed ({row.why})")
    assert not row.says or row.says in {one.code for one in published.design(build, row).cautions}


@pytest.mark.parametrize("pair", REFUSED, ids=named)
def test_what_is_refused_is_told(pair):
    build, row = pair
    assert published.got(build, row) is None
    assert row.quantity.split(",")[0].split(" with")[0] in published.design(build, row).faults[row.refused]


@pytest.mark.parametrize("build", BUILDS, ids=lambda one: one.key)
def test_every_answer_of_a_plan_is_asked(build):
    keys = {*build.plan, *(key for row in build.rows for key in row.plan)} - {"units"}
    assert keys <= {*FIELDS, *TABLES}


@pytest.mark.parametrize("build", BUILDS, ids=lambda one: one.key)
def test_a_row_says_one_thing(build):
    assert build.source and build.read and build.rows
    for row in build.rows:
        assert bool(row.lacks) != bool(row.result or row.by), row.quantity
        assert row.lacks or row.refused or (row.why and row.low <= row.high), row.quantity
        assert not row.result or row.result in SPECS, row.quantity


def test_thirteen_builds_of_which_most_figures_agree():
    agree = sum(not row.differs for _, row in FIGURES)
    assert len(BUILDS) == 13 and len({one.key for one in BUILDS}) == 13
    assert len(FIGURES) >= 55 and agree >= 43, (len(FIGURES), agree)
