"""A new server's first instructor, from the link on the terminal to the gradebook."""

import re
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
import segno
from playwright.sync_api import Page, expect

from app.domain.measures import UnitSystem
from app.services import assignments, classes, scenarios
from tests import factories
from tests.browser import pencil
from tests.browser.lab_page import touch
from tests.browser.server import Server
from tests.browser.watch import DESK, PHONE, Windows, flash_of

pytestmark = pytest.mark.browser

CHICAGO = ZoneInfo("America/Chicago")
PASTED = "Okafor, Sam\nMartinez\tAna Lucia\nO’Neill, Pat\n"
ON_THE_CARDS = ["Sam Okafor", "Ana Lucia Martinez", "Pat O’Neill"]


@pytest.mark.parametrize(("size", "finger"), [(DESK, False), (PHONE, True)], ids=["mouse", "finger"])
def test_an_instructor_sets_up_a_class_and_gives_it_a_lab(
    own_server: Server, own_windows: Windows, size: dict[str, int], finger: bool
) -> None:
    page = own_windows.open(size=size, touch=finger)
    make_the_first_account(page, own_server.setup_link)
    make_a_class(page)
    cards = add_students(page)
    check_a_card(own_windows, own_server, cards["Sam Okafor"])
    touch(page.get_by_role("link", name="Done: back to the class"))
    expect(page.get_by_role("row").filter(has_text="Okafor, Sam")).to_contain_text("today")
    expect(page.get_by_role("row").filter(has_text="Martinez, Ana Lucia")).to_contain_text("not yet")

    touch(page.get_by_role("navigation", name="Main").get_by_role("link", name="Classes"))
    touch(page.get_by_role("link", name="Auto 2, period 3"))
    touch(page.get_by_role("main").get_by_role("link", name="Scenarios"))
    touch(page.get_by_role("link", name="One assembly on the balancer"))
    check_samples_and_their_key(page, own_server)
    give_it_to_the_class(page, own_server)
    touch(page.get_by_role("link", name="Gradebook"))
    check_the_empty_gradebook(page)
    with own_windows.watch.refusing(404):
        page.goto(own_server.setup_link)
        expect(page.get_by_text("has been used")).to_be_visible()


def make_the_first_account(page: Page, link: str) -> None:
    page.goto(link)
    page.get_by_label("Your name").fill("Robin Lang")
    page.get_by_label("Sign-in name").fill("R.Lang")
    page.get_by_label("Pass phrase", exact=True).fill("plumb bob and chalk line")
    page.get_by_label("Pass phrase again").fill("plumb bob and chalk line")
    touch(page.get_by_role("button", name="Make the account"))
    expect(flash_of(page)).to_contain_text("Your account is ready")


def make_a_class(page: Page) -> None:
    touch(page.get_by_role("link", name="Make a class"))
    page.get_by_label("Name of the class").fill("Auto 2, period 3")
    page.get_by_label("Time zone").select_option("Central (Chicago)")
    page.get_by_label("US customary").check()
    touch(page.get_by_role("button", name="Make the class"))
    expect(page.get_by_role("heading", level=1)).to_have_text("Auto 2, period 3")
    expect(page.get_by_role("definition").filter(has_text="US customary")).to_be_visible()
    expect(page.get_by_role("definition").filter(has_text="Chicago")).to_be_visible()


def add_students(page: Page) -> dict[str, tuple[str, str, str]]:
    """Pastes the list; returns by name each card's sign-in name, pass phrase and QR code (its path)."""
    touch(page.get_by_role("link", name="Add students").first)
    page.get_by_label("Students, one a line").fill(PASTED)
    touch(page.get_by_role("button", name="Check the list"))
    table = page.get_by_role("table", name="How each line is read")
    for name in ON_THE_CARDS:
        expect(table.get_by_role("row").filter(has_text=name)).to_contain_text("ready")
    touch(page.get_by_role("button", name="Add 3 students and show the cards"))
    expect(page.get_by_role("heading", name="Sign-in cards")).to_be_visible()
    cards = {}
    for item in page.get_by_role("listitem").filter(has=page.get_by_role("heading", level=2)).all():
        name = item.get_by_role("heading").inner_text()
        _, sign_in_name, pass_phrase = item.get_by_role("definition").all_inner_texts()
        code = item.get_by_role("img", name=f"QR code of the sign-in page for {name}")
        assert len(pass_phrase.split()) >= 3
        cards[name] = (sign_in_name, pass_phrase, code.locator("path").get_attribute("d") or "")
    assert list(cards) == ON_THE_CARDS
    assert len({pass_phrase for _, pass_phrase, _ in cards.values()}) == 3
    return cards


