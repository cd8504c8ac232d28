"""What the templates of the library receive as `page`."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.domain.cautions import CautionWords
from app.domain.measures import UnitSystem
from app.domain.scenario import Scenario
from app.domain.variants import Variant
from app.drawings.measured.job_card import JobCard, job_card
from app.services.authoring_publishing import History
from app.services.classes import ClassRow
from app.services.scenarios import KeyRow, Sample, ScenarioCard
from app.web.formatting import UNIT_NAMES
from app.web.forms import SendForm
from app.web.lab_sheet import Part, Question, cautions_of, parts_of

MOST_SAMPLES = 9999


@dataclass(frozen=True)
class ScenariosPage:
    """archived: public id and title of those that are put away."""

    cards: list[ScenarioCard]
    archived: Sequence[tuple[str, str]] = ()


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
    units: UnitSystem
    parts: tuple[SamplePart, ...]
    history: History
    form: SendForm

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
    def unit_choices(self) -> list[tuple[UnitSystem, str, bool]]:
        """Value, label and whether it is the one shown."""
        return [(units, name, units is self.units) for units, name in UNIT_NAMES.items()]


def scenario_page(sample: Sample, number: int, units: UnitSystem, history: History) -> ScenarioPage:
    key = {row.task_id: row for row in sample.key}
    every_hint = {task.id: len(task.hints) for task in sample.variant.scenario.tasks}
    parts = tuple(
        SamplePart(part, tuple((question, key[question.id]) for question in part.questions))
        for part in parts_of(sample.variant, hints=every_hint)
    )
    job = job_card(sample.variant)
    return ScenarioPage(sample.card, sample.variant, job, number, units, parts, history, SendForm())


def asked_sample(typed: str) -> int:
    """The number of the sample that an address asks for; the first where it names none there is."""
    if typed.isascii() and typed.isdigit() and len(typed) <= len(str(MOST_SAMPLES)):
        return max(1, int(typed))
    return 1


def asked_units(typed: str, classes: Sequence[ClassRow]) -> UnitSystem:
    """The units that an address asks for, else those of the instructor's last class by name."""
    if typed in set(UnitSystem):
        return UnitSystem(typed)
    return classes[-1].units if classes else UnitSystem.US
