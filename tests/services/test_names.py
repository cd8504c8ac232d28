"""Names from a class list."""

import pytest

from app.services.names import as_sign_in_name, free_sign_in_name, read_name


@pytest.mark.parametrize(
    ("line", "display", "sort", "stem"),
    [
        ("Sam Okafor", "Sam Okafor", "Okafor, Sam", "samo"),
        ("Okafor, Sam", "Sam Okafor", "Okafor, Sam", "samo"),
        ("  Ana   Maria  Ruiz ", "Ana Maria Ruiz", "Ruiz, Ana Maria", "anar"),
        ("de la Cruz, Ana", "Ana de la Cruz", "de la Cruz, Ana", "anad"),
        ("Cher", "Cher", "Cher", "cher"),
        ("Cher,", "Cher", "Cher", "cher"),
        (", Cher", "Cher", "Cher", "cher"),
        ("Łukasz Żak", "Łukasz Żak", "Żak, Łukasz", "lukaszz"),
        ("Søren Ærø", "Søren Ærø", "Ærø, Søren", "sorena"),
        ("李 明", "李 明", "明, 李", "student"),
    ],
)
def test_a_line_is_read_as_a_name(line, display, sort, stem):
    name = read_name(line)
    assert (name.display_name, name.sort_name, name.sign_in_stem) == (display, sort, stem)


@pytest.mark.parametrize("line", ["", "  ", "1234", ",", "— , —"])
def test_a_line_without_a_letter_is_no_name(line):
    assert read_name(line) is None


def test_a_very_long_name_still_has_a_sign_in_name_that_can_be_typed():
    assert len(read_name("x" * 79).sign_in_stem) == 20


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("J.Rivera ", "j.rivera"),
        ("Ana Núñez", "ananunez"),
        ("straße", "strasse"),
        ("a_b-c.1", "a_b-c.1"),
        ("明", ""),
    ],
)
def test_a_sign_in_name_is_kept_in_one_plain_form(typed, kept):
    assert as_sign_in_name(typed) == kept
    assert as_sign_in_name(kept) == kept


def test_the_first_free_number_is_taken():
    assert free_sign_in_name("samo", set()) == "samo"
    assert free_sign_in_name("samo", {"samo"}) == "samo2"
    assert free_sign_in_name("samo", {"samo", "samo2", "samo4"}) == "samo3"
