"""What the templates about classes and their students receive as `page`."""

from dataclasses import dataclass
from ipaddress import ip_address
from urllib.parse import urlsplit

from flask import request, url_for
from markupsafe import Markup

from app.services.cards import Card
from app.services.classes import ClassDetail, ClassRow
from app.web.forms import SendForm
from app.web.teaching.assignment_pages import Given
from app.web.teaching.class_forms import CardsForm, ClassForm, NamesForm, SettingsForm
from app.web.teaching.names import NameLine

BACKUP_EVERY_DAYS = 7


@dataclass(frozen=True)
class ClassesPage:
    classes: list[ClassRow]
    archived: list[ClassRow]
    days_without_backup: int | None

    @property
    def backup_is_old(self) -> bool:
        return self.days_without_backup is not None and self.days_without_backup > BACKUP_EVERY_DAYS


@dataclass(frozen=True)
class NewClassPage:
    form: ClassForm


@dataclass(frozen=True)
class ClassPage:
    school_class: ClassDetail
    form: CardsForm
    restore_form: SendForm
    only_here: bool
    """Whether cards would name an address that works on this computer alone."""
    given: list[Given]


@dataclass(frozen=True)
class SettingsPage:
    school_class: ClassDetail
    form: SettingsForm
    archive_form: SendForm


@dataclass(frozen=True)
class NamesPage:
    school_class: ClassDetail
    form: NamesForm
    lines: list[NameLine]
    """How the list was read; empty before it was looked at."""
    only_here: bool

    @property
    def faulty(self) -> list[NameLine]:
        return [line for line in self.lines if line.fault]

    @property
    def problems(self) -> list[tuple[str, str]]:
        """For the error summary: where to go and what to do there."""
        return [("names", f"Line {line.number}: {line.fault}") for line in self.faulty]

    @property
    def ready(self) -> bool:
        return bool(self.lines) and not self.faulty


@dataclass(frozen=True)
class PrintedCard:
    display_name: str
    sign_in_name: str
    pass_phrase: str
    qr_code: Markup
    """The sign-in page with the name filled in, as an SVG element."""


@dataclass(frozen=True)
class CardsPage:
    class_name: str
    back: str
    """Where to go when they are printed."""
    cards: list[PrintedCard]
    address: str
    only_here: bool


def cards_page(school_class: ClassDetail, cards: list[Card]) -> CardsPage:
    """The print sheet of cards that were made just now."""
    return cards_sheet(
        school_class.name, cards, url_for("teaching.class_page", class_id=school_class.public_id)
    )


def cards_sheet(class_name: str, cards: list[Card], back: str) -> CardsPage:
    """The same for cards of several classes."""
    printed = [
        PrintedCard(card.display_name, card.sign_in_name, card.pass_phrase, _qr_code(card)) for card in cards
    ]
    return CardsPage(class_name, back, printed, url_for("auth.home", _external=True), only_here())


def only_here() -> bool:
    """Whether this page was opened by an address that other machines can't reach, such as `localhost`."""
    name = urlsplit(request.host_url).hostname or ""
    try:
        return ip_address(name).is_loopback
    except ValueError:
        return name == "localhost"


def _qr_code(card: Card) -> Markup:
    import segno  # slow to load, and cards are seldom made

    url = url_for("auth.sign_in", name=card.sign_in_name, _external=True)
    return Markup(segno.make(url, error="m", micro=False).svg_inline(omitsize=True, svgclass="qr"))  # noqa: S704
