"""Normal values: narrowed by word, number and group, each row with its source, and quick on a phone."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.site.conftest import Opener

SHOWN = "[...document.querySelectorAll('[data-value]:not([hidden])')].map(row => row.id)"


@pytest.fixture
def values(open_page: Opener, address: str) -> Page:
    return open_page(f"{address}values/index.html")


def shown(page: Page, typed: str) -> list[str]:
    page.fill("#values-filter", typed)
    return list(page.evaluate(SHOWN))


def choose(page: Page, group: str) -> None:
    page.locator(f".choices input[value='{group}']").check(force=True)


def test_every_row_names_range_people_and_source_and_leads_to_its_step(values: Page) -> None:
    rows = values.evaluate(
        """[...document.querySelectorAll('li.value:not(.value-table)')].map(row => ({
          id: row.id, who: row.querySelector('.value-who').textContent.trim(),
          range: row.querySelector('[data-range]').textContent.trim(),
          origin: row.querySelector('.value-origin').textContent.trim(),
          marked: !!row.querySelector('.value-origin :is(.cite, .mark)'),
          links: [...row.querySelectorAll('.value-links a')].map(link => link.getAttribute('href')) }))"""
    )
    assert len(rows) > 60
    for row in rows:
        assert row["who"] and row["range"] and row["origin"] and row["marked"], row["id"]
        assert row["links"] and row["links"][0].startswith("../examination/"), row["id"]


def test_a_word_a_plural_and_another_name_narrow_the_list(values: Page) -> None:
    assert "value-capillary-refill-women" in shown(values, "refill")
    assert all("ankle-brachial-index" in row for row in shown(values, "ABPI")[:3])
    assert shown(values, "capillary refills") == shown(values, "capillary refill")
    assert shown(values, "zzz") == []
    assert "No value fits" in values.inner_text("[data-values-count]")


def test_a_bare_number_finds_the_rows_it_could_belong_to(values: Page) -> None:
    found = shown(values, "96")
    assert "value-oxygen-saturation-adult" in found
    assert "value-toe-brachial-index" not in found


def test_a_number_beside_a_word_is_placed_on_the_ruler_and_told_in_words(values: Page) -> None:
    shown(values, "ankle-brachial index 0.7")
    row = values.locator("#value-resting-ankle-brachial-index")
    assert row.locator("[data-verdict]").text_content() == "0.7 lies below this range."
    marker = row.locator(".ruler-marker")
    assert marker.get_attribute("visibility") is None
    place = float((marker.get_attribute("transform") or "").removeprefix("translate(").split()[0])
    low, high, x0, x1 = (float(marker.get_attribute(f"data-{name}") or "nan") for name in ("low", "high", "x0", "x1"))
    assert place == pytest.approx(x0 + (0.7 - low) / (high - low) * (x1 - x0), abs=0.01)
    shown(values, "ankle-brachial index 1.2")
    assert row.locator("[data-verdict]").text_content() == "1.2 lies inside this range."
    shown(values, "ankle-brachial index 1.4")
    assert row.locator("[data-verdict]").text_content() == "1.4 lies on the limit of this range."
    shown(values, "ankle-brachial index")
    assert not row.locator("[data-verdict]").is_visible()


def test_groups_and_ages_leave_only_rows_that_hold_for_them(values: Page) -> None:
    choose(values, "newborn")
    groups = values.evaluate(SHOWN.replace("row.id", "row.dataset.group"))
    assert set(groups) <= {"newborn", "any"}
    choose(values, "")
    aged = shown(values, "refill at 80")
    assert "value-capillary-refill-older-people" in aged
    assert "value-capillary-refill-child-finger" not in aged


def test_narrowing_takes_less_than_a_tenth_of_a_second(values: Page) -> None:
    taken = values.evaluate(
        """() => {
          const input = document.querySelector('#values-filter');
          const times = [];
          for (const text of ['p', 'pu', 'pul', 'pulse', 'pulse 9', 'pulse 96', '', '120', 'x', '']) {
            const start = performance.now();
            input.value = text;
            input.dispatchEvent(new Event('input', { bubbles: true }));
            document.body.offsetHeight;
            times.push(performance.now() - start);
          }
          return Math.max(...times);
        }"""
    )
    assert taken < 100


def test_without_scripts_the_whole_list_stands(open_page: Opener, address: str) -> None:
    page = open_page(f"{address}values/index.html", java_script_enabled=False)
    assert page.locator("li.value").count() > 60
    assert not page.is_visible("[data-values-form]")


@pytest.mark.parametrize("folder", ["findings", "conditions"])
def test_the_lists_from_a_to_z_narrow_by_other_names(open_page: Opener, address: str, folder: str) -> None:
    page = open_page(f"{address}{folder}/index.html")
    every = page.locator("[data-words]").count()
    page.fill("#list-filter", {"findings": "corrigan", "conditions": "aneurysms"}[folder])
    left = page.locator("[data-words]:visible")
    assert 1 <= left.count() < every
    assert page.locator("[data-list-group]:visible").count() <= left.count()
