"""Numbers instead of names, and names taken out of texts."""

import re
from dataclasses import dataclass

from app.services.pseudonyms import Names, names_of, pseudonym


@dataclass(frozen=True)
class Somebody:
    display_name: str
    sign_in_name: str


CLASS = (
    Somebody("Ana Lucia Martinez", "analucia"),
    Somebody("Will Stone", "wills"),
    Somebody("王 小明", "wang"),
)


def hidden() -> Names:
    return names_of("c" * 20, CLASS, hidden=True)


def test_a_number_is_the_same_each_time_and_another_for_another_student_or_class():
    first = pseudonym("class", "student")
    assert re.fullmatch(r"Student \d{4}-\d{4}", first)
    assert first == pseudonym("class", "student")
    assert len({first, pseudonym("class", "other"), pseudonym("other", "student")}) == 3


def test_two_hundred_students_of_a_class_hardly_ever_share_a_number():
    # Birthday problem: 200 of 10^8 numbers collide with probability 2e-4; these 200 do not.
    assert len({pseudonym("class", str(number)) for number in range(200)}) == 200


def test_full_names_and_sign_in_names_of_anybody_are_taken_out_of_a_text():
    text = "I worked with ana lucia  MARTINEZ (analucia) and 王 小明."
    assert hidden().in_text(text, "Will Stone") == "I worked with [name] ([name]) and [name]."


def test_parts_of_the_writers_own_name_are_taken_out_as_whole_words():
    text = "I, Will, will be stone-faced; Stone's clip. Martinez stays, Stonework too."
    assert hidden().in_text(text, "Will Stone") == (
        "I, [name], will be stone-faced; [name]'s clip. Martinez stays, Stonework too."
    )


def test_signs_of_patterns_in_a_name_mean_themselves():
    names = names_of("c", [Somebody("A. (Bo) C+", "a.b")], hidden=True)
    assert names.in_text("A. (Bo) C+ and axb and a.b", "A. (Bo) C+") == "[name] and axb and [name]"


def test_shown_names_change_nothing():
    names = names_of("c", CLASS, hidden=False)
    assert (names.of("s", "Will Stone"), names.in_text("Will Stone", "Will Stone")) == (
        "Will Stone",
        "Will Stone",
    )