def check_a_card(windows: Windows, server: Server, card: tuple[str, str, str]) -> None:
    """The QR code is that of the sign-in page with the name filled in; name and phrase let the student in."""
    sign_in_name, pass_phrase, drawn = card
    url = f"{server.address}/sign-in?name={sign_in_name}"
    expected = re.search(r'd="([^"]+)"', segno.make(url, error="m", micro=False).svg_inline())
    assert expected
    assert drawn == expected[1]
    page = windows.open()
    page.goto(url)
    expect(page.get_by_label("Sign-in name")).to_have_value(sign_in_name)
    page.get_by_label("Pass phrase", exact=True).fill(pass_phrase)
    touch(page.get_by_role("button", name="Sign in"))
    expect(page.get_by_role("heading", name="Your labs")).to_be_visible()
    expect(page.get_by_text("No lab has been assigned to you yet")).to_be_visible()
    touch(page.get_by_role("button", name="Sign out"))
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()


def check_samples_and_their_key(page: Page, server: Server) -> None:
    first = check_the_key(page, server, number=1, units=UnitSystem.US)
    size, angle = pencil.static_unbalance(page)
    assert pencil.number(first["Static unbalance"]) == pytest.approx(size, rel=0.005)
    assert pencil.degrees_apart(pencil.number(first["Its direction"]), angle) <= 1
    touch(page.get_by_role("link", name="Draw another"))
    second = check_the_key(page, server, number=2, units=UnitSystem.US)
    assert sum(first[title] != second[title] for title in first) >= 8  # of 11; fixed options stay
    touch(page.get_by_role("link", name=re.compile("^metric$", re.IGNORECASE)))
    metric = check_the_key(page, server, number=2, units=UnitSystem.METRIC)
    # The other shelf may ask for another draw, so only the units are sure to differ.
    assert (second["One weight"].split()[-1], metric["One weight"].split()[-1]) == ("oz", "g")


def check_the_key(page: Page, server: Server, *, number: int, units: UnitSystem) -> dict[str, str]:
    """The key on the page is that of the sample as computed here; returns it by the tasks' titles."""
    expect(page.get_by_role("heading", name=f"Sample {number}", exact=True)).to_be_visible()
    card = next(each for each in scenarios.library(server.database) if each.slug == "two-plane-balance")
    sample = scenarios.sample(server.database, scenario_id=card.public_id, seed=number, units=units)
    shown: dict[str, str] = {}
    for part in page.get_by_role("complementary", name=re.compile("^Answer key")).all():
        terms, answers = (part.get_by_role(role).all_inner_texts() for role in ("term", "definition"))
        shown |= {
            re.sub(r"^[\d.]+\s+", "", term): answer for term, answer in zip(terms, answers, strict=True)
        }
    assert shown == {row.title: row.right_answer for row in sample.key}
    return shown


def give_it_to_the_class(page: Page, server: Server) -> None:
    touch(page.get_by_role("link", name="Give to a class"))
    page.get_by_label("Class", exact=True).select_option(label="Auto 2, period 3 (Chicago time)")
    page.get_by_label("Title").fill("Lab 1: balance")
    page.get_by_label("Opens", exact=True).fill("2030-03-04T08:05")
    page.get_by_label("Due").fill("2030-03-15T15:30")
    page.get_by_label("Attempts allowed").fill("2")
    touch(page.get_by_role("button", name="Give to the class"))
    expect(flash_of(page)).to_contain_text("Lab 1: balance is given to the class.")
    expect(page.get_by_role("definition").filter(has_text="Mon, Mar 4 2030, 8:05 AM").first).to_be_visible()
    expect(page.get_by_role("definition").filter(has_text="Fri, Mar 15 2030, 3:30 PM").first).to_be_visible()

    instructor = factories.person_named(server.database, "r.lang")
    (school_class,) = classes.classes_of(server.database, instructor=instructor)
    (given,) = assignments.of_class(server.database, class_id=school_class.public_id, instructor=instructor)
    assert given.rules.opens_at == datetime(2030, 3, 4, 8, 5, tzinfo=CHICAGO).astimezone(UTC)
    # In between the clocks go forward (on 10 March 2030): the due time is meant on the clock of its own day.
    assert given.rules.due_at == datetime(2030, 3, 15, 20, 30, tzinfo=UTC)
    assert given.rules.attempts_allowed == 2


def check_the_empty_gradebook(page: Page) -> None:
    expect(page.get_by_role("columnheader", name="Lab 1: balance")).to_contain_text("out of 15")
    for name in ("Martinez, Ana Lucia", "O’Neill, Pat", "Okafor, Sam"):
        expect(page.get_by_role("row").filter(has_text=name)).to_contain_text("–")
