"""Who is in the demo class, and when its labs open and are due. Every name is invented."""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

INSTRUCTOR = "Robin Alder"
INSTRUCTOR_SIGN_IN = "robin.alder"
CLASS_NAME = "Automotive Technology II, period 3"
CLASS_TIME_ZONE = "America/Chicago"

STUDENTS = (
    "Ada Birchwood", "Ben Cinder", "Cleo Dunmore", "Dario Elmsley", "Esme Fallow", "Finn Garrow",
    "Gia Hartwell", "Hugo Inskip", "Ivy Jessamy", "Jonas Kestrel", "Kira Lindqvist", "Leo Marrow",
    "Mina Norcross", "Nico Oakhurst", "Opal Pembry", "Petra Quill", "Quinn Rushmore", "Rosa Sandoval-Hay",
    "Sami Thorne", "Tess Underhill", "Uma Vale", "Victor Wexley", "Wren Yarrow", "Zane Zeller",
)  # fmt: skip

OPENING = time(8)
LAST_MINUTE = time(23, 59)

JOINED_LATE = "Zane Zeller"
AWAY = "Uma Vale"
LATE = "Hugo Inskip"
TOLD_AT_THE_MACHINE = "Leo Marrow"


def last_time_of_day(moment: datetime, clock: time) -> datetime:
    """The newest moment, not after this one, at which a clock in the class shows this time."""
    here = moment.astimezone(ZoneInfo(CLASS_TIME_ZONE))
    at = here.replace(hour=clock.hour, minute=clock.minute, second=0, microsecond=0)
    return (at if at <= here else at - timedelta(days=1)).astimezone(UTC)
