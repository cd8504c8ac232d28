"""Sign-in cards of a class to print and cut apart."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass

from app.exports.errors import ExportError, require_visible
from app.exports.qr_codes import qr_code
from app.exports.typesetting import Paper, typeset


@dataclass(frozen=True)
class SignInCard:
    """What one student needs to sign in."""

    student_name: str
    sign_in_name: str
    pass_phrase: str


def sign_in_cards(
    cards: Sequence[SignInCard], *, class_name: str, address: str, paper: Paper = "us-letter"
) -> bytes:
    """A tagged PDF of ten cards a page with cut lines; the QR code holds the address and no secret.

    Raises ExportError when there is no card, a name or the address is empty, or the address is too long for a
    QR code.
    """
    if not cards:
        raise ExportError("cards", "there is no card to print; add students to the class first")
    for number, card in enumerate(cards):
        require_visible(f"cards[{number}].student_name", card.student_name, "give the student a name")
    return typeset(
        "sign_in_cards.typ",
        {
            "title": f"Sign-in cards: {class_name}",
            "class_name": class_name,
            "address": address,
            "paper": paper,
            "cards": [asdict(card) for card in cards],
        },
        {"address.svg": qr_code(address)},
    )
