"""The lesson in a browser: whole without scripts, new numbers at a press, the same for all who type one number."""

from __future__ import annotations

import re

import pytest

from calc.render import lesson


def words(page, name: str) -> str:
    return page.locator(f'[data-lesson="{name}"]').inner_html()


def until_class(page, number: int) -> None:
    page.wait_for_function("(words) => document.getElementById('engine-status').textContent.includes(words)",
                           arg=f"class {number}")


@pytest.mark.parametrize(("path", "unit", "other"), [("lesson/index.html", "gal", "cu cm"),
                                                     ("lesson/metric/index.html", "cu cm", "cu in")])
def test_the_example_is_whole_before_any_script(dist, path, unit, other):
    text = (dist / path).read_text(encoding="utf-8")
    assert text.count('<li value="') >= 24 and text.count("<article") == 6
    assert unit in text and other not in text
    # The key has each answer; the form, which needs scripts, is hidden.
    assert text.count('<th scope="row">') >= 24
    assert re.search(r'<form class="lesson-choice screen-only" hidden', text)


def test_a_class_number_gives_its_sheet(open_page, address):
    page = open_page(f"{address}/lesson/index.html", ready=False).page
    page.fill("#class-number", "4821")
    page.keyboard.press("Enter")
    until_class(page, 4821)
    assert page.url.endswith("#class=4821")
    want = lesson.of_class(4821, "us")
    for name in ("worksheet", "key", "activities"):
        assert re.sub(r"\s+", " ", page.locator(f'[data-lesson="{name}"]').text_content()).strip() == re.sub(
            r"\s+", " ", page.evaluate("(html) => { const d = document.createElement('div'); d.innerHTML = html; "
                                       "return d.textContent; }", want[name])).strip()


def test_an_address_with_a_class_opens_it_in_its_units(open_page, address):
    page = open_page(f"{address}/lesson/metric/index.html#class=7", ready=False).page
    until_class(page, 7)
    assert page.input_value("#class-number") == "7"
    bath = lesson.plan_of(7, "metric")["bath.length"]
    assert f"A bath is {bath} long" in words(page, "worksheet")


def test_new_numbers_and_back_to_the_example(open_page, address):
    page = open_page(f"{address}/lesson/index.html", ready=False).page
    before = words(page, "worksheet")
    page.click('[data-choose="new"]')
    page.wait_for_url(re.compile(r"#class=\d+$"))
    number = int(page.url.rpartition("=")[2])
    until_class(page, number)
    assert words(page, "worksheet") != before
    assert page.input_value("#class-number") == str(number)
    page.click('[data-choose="example"]')
    assert words(page, "worksheet") == before
    assert "#" not in page.url


@pytest.mark.parametrize("typed", ["0", "12345", "seven", ""])
def test_a_number_that_is_none_is_told_beside_its_field(open_page, address, typed):
    page = open_page(f"{address}/lesson/index.html", ready=False).page
    before = words(page, "worksheet")
    page.fill("#class-number", typed)
    page.keyboard.press("Enter")
    said = page.locator("#class-fault").text_content()
    assert said.startswith("Class number: type a whole number from 1 to 9,999") and typed in said
    assert page.get_attribute("#class-number", "aria-invalid") == "true"
    assert words(page, "worksheet") == before


def test_the_readers_own_plan_is_the_sheet(open_page, address):
    page = open_page(f"{address}/lesson/index.html", ready=False).page
    kept = '{"plan": {"bath.length": "61 in"}, "version": 2}'
    page.evaluate("(text) => localStorage.setItem('raftwright.plan', text)", kept)
    page.click('[data-choose="mine"]')
    page.wait_for_function("() => document.getElementById('engine-status').textContent.includes('your own plan')")
    assert "A bath is 61 in long" in words(page, "worksheet")
    assert page.url.endswith("#mine")


def test_from_a_disk_the_class_works_too(open_page, dist):
    page = open_page(f"{dist.as_uri()}/lesson/index.html#class=42", ready=False).page
    until_class(page, 42)
    assert "class number 42" in words(page, "worksheet")


def test_the_key_prints_only_when_it_is_open_and_begins_a_page(open_page, address):
    page = open_page(f"{address}/lesson/index.html", ready=False).page
    page.emulate_media(media="print")
    fold = page.locator("#key-fold")
    assert not fold.is_visible()
    page.evaluate("document.getElementById('key-fold').open = true")
    assert fold.is_visible()
    assert page.evaluate("getComputedStyle(document.querySelector('section:has(> #key-fold)')).breakBefore") == "page"
    page.emulate_media(media="screen")
