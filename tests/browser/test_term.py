"""A term in small: two classes come in, work eight labs by every rule, are marked, and get all of it."""

from pathlib import Path

import pytest

from tests.browser.server import Server
from tests.browser.term import (
    bringing_in,
    giving,
    gradebook_checks,
    marking,
    paper_checks,
    roster_checks,
    sheet_checks,
    working,
    writing,
)
from tests.browser.term.school import School
from tests.browser.watch import Windows

pytestmark = pytest.mark.browser


def test_a_term_comes_to_what_a_hand_calculation_says_on_every_page_and_in_every_file(
    own_server: Server, own_windows: Windows, tmp_path: Path
) -> None:
    """One class goes through the pages wherever there is a page, the other through the services. What both
    come to is compared for both; the long packets, which are made the same way for either, for one."""
    school = School(own_server, own_windows)
    by_list, by_roster = school.rooms
    bringing_in.by_class_list(school)
    bringing_in.by_roster(school)
    giving.through_the_pages(school, by_list)
    giving.through_the_services(school, by_roster)
    for room in school.rooms:
        working.everyone(school, room, by_pages=room is by_list)
    working.closed_doors(school, by_list)

    marking.a_new_version(school, tmp_path)
    for room in school.rooms:
        by_pages = room is by_list
        marking.answers_in_words(school, room, by_pages=by_pages)
        marking.regrade(school, room, by_pages=by_pages)
        marking.grades_by_hand(school, room, by_pages=by_pages)
        writing.sheets(school, room, by_pages=by_pages)

    for room in school.rooms:
        roster_checks.results(school, room, roster_ids=room is by_roster)
        sheet_checks.tables(school, room)
        sheet_checks.documents(school, room)
        paper_checks.blank_sheets(school, room)
        paper_checks.records(school, room)
        gradebook_checks.files(school, room)
        gradebook_checks.page(school, room)
    sheet_checks.of_the_class_and_of_one_student(school, by_list)
    sheet_checks.without_names(school, by_roster)
    paper_checks.worksheets_and_key(school, by_roster)
    gradebook_checks.of_students(school, by_list)
    gradebook_checks.of_a_grade_by_hand(school, by_list)
    gradebook_checks.what_the_clock_closed(school, by_list)
    gradebook_checks.stored_points_add_up(school)
