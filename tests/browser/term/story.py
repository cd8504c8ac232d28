"""A term of two classes as tables: who is in them, which labs they are given, and who does what at each.

Moments are days from now, and for work days from the due time: -1 is a day early, 1.25 late by two days
begun.
"""

from dataclasses import dataclass

from app.domain.standing import Counts

TIME_ZONE = "America/Phoenix"
"""Its clocks never change, so that a day is 24 hours on the pages too."""

SHOP, TIMED = "Shop labs", "Timed labs"
WEIGHTS = {SHOP: (60, 1), TIMED: (40, 0)}
"""By category: its weight, and how many of the lowest don't count."""


@dataclass(frozen=True)
class LabRules:
    """A lab as its instructor gives it. after: the lab that comes first, and the percent to reach."""

    title: str
    slug: str
    opens: int
    due: int
    closes: int | None = None
    category: str | None = SHOP
    attempts: int | None = 1
    counts: Counts = Counts.BEST
    late_percent: float = 0
    late_floor: float = 0
    minutes: int | None = None
    practice: bool = False
    after: tuple[int, float] | None = None


LABS = {
    1: LabRules("Lab 1: The shelf", "ounces-and-grams", -40, -30, attempts=3, late_percent=10, late_floor=50),
    2: LabRules("Lab 2: Trial weight", "trial-weight", -35, -25, attempts=2, counts=Counts.LAST),
    3: LabRules("Lab 3: Dots", "dots-and-marks", -30, -20, attempts=None, counts=Counts.AVERAGE),
    4: LabRules("Lab 4: Cone", "cone-and-dimensions", -28, -18, closes=-17, category=TIMED, minutes=30),
    5: LabRules("Lab 5: Cold", "pressure-and-temperature", -22, -12, category=None, practice=True),
    6: LabRules("Lab 6: One plane", "one-plane", -20, -10, after=(1, 50)),
    7: LabRules("Lab 7: Mail van", "mail-van-on-the-right", -14, -6, closes=-3, late_percent=20),
    8: LabRules("Lab 8: Harmonics", "first-harmonic-and-total", 2, 9, category=TIMED),
}
WITH_SHEETS, REGRADED = 7, 3
SHEET_OUT_OF = 5
OWN_QUESTION = "Which wheel of your own family's car would you look at first?"
QUESTIONS = (
    "Everything in this lab is mirrored against the car you know. How did you keep left and right apart?",
    "Load came before comfort here. Name another rule that comes before comfort.",
    OWN_QUESTION,
)
"""Of the reflection sheet: two of the scenario, and the instructor's own."""
NEW_VERSION = ('right = "shake"\npoints = 1', 'right = "shake"\npoints = 2')
"""What is written otherwise in the scenario of the lab that is regraded."""


@dataclass(frozen=True)
class Try:
    """One attempt.

    points: earned by the right answers from the first task on, the rest wrong or left blank. text: what the
    instructor gives for the answer in words, None where it is blank too. minutes: from the start to the last
    answer. left_open: its student never hands it in. in_browser: in the first class, through pages.
    """

    points: float
    days: float = -1
    text: int | None = None
    minutes: int = 20
    left_open: bool = False
    in_browser: bool = False


@dataclass(frozen=True)
class Sheet:
    """What comes of a reflection sheet. points: given with the instructor's last word, None where none are.
    again: that word asks for it again. at_first: the points with which it was asked for again once before,
    and then written anew."""

    points: int | None = None
    again: bool = False
    at_first: int | None = None


@dataclass(frozen=True)
class Kind:
    """What students like this do. sheet: None where nothing is written."""

    count: int
    labs: dict[int, tuple[Try, ...]]
    sheet: Sheet | None = None


KINDS = {
    "steady": Kind(
        8,
        {
            1: (Try(12),),
            2: (Try(12),),
            3: (Try(20),),
            4: (Try(13),),
            5: (Try(17),),
            6: (Try(16),),
            7: (Try(14, text=3),),
        },
        sheet=Sheet(5),
    ),
    "of several attempts": Kind(
        7,
        {
            1: (Try(9, days=-3), Try(4, days=-2)),
            2: (Try(11, days=-3), Try(7, days=-2)),
            3: (Try(9, days=-3), Try(17, days=-2)),
            4: (Try(8),),
            6: (Try(7),),
            7: (Try(14, text=1),),
        },
        sheet=Sheet(3),
    ),
    "late": Kind(
        5,
        {
            1: (Try(12, days=1.25),),
            2: (Try(12, days=1.25),),
            3: (Try(20),),
            4: (Try(12),),
            6: (Try(16),),
            7: (Try(13, days=0.5),),
        },
    ),
    "very late": Kind(
        3,
        {
            1: (Try(12, days=8.5),),
            2: (Try(7),),
            3: (Try(16),),
            4: (Try(6),),
            6: (Try(12),),
            7: (Try(14, text=2),),
        },
        sheet=Sheet(1, again=True),
    ),
    "missing": Kind(2, {1: (Try(2),), 5: (Try(4),)}),
    "excused": Kind(
        1,
        {1: (Try(12),), 3: (Try(20),), 4: (Try(13),), 6: (Try(11),), 7: (Try(14),)},
        sheet=Sheet(),
    ),
    "by hand": Kind(1, {1: (Try(6),), 2: (Try(4),), 4: (Try(8),), 6: (Try(9),), 7: (Try(11),)}),
    "extended": Kind(
        1,
        {
            1: (Try(1, days=-4), Try(2, days=-3), Try(3, days=-2), Try(12)),
            2: (Try(12),),
            3: (Try(20),),
            4: (Try(8, minutes=40, left_open=True),),
            6: (Try(13),),
            7: (Try(14, days=5, text=3, in_browser=True),),
        },
        sheet=Sheet(4, at_first=2),
    ),
    "early": Kind(
        1,
        {
            1: (Try(7),),
            2: (Try(12),),
            3: (Try(17),),
            4: (Try(6),),
            6: (Try(13),),
            7: (Try(14, text=3),),
            8: (Try(10, days=-9, in_browser=True),),
        },
    ),
    "out of time": Kind(
        1,
        {
            1: (Try(12),),
            2: (Try(4, left_open=True),),
            3: (Try(4),),
            4: (Try(6, minutes=29, left_open=True),),
            6: (Try(16),),
            7: (Try(10, days=0.5, left_open=True),),
        },
    ),
}


@dataclass(frozen=True)
class Pupil:
    """number: as the school knows the student."""

    given: str
    family: str
    number: str
    kind: str

    @property
    def name(self) -> str:
        return f"{self.given} {self.family}"

    @property
    def sort_name(self) -> str:
        return f"{self.family}, {self.given}"


GIVEN = ("Ana Lucia", "Bo", "Cleo", "Dario", "Emre", "Freya", "Gus", "Hana", "Ines", "Jory")
FAMILIES = (("Abelson", "Núñez", "Tarrow"), ("Quist", "O’Hallan", "Vey"))
"""Of each class; with ten given names each they are thirty students."""


def pupils(place: int) -> list[Pupil]:
    """The students of a class, kind after kind."""
    kinds = [name for name, kind in KINDS.items() for _ in range(kind.count)]
    names = [(given, family) for family in FAMILIES[place] for given in GIVEN]
    return [
        Pupil(given, family, f"{place + 1}{number:03}", kind)
        for number, ((given, family), kind) in enumerate(zip(names, kinds, strict=True), 1)
    ]
