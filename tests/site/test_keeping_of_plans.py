"""What the log says of the plan changes it only when the reader says so, and an open planner hears of it."""

from __future__ import annotations

import pytest

from tests.site.test_baths import SHELVE, SHELVED, plan, ready
from tests.site.test_log import clock, keep, opened, stored
from tests.site.waiting import until

pytestmark = pytest.mark.browser


def thirsty(page) -> None:
    """Twelve days in which the bath drank 2 gal every three days, where its plan says less."""
    for day, added in ((13, "1"), (16, "2"), (19, "2"), (22, "2")):
        keep(page, time=f"2026-11-{day}T07:00", added=added)


def test_a_thirsty_bath_changes_its_plan_by_consent_and_it_can_be_undone(open_page, address):
    page = opened(open_page, address, script=clock("2026-11-25T08:00"))
    north = plan("North", length="50 in", way="salts")
    page.evaluate(SHELVE, [north, plan("South", length="90 in")])
    ready(page)
    page.select_option("[data-which-bath] select", label="North")
    thirsty(page)
    page.wait_for_selector("[data-mend=water]")
    assert "times as much water goes as the plan says: 0.667 gal a day" in page.inner_text("[data-finding=water]")
    assert page.inner_text("[data-mend=water]") == "Use 0.667 gal a day in the plan"
    assert "top up within" in page.inner_text("[data-finding=water] .mend")
    assert page.evaluate(SHELVED, "plan-north")["plan"] == north["plan"], "a plan changes by consent only"
    planner = open_page(f"{address}/plan/index.html#kept=plan-north", ready=False).page
    until(planner, "document.querySelector('[name=\"bath.length\"]')?.value === '50 in'")
    page.click("[data-mend=water]")
    page.wait_for_selector("[data-state-of=mended]")
    kept = page.evaluate(SHELVED, "plan-north")
    assert kept["plan"]["use.basis"] == "own" and kept["plan"]["use.litres_per_plant"].endswith("fl oz")
    assert {key: kept["plan"][key] for key in north["plan"]} == north["plan"] and kept["stamp"] != north["stamp"]
    assert page.evaluate(SHELVED, "plan-south")["plan"] == {"bath.length": "90 in"}
    planner.get_by_role("button", name="Show what it is there").click()
    until(planner, "document.querySelector('[name=\"use.basis\"]')?.value === 'own'")
    page.bring_to_front()
    until(page, "document.querySelector('[data-finding=water]')?.textContent.includes('as the plan says')", seconds=60)
    assert page.locator("[data-mend=water]").count() == 0
    page.locator("[data-state-of=mended] button", has_text="Undo").click()
    page.wait_for_selector("[data-mend=water]")
    assert page.evaluate(SHELVED, "plan-north")["plan"] == north["plan"]
    assert len(stored(page)) == 4


def test_nothing_is_offered_where_there_is_no_plan(open_page, address):
    page = opened(open_page, address, script=clock("2026-11-25T08:00"))
    thirsty(page)
    until(page, "document.documentElement.dataset.drawn === '4'", seconds=60)
    assert "times as much water goes as the plan says" in page.inner_text("[data-finding=water]")
    assert page.locator("[data-mend]").count() == 0
