"""A calculator answers while its form is filled in, without leaving the page."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.school import Classroom
from tests.browser.watch import Windows

pytestmark = pytest.mark.browser

# From hand: 200 N/mm times 0.25 mm make 50 N, opposite to the tire's 50 N; half a turn lays them together.
OPPOSITE = "units=metric&tire=50&tire_angle=0&runout=0.25&runout_angle=180&spring_rate=200&turn=0"
LEAST = "Least is 0.0 N at 0° (no turn)."


def test_an_answer_follows_its_entries_and_what_was_unfolded_stays_so(
    windows: Windows, classroom: Classroom
) -> None:
    page = windows.open(classroom.card)
    page.goto(f"/calculators/match-mounting?{OPPOSITE}")
    headline = page.locator("[data-live=headline]")
    expect(headline).to_have_text(f"0.0 N remain. {LEAST}")
    unfolded = page.locator("[data-live=outcome] details").first
    unfolded.locator("summary").click()
    page.evaluate("window.isTheSamePage = true")
    page.get_by_role("textbox", name="Turn of the tire").fill("180")
    expect(headline).to_have_text(f"100.0 N remain. {LEAST}")
    expect(unfolded).to_have_attribute("open", "")
    expect(page).to_have_url(re.compile("turn=180"))
    assert page.evaluate("window.isTheSamePage")


def test_an_entry_that_cannot_be_read_is_told_beside_it_and_no_answer_is_shown(
    windows: Windows, classroom: Classroom
) -> None:
    page = windows.open(classroom.card)
    page.goto(f"/calculators/match-mounting?{OPPOSITE}")
    headline = page.locator("[data-live=headline]")
    rate = page.get_by_role("textbox", name="Spring rate of the tire")
    with windows.watch.refusing(422):
        rate.fill("stiff")
        expect(rate).to_have_attribute("aria-invalid", "true")
        expect(headline).to_have_text(re.compile("No result yet"))
    rate.fill("400")
    expect(headline).to_have_text("50.0 N remain. Least is 50.0 N at 0° (no turn).")
    expect(rate).not_to_have_attribute("aria-invalid", "true")
