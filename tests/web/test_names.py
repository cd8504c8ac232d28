"""Reading a pasted class list. Rules: common practice of spreadsheets, no source."""

import pytest

from app.web.teaching.names import ColumnOrder, read_names

LAST_FIRST, FIRST_LAST = ColumnOrder.LAST_FIRST, ColumnOrder.FIRST_LAST


@pytest.mark.parametrize(
    ("typed", "order", "name"),
    [
        ("Sam Okafor", LAST_FIRST, "Sam Okafor"),
        ("Okafor, Sam", LAST_FIRST, "Sam Okafor"),
        ("Okafor\tSam", LAST_FIRST, "Sam Okafor"),
        ("Sam\tOkafor", FIRST_LAST, "Sam Okafor"),
        ("  Sam   Okafor  ", LAST_FIRST, "Sam Okafor"),
        ('"Okafor, Sam"', LAST_FIRST, "Sam Okafor"),
        ("Okafor,Sam,", LAST_FIRST, "Sam Okafor"),
        ("María José Núñez", FIRST_LAST, "María José Núñez"),
        ("O’Neill, Bríd", LAST_FIRST, "Bríd O’Neill"),
    ],
)
def test_a_line_is_read_as_one_name(typed, order, name):
    (line,) = read_names(typed, order)
    assert (line.name, line.fault) == (name, None)


def test_empty_lines_are_passed_over_but_lines_keep_their_numbers():
    assert [line.number for line in read_names("Ann Lee\n\n  \nBo Diaz\n", LAST_FIRST)] == [1, 4]


@pytest.mark.parametrize(
    ("text", "number", "says"),
    [
        ("Ann Lee\n104233", 2, "letters"),
        ("7\tLee", 1, "letters"),
        ("Lee\tAnn\tGrade 11", 1, "3 columns"),
        ("Ann Lee\nLee, Ann", 2, "line 1"),
        ("BO DIAZ", 1, "in this class already"),
        ("Ann\u202eLee", 1, "U+202E"),
        ("Ann\x07Lee", 1, "U+0007"),
        ("A" * 81, 1, "80 characters"),
    ],
)
def test_a_line_at_fault_says_its_number_and_what_to_do(text, number, says):
    faulty = [
        line
        for line in read_names(text, LAST_FIRST, already={"Bo Diaz": "is in this class already"})
        if line.fault
    ]
    assert [line.number for line in faulty] == [number]
    assert says in faulty[0].fault
