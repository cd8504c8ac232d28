"""What the templates of the library receive as `page`."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.domain.cautions import CautionWords
from app.domain.scenario import Scenario
from app.domain.variants import Variant
from app.drawings.measured.job_card import JobCard, job_card
from app.services.classes import ClassRow
from app.services.scenarios import KeyRow, Sample, ScenarioCard
from app.web.lab_sheet import Part, Question, cautions_of, parts_of

MOST_SAMPLES = 9999
UNITS = {"us": "US customary", "metric": "metric"}


@dataclass(frozen=True)
class ScenariosPage:
    cards: list[ScenarioCard]


@dataclass(frozen=True)
class SamplePart:
    """A part as the student gets it, and the key to its tasks."""

    part: Part
    answers: tuple[tuple[Question, KeyRow], ...]


@dataclass(frozen=True)
class ScenarioPage:
    card: ScenarioCard
    variant: Variant
    job: JobCard
    number: int
    """Of the sample; the same number always draws the same variant."""
    units: str
    parts: tuple[SamplePart, ...]

    @property
    def scenario(self) -> Scenario:
        return self.variant.scenario

    @property
    def cautions(self) -> tuple[CautionWords, ...]:
        return cautions_of(self.scenario)

    @property
    def another(self) -> int:
        return self.number % MOST_SAMPLES + 1

    @property
    def unit_choices(self) -> list[tuple[str, str, bool]]:
        """Value, label and whether it is the one shown."""
        return [(value, label, value == self.units) for value, label in UNITS.items()]


def scenario_page(sample: Sample, number: int, units: str) -> ScenarioPage:
    key = {row.task_id: row for row in sample.key}
    parts = tuple(
        SamplePart(part, tuple((question, key[question.id]) for question in part.questions))
        for part in parts_of(sample.variant)
    )
    return ScenarioPage(sample.card, sample.variant, job_card(sample.variant), number, units, parts)


def asked_sample(typed: str) -> int:
    """The number of the sample that an address asks for; the first where it names none there is."""
    if typed.isascii() and typed.isdigit() and len(typed) <= len(str(MOST_SAMPLES)):
        return max(1, int(typed))
    return 1


def asked_units(typed: str, classes: Sequence[ClassRow]) -> str:
    """The units that an address asks for, else those of the instructor's newest class."""
    if typed in UNITS:
        return typed
    return str(classes[-1].units) if classes else "us"
