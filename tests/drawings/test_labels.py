"""Placing and wrapping labels."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.drawings.drawing import tags
from app.drawings.labels import Box, free_place, text_box, text_width, wrap
from app.drawings.shapes import Text


@given(st.text(max_size=60), st.floats(30, 300))
def test_wrapped_lines_fit_and_lose_no_word(text, width):
    lines = wrap(text, width)
    assert all(text_width(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


@pytest.mark.parametrize(
    ("anchor", "left", "right"), [("start", 0, 1), ("middle", -0.5, 0.5), ("end", -1, 0)]
)
def test_a_text_box_stands_by_its_anchor(anchor, left, right):
    box = text_box(Text(100, 50, "35 g", anchor=anchor))
    width = text_width("35 g")
    assert (box.left, box.right) == pytest.approx((100 + left * width, 100 + right * width))


def test_boxes_that_only_touch_do_not_overlap():
    assert not Box(0, 0, 10, 10).overlaps(Box(10, 0, 20, 10))
    assert Box(0, 0, 10, 10).overlaps(Box(9, 9, 20, 20))


def test_the_first_free_place_is_taken_and_else_the_one_that_covers_least():
    frame, taken = Box(0, 0, 100, 100), [Box(0, 0, 50, 50)]
    assert free_place([(25, 25), (75, 75)], 5, 5, taken, frame) == (75, 75)
    assert free_place([(25, 25), (52, 25)], 5, 5, taken, frame) == (52, 25)
    assert free_place([(200, 200)], 5, 5, taken, frame) == (5, 5)


def test_item_letters_leave_out_those_that_read_as_figures():
    assert tags(9) == list("ABCDEFGHJ")
    assert len(set(tags(100))) == 100
    assert not set(tags(24)) & {"I", "O"}
