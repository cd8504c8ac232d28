"""The library and a sample variant beside its answer key."""

from html import unescape

import pytest
from sqlalchemy import select, update

from app.domain.measures import UnitSystem
from app.services import scenarios
from app.store.db import Database
from app.store.models import Attempt, Event, Mark, Scenario
from tests.web.given import scenario_named

PATH = "/teaching/scenarios"


@pytest.fixture
def scenario_id(database: Database) -> str:
    return scenario_named(database, "two-plane-balance")


def shown(client, scenario_id: str, query: str = "") -> str:
    response = client.get(f"{PATH}/{scenario_id}{query}")
    assert response.status_code == 200
    return unescape(response.text)


def key_of(page: str) -> list[str]:
    """The answers of every key on the page, in order."""
    keys = page.split('class="key')[1:]
    answers = [
        line.split('<dd class="as-typed">')[1].split("</dd>")[0]
        for key in keys
        for line in key.split("<div>")[1:]
    ]
    assert answers
    return answers


@pytest.mark.usefixtures("scenario_id")
def test_the_library_lists_every_scenario_with_its_skills_and_a_way_in(teacher_client, database):
    page = teacher_client.get(PATH).text
    for card in scenarios.library(database):
        assert card.title in page
        assert f"{PATH}/{card.public_id}" in page
        assert all(skill in page for skill in card.skills)


def test_an_empty_library_says_so(teacher_client, database, now):
    with database.write() as session:
        session.execute(update(Scenario).values(archived_at=now))
    assert "library is empty" in teacher_client.get(PATH).text


@pytest.mark.parametrize("slug", ["two-plane-balance", "runout-and-match-mounting", "four-assemblies"])
def test_a_sample_shows_the_lab_and_the_key_to_each_of_its_tasks(teacher_client, database, slug):
    scenario_id = scenario_named(database, slug)
    page = shown(teacher_client, scenario_id, "?sample=3&units=metric")
    sample = scenarios.sample(database, scenario_id=scenario_id, seed=3, units=UnitSystem.METRIC)
    assert key_of(page) == [row.right_answer for row in sample.key]
    for part in sample.variant.scenario.lab_parts:
        assert part.title in page
    assert sample.variant.scenario.teacher.aim[:40] in page


def test_the_same_number_draws_the_same_sample_and_another_number_another(teacher_client, scenario_id):
    first, again, other = (
        key_of(shown(teacher_client, scenario_id, f"?sample={number}")) for number in (1, 1, 2)
    )
    assert first == again != other


def test_the_sample_says_its_number_and_leads_to_another(teacher_client, scenario_id):
    page = shown(teacher_client, scenario_id, "?sample=9")
    assert "Sample 9" in page
    assert "sample=10&units=us" in page


@pytest.mark.usefixtures("class_id")
def test_the_units_are_those_of_the_class_until_others_are_asked_for(teacher_client, scenario_id):
    own, metric = shown(teacher_client, scenario_id), shown(teacher_client, scenario_id, "?units=metric")
    assert [answer for answer in key_of(own) if answer.endswith(" oz")]
    assert not [answer for answer in key_of(metric) if answer.endswith(" oz")]
    assert [answer for answer in key_of(metric) if answer.endswith(" g")]


@pytest.mark.parametrize(
    "query", ["?sample=", "?sample=0", "?sample=-4", "?sample=1e9", "?sample=٣", "?units=stone"]
)
def test_a_sample_that_there_is_not_shows_the_first(teacher_client, scenario_id, query):
    assert shown(teacher_client, scenario_id, query) == shown(teacher_client, scenario_id, "?sample=1")


def test_an_unknown_scenario_is_not_found(teacher_client):
    assert teacher_client.get(f"{PATH}/{'a' * 20}").status_code == 404


def test_a_student_sees_no_scenario_with_its_key(pupil_client, scenario_id):
    assert pupil_client.get(PATH).status_code == 403
    assert pupil_client.get(f"{PATH}/{scenario_id}").status_code == 403


def test_a_scenario_is_tried_as_a_student_works_it_and_nothing_is_kept(teacher_client, database, scenario_id):
    path = f"{PATH}/{scenario_id}/try?sample=7&units=metric"
    assert f'href="{PATH}/{scenario_id}/try"' in shown(teacher_client, scenario_id)
    right = key_of(shown(teacher_client, scenario_id, "?sample=7&units=metric"))[0]
    empty = teacher_client.get(path).text
    assert right not in empty
    name = empty.split('name="answer-')[1].split('"')[0]
    marked = teacher_client.send(path, **{f"answer-{name}": right}).text
    assert "2 of 15 points" in marked
    with database.read() as session:
        for table in (Attempt, Event, Mark):
            assert session.scalars(select(table)).all() == []


def test_a_student_tries_no_scenario_of_the_library(pupil_client, scenario_id):
    assert pupil_client.get(f"{PATH}/{scenario_id}/try").status_code == 403


def test_a_scenario_is_only_read_here(teacher_client, scenario_id):
    assert teacher_client.post(f"{PATH}/{scenario_id}").status_code == 405


@pytest.mark.usefixtures("scenario_id")
def test_the_library_stands_in_the_order_of_a_course_by_level(teacher_client, database):
    page = unescape(teacher_client.get(PATH).text)
    heads = [page.index(f"<span>{level}</span>") for level in ("First steps", "Practice", "Capstone")]
    assert heads == sorted(heads)
    places = [page.index(card.public_id) for card in scenarios.library(database)]
    assert places == sorted(places)


@pytest.mark.usefixtures("scenario_id")
def test_the_library_is_searched_by_words_of_title_summary_and_skills(teacher_client, database):
    cards = scenarios.library(database)
    sought = next(card for card in cards if card.slug == "runout-and-match-mounting")
    page = teacher_client.get(PATH, query_string={"find": "MATCH  mounting"}).text
    assert sought.public_id in page
    assert not all(card.public_id in page for card in cards)
    assert "No scenario has these words" in teacher_client.get(f"{PATH}?find=zebra").text


@pytest.mark.usefixtures("scenario_id")
def test_a_search_keeps_the_class_that_a_scenario_is_for(teacher_client, class_id):
    page = teacher_client.get(PATH, query_string={"class": class_id, "find": "mounting"}).text
    assert f'name="class" value="{class_id}"' in page
    assert f"?class={class_id}" in page
    assert "To give to" not in teacher_client.get(f"{PATH}?class=nobody").text
