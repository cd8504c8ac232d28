"""File names for downloads."""

import re
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.exports.file_names import file_name

DAY = date(2026, 3, 2)


@pytest.mark.parametrize(
    ("titles", "name"),
    [
        (("gradebook", "Period 3"), "gradebook-period-3-2026-03-02.csv"),
        (("Zoë's café straße",), "zoes-cafe-strasse-2026-03-02.csv"),
        (("../../etc/passwd",), "etc-passwd-2026-03-02.csv"),
        (("C:\\con", 'a"; filename="b.exe'), "c-con-a-filename-b-exe-2026-03-02.csv"),
        (("a\r\nSet-Cookie: b",), "a-set-cookie-b-2026-03-02.csv"),
        (("sheets", "車輪"), "sheets-2026-03-02.csv"),
        (("車輪",), "2026-03-02.csv"),
        (("a" * 300,), "a" * 100 + "-2026-03-02.csv"),
    ],
)
def test_a_name_is_made_of_the_titles_and_the_day(titles: tuple[str, ...], name: str) -> None:
    assert file_name(*titles, day=DAY, extension="csv") == name


@settings(deadline=None)
@given(st.lists(st.text(), min_size=1, max_size=4))
def test_any_titles_make_a_plain_short_name(titles: list[str]) -> None:
    name = file_name(*titles, day=DAY, extension="pdf")
    assert re.fullmatch(r"([a-z0-9]+-)*2026-03-02\.pdf", name)
    assert len(name) <= 115
