"""Forms about classes and their students."""

import secrets
from collections.abc import Mapping
from typing import Any
from zoneinfo import available_timezones

from wtforms import HiddenField
from wtforms.validators import StopValidation

from app.domain.measures import UnitSystem
from app.services.classes import LONGEST_CLASS_NAME
from app.web.fields import LongTextField, MultiCheckboxField, TextField, TickField, radio, select
from app.web.formatting import zone_name
from app.web.forms import BaseForm
from app.web.teaching.names import ColumnOrder, NameLine, read_names

COMMON_ZONES = (
    ("America/New_York", "Eastern (New York)"),
    ("America/Chicago", "Central (Chicago)"),
    ("America/Denver", "Mountain (Denver)"),
    ("America/Phoenix", "Mountain, no daylight saving (Phoenix)"),
    ("America/Los_Angeles", "Pacific (Los Angeles)"),
    ("America/Anchorage", "Alaska (Anchorage)"),
    ("Pacific/Honolulu", "Hawaii (Honolulu)"),
)
CONTINENTS = (
    *("Africa", "America", "Antarctica", "Arctic", "Asia", "Atlantic"),
    *("Australia", "Europe", "Indian", "Pacific"),
)


def zone_options() -> dict[str, tuple[tuple[str, str], ...]]:
    """Time zones by heading, the common ones first."""
    common = {name for name, _ in COMMON_ZONES}
    names = sorted(available_timezones() - common)
    by_continent = {
        continent: tuple((name, zone_name(name)) for name in names if name.startswith(continent + "/"))
        for continent in CONTINENTS
    }
    return {"": (("", "Choose a time zone"),), "Common": COMMON_ZONES, **by_continent}


class ClassForm(BaseForm):
    name = TextField(
        "Name of the class",
        longest=LONGEST_CLASS_NAME,
        missing="Give the class a name, like Auto 2, period 3.",
        hint="As students know it, like Auto 2, period 3.",
    )
    time_zone = select(
        "Time zone",
        zone_options(),
        missing="Choose the time zone in which due dates are meant.",
        hint="Due dates and times are shown in it.",
    )
    units = radio(
        "Units on the screen",
        (
            (UnitSystem.US.value, "US customary: ounces, inches, pounds, psi"),
            (UnitSystem.METRIC.value, "Metric: grams, millimeters, newtons, kPa"),
        ),
        missing="Choose the units that the class works in.",
        hint="Students may type an answer in either.",
        default=UnitSystem.US.value,
    )

    def fields(self) -> dict[str, Any]:
        """The entries under the names the service gives them."""
        fields = {name: value for name, value in self.data.items() if name != "csrf_token"}
        return fields | {"units": UnitSystem(self.units.data)}

    def validate_time_zone(self, field: Any) -> None:
        if not field.data:
            raise StopValidation("Choose the time zone in which due dates are meant.")


class SettingsForm(ClassForm):
    calculators_on = TickField("Students may use the calculators during a lab")


class NamesForm(BaseForm):
    names = LongTextField(
        "Students, one a line",
        longest=20_000,
        missing="Type or paste at least one name.",
        hint="“Sam Okafor”, or two spreadsheet columns. Names stay in this class; no e-mail is needed.",
    )
    order = radio(
        "Where a line has two columns or a comma",
        (
            (ColumnOrder.LAST_FIRST.value, "Last name first: Okafor, Sam"),
            (ColumnOrder.FIRST_LAST.value, "First name first: Sam, Okafor"),
        ),
        missing="Choose which name comes first.",
        default=ColumnOrder.LAST_FIRST.value,
    )

    def lines(self, already: Mapping[str, str]) -> list[NameLine]:
        """How each line was read, given what is known of names in the class."""
        return read_names(self.names.data or "", ColumnOrder(self.order.data), already)


LONGEST_ONCE = 12


def fresh_once() -> str:
    return secrets.token_urlsafe(9)


class CardsForm(BaseForm):
    students = MultiCheckboxField("Students", missing="Tick the students who need a new card.")
    once = HiddenField(default=fresh_once)
    """Sent with one page only: reloading the cards must not make newer ones and spoil those just printed."""

    def validate_once(self, field: Any) -> None:
        """It goes into the session's cookie: what no page has sent may not fill that."""
        if len(field.data or "") > LONGEST_ONCE:
            raise StopValidation(self.stale_message)
