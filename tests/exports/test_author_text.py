"""Authors' markdown as blocks. Which marks mean what: the CommonMark specification."""

import pytest

from app.exports.author_text import blocks_of


def shown(text: str) -> list[tuple[str, str, str]]:
    return [
        (str(block["kind"]), str(block["mark"]), "".join(str(run["text"]) for run in block["runs"]))  # type: ignore[attr-defined]
        for block in blocks_of(text)
    ]


def test_paragraphs_headings_and_lists_come_in_order():
    text = "Two\nlines.\n\n# Head\n\n- one\n- two\n\n3. three\n4. four\n\n   more of four\n\n> said"
    assert shown(text) == [
        ("paragraph", "", "Two lines."),
        ("heading", "", "Head"),
        ("item", "•", "one"),
        ("item", "•", "two"),
        ("item", "3.", "three"),
        ("item", "4.", "four"),
        ("paragraph", "", "more of four"),
        ("paragraph", "", "said"),
    ]


def test_a_table_s_rows_are_lines():
    assert shown("| a | b |\n|---|---|\n| 1 | 2 |") == [
        ("paragraph", "", "a | b"),
        ("paragraph", "", "1 | 2"),
    ]


def test_bold_and_slanted_words_are_runs():
    [block] = blocks_of("plain **bold *both*** *slanted* `code` [link](https://example.org)")
    runs = [(run["text"], run["strong"], run["emphasis"]) for run in block["runs"]]  # type: ignore[attr-defined]
    assert runs == [
        ("plain ", False, False),
        ("bold ", True, False),
        ("both", True, True),
        (" ", False, False),
        ("slanted", False, True),
        (" ", False, False),
        ("code", False, False),
        (" ", False, False),
        ("link", False, False),
    ]


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", '#import "x"', "$x$ @label #sys", "    <b>code</b>"]
)
def test_what_is_no_markdown_stays_as_typed(text):
    assert "".join(words for _, _, words in shown(text)) == text.strip()
