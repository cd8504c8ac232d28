"""Times that an instructor types in the class's own time zone."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from wtforms import Field
from wtforms.validators import StopValidation, ValidationError
from wtforms.widgets import DateTimeLocalInput

from app.web.fields import made_visible
from app.web.formatting import zone_name

FORMATS = ("%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M")
"""The first is what browsers show and send; some add seconds, and a person may type a space."""
FIRST_YEAR, LAST_YEAR = 2000, 2100
MINUTE = timedelta(minutes=1)


class UnsureTimeError(ValueError):
    """A local time that the zone's clocks never show, or show twice; the message says what to choose."""


def in_utc(local: datetime, zone: str) -> datetime:
    """The moment at which the zone's clocks show `local` (which has no zone of its own), aware, in UTC.

    Raises UnsureTimeError where the clocks are set forward over it or back to it: a due time is a promise, so
    it is not guessed.
    """
    first, second = _readings(local, zone)
    if first.utcoffset() == second.utcoffset():
        return first.astimezone(UTC)
    before, after = _unsure_span(local, zone)
    skipped = first.astimezone(UTC).astimezone(ZoneInfo(zone)).replace(tzinfo=None) != local
    what = "is skipped: clocks are set forward over it" if skipped else "comes twice: clocks are set back"
    raise UnsureTimeError(
        f"In {zone_name(zone)}, {clock_text(local)} on {local:%B} {local.day} {what}. "
        f"Choose a time before {clock_text(before)} or from {clock_text(after)} on."
    )


def _readings(local: datetime, zone: str) -> tuple[datetime, datetime]:
    """Both ways to read a local time; they differ only next to a change of the clocks (PEP 495)."""
    return local.replace(tzinfo=ZoneInfo(zone), fold=0), local.replace(tzinfo=ZoneInfo(zone), fold=1)


def _unsure_span(local: datetime, zone: str) -> tuple[datetime, datetime]:
    """The first unsure local time round an unsure one, and the first sure one after it."""

    def unsure(at: datetime) -> bool:
        first, second = _readings(at, zone)
        return first.utcoffset() != second.utcoffset()

    start = end = local.replace(second=0)
    while unsure(start - MINUTE):
        start -= MINUTE
    while unsure(end):
        end += MINUTE
    return start, end


def clock_text(local: datetime) -> str:
    """`2:05 PM`."""
    return f"{local.hour % 12 or 12}:{local:%M} {'AM' if local.hour < 12 else 'PM'}"


def in_zone(moment: datetime, zone: str) -> datetime:
    """What the zone's clocks show at an aware moment, to the minute, as a field takes it."""
    return moment.astimezone(ZoneInfo(zone)).replace(tzinfo=None, second=0, microsecond=0)


class LocalTimeField(Field):
    """A day and a time in a zone that may be known only once the form is read: `place_in` it, then `moment`.

    `data` is without a zone; it shows again exactly what was sent. Required when it is given `missing`.
    """

    widget = DateTimeLocalInput()

    def __init__(self, label: str, *, missing: str | None = None, hint: str = "", **more: Any) -> None:
        super().__init__(label, description=hint, **more)
        self.missing = missing
        self.moment: datetime | None = None

    def _value(self) -> str:
        if self.raw_data:
            return made_visible(str(self.raw_data[0]))
        return self.data.strftime(FORMATS[0]) if self.data else ""

    def process_formdata(self, valuelist: Sequence[str]) -> None:
        self.data = None
        typed = valuelist[0].strip() if valuelist else ""
        if not typed:
            return
        local = _parsed(typed)
        if local is None:
            raise ValueError("Choose a day and a time, like 2030-03-08 15:00.")
        if not FIRST_YEAR <= local.year <= LAST_YEAR:
            raise ValueError(f"Choose a day from the years {FIRST_YEAR} to {LAST_YEAR}.")
        self.data = local

    def pre_validate(self, form: Any) -> None:  # noqa: ARG002 (WTForms passes it)
        if self.data is None and not self.process_errors and self.missing:
            raise StopValidation(self.missing)

    @property
    def sure_moment(self) -> datetime:
        """The moment of a required field in a valid form."""
        if self.moment is None:
            raise ValueError(f"{self.name} has no moment yet")
        return self.moment

    def place_in(self, zone: str | None) -> None:
        """Find the moment that is meant; nothing while no class, and so no zone, is chosen."""
        if self.data is None or zone is None:
            return
        try:
            self.moment = in_utc(self.data, zone)
        except UnsureTimeError as error:
            raise ValidationError(str(error)) from error


def _parsed(typed: str) -> datetime | None:
    for form in FORMATS:
        try:
            return datetime.strptime(typed, form)  # noqa: DTZ007 (its zone is the class's)
        except ValueError:
            continue
    return None
