"""Authors' Markdown: its meaning stays, and whatever would run or load from elsewhere does not."""

import pytest
from flask import Flask
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.web.author_text import Picture, markdown, markdown_line, markdown_plain, use_pictures

FORBIDDEN = (
    *("<script", "<style", "<iframe", "<svg", "<img"),
    *('<a href="javascript', '<a href="data', '<a href="//'),
)
HOSTILE = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "![x](https://host.example/x.png)",
    "![x](//host.example/x.png)",
    "![x](data:image/png;base64,AAAA)",
    "![x](image:nobody-knows-it)",
    "[x](javascript:alert(1))",
    "[x](data:text/html,a)",
    '<a href="//host.example" onclick="a()">x</a>',
    "<style>p{}</style><iframe src=//host.example></iframe>",
    "<svg/onload=alert(1)>",
    "[x]: javascript:alert(1)\n[x]",
]


@pytest.fixture(autouse=True)
def _within_a_page(app: Flask):
    with app.test_request_context():
        yield


def test_an_author_s_text_keeps_its_meaning():
    html = markdown("# Top\n\nSet **32 psi**, then:\n\n1. spin\n2. read\n\n| a | b |\n|:-:|--:|\n| 1 | 2 |\n")
    assert "<h3>Top</h3>" in html
    assert "<strong>32 psi</strong>" in html
    assert "<li>spin</li>" in html
    assert "<td>1</td>" in html


@pytest.mark.parametrize("text", HOSTILE)
def test_an_author_s_text_brings_nothing_that_runs_or_loads(text):
    for html in (markdown(text), markdown_line(text)):
        for tag in FORBIDDEN:
            assert tag not in html.lower(), html


def test_an_outside_link_tells_nobody_where_it_came_from():
    assert 'rel="noopener noreferrer"' in markdown("[the standard](https://www.iso.org/)")


def test_an_own_picture_is_shown_with_the_author_s_words_or_its_own():
    use_pictures({"cone": Picture("/images/abc", "A cone in a bore")}.get)
    html = markdown("Look: ![The *small* cone](image:cone) and ![](image:cone)")
    assert 'src="/images/abc"' in html
    assert 'alt="The small cone"' in html
    assert 'alt="A cone in a bore"' in html
    assert html.count("<img") == 2


def test_a_picture_that_nobody_knows_is_told_by_its_words():
    use_pictures({"cone": Picture("/images/abc", "A cone")}.get)
    assert markdown("![The hub](image:hub)") == "<p>The hub</p>\n"
    assert markdown("![The hub](https://host.example/hub.png)") == "<p>The hub</p>\n"


def test_a_line_within_a_label_keeps_emphasis_and_lines_and_nothing_else():
    assert markdown_line("Where does **one** weight go?\nGive *degrees*.") == (
        "Where does <strong>one</strong> weight go?<br>\nGive <em>degrees</em>."
    )
    assert markdown_line("[The standard](https://www.iso.org/) ![a cone](image:x)") == "The standard a cone"
    assert "<h" not in markdown_line("# Top")


def test_plain_words_have_no_signs_of_markdown():
    text = "# Top\n\nSet **32 psi** `now`,\nthen:\n\n- spin\n- [read](https://x.org/)\n\n![A cone](image:c)"
    assert markdown_plain(text) == "Top\nSet 32 psi now, then:\n- spin\n- read\nA cone"
    assert markdown_plain("2. Why *half* a turn?") == "2. Why half a turn?"


@given(st.text(alphabet="ab <>*_[]()!`\"'#-|:/.&;\n", max_size=80))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_text_of_any_signs_makes_a_tag_that_is_not_allowed(text):
    for html in (markdown(text), markdown_line(text)):
        assert "<script" not in html
        assert "<img" not in html
        assert " on" not in "".join(part.partition(">")[0] for part in html.split("<")[1:])
