"""Sign-in cards, read back from the PDF by an independent reader (pypdf)."""

import pytest

from app.exports.errors import ExportError
from app.exports.sign_in_cards import SignInCard, sign_in_cards
from tests.exports.examples import claims_pdf_ua, letters, pages, read, tags

ADDRESS = "http://192.168.1.20:8000"
CARDS = [SignInCard(f"Student {n:02}", f"student{n:02}", f"copper-lantern-river-{n:02}") for n in range(23)]


def made(cards: list[SignInCard], address: str = ADDRESS) -> bytes:
    return sign_in_cards(cards, class_name="Period 3", address=address)


def test_ten_cards_stand_on_a_page_and_each_is_whole() -> None:
    texts = pages(read(made(CARDS)))
    assert len(texts) == 3
    for place, card in enumerate(CARDS):
        text = texts[place // 10]
        assert card.student_name in text
        assert card.sign_in_name in text
        assert card.pass_phrase in text
    assert [text.count(ADDRESS) for text in texts] == [10, 10, 3]


def test_what_is_typed_from_a_card_has_no_unseen_characters_in_it() -> None:
    (text,) = pages(read(made([SignInCard("Avery Stone", "a" * 40, "b" * 45)])))
    assert "a" * 40 in text
    assert "b" * 45 in text


def test_very_long_words_stay_whole_on_their_card() -> None:
    (text,) = pages(read(made([SignInCard("Maximiliana-" * 8, "a" * 90, "copper-" * 12)])))
    assert letters("Maximiliana-" * 8) in letters(text)
    assert "a" * 90 in letters(text)
    assert letters("copper-" * 12) in letters(text)


def test_markup_in_a_name_is_printed_as_typed() -> None:
    (text,) = pages(read(made([SignInCard('#import "x" *a*', "$x$", "\\u{41} `b`")])))
    for words in ('#import "x" *a*', "$x$", "\\u{41} `b`"):
        assert words in text


def test_the_cards_are_tagged_and_the_code_says_in_words_what_it_holds() -> None:
    reader = read(made(CARDS[:2]))
    assert claims_pdf_ua(reader)
    assert [tag["/Alt"] for tag in tags(reader) if "/Alt" in tag] == [f"QR code of the address {ADDRESS}"] * 2


@pytest.mark.parametrize(
    ("cards", "address", "field"),
    [
        ([], ADDRESS, "cards"),
        ([CARDS[0], SignInCard("", "b", "c")], ADDRESS, "cards[1].student_name"),
        (CARDS, " ", "address"),
        (CARDS, "http://" + "x" * 3000, "address"),
    ],
)
def test_what_makes_no_card_is_refused_by_name(cards: list[SignInCard], address: str, field: str) -> None:
    with pytest.raises(ExportError) as refused:
        made(cards, address)
    assert refused.value.field == field
