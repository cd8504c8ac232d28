"""What the templates of the library receive as `page`."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from app.domain.cautions import CautionWords
from app.domain.measures import UnitSystem
from app.domain.scenario import Level, Scenario
from app.domain.variants import Variant
from app.drawings.measured.job_card import JobCard, job_card
from app.services.authoring_publishing import History
from app.services.classes import ClassRow
from app.services.scenarios import KeyRow, Sample, ScenarioCard
from app.web.fields import made_visible
from app.web.formatting import UNIT_NAMES
from app.web.forms import SendForm
from app.web.lab_sheet import Part, Question, cautions_of, parts_of

MOST_SAMPLES = 9999
LONGEST_SEARCH = 60


LEVEL_WORDS = {
    Level.FIRST_STEPS: "One idea at a time. Begin here, from the top.",
    Level.PRACTICE: "One job at a time, for those who took the first steps.",
    Level.CAPSTONE: "A whole set from the first look to the last torque, for the end of the unit.",
}


@dataclass(frozen=True)
class ScenariosPage:
    """cards: in the order of a course. find: the words that the shown ones have, in any order.

    class_id and class_name: the class that one is to be given to, where the way came from a class.
    archived: public id and title of those that are put away.
    """

    cards: list[ScenarioCard]
    archived: Sequence[tuple[str, str]] = ()
    find: str = ""
    class_id: str = ""
    class_name: str = ""

    @property
    def levels(self) -> list[tuple[Level, str, list[tuple[int, ScenarioCard]]]]:
        """Each level that has some to show, what it is for, and its scenarios by place in the course."""
        shown = [(place, card) for place, card in enumerate(self.cards, start=1) if self._shows(card)]
        levels = [(level, [each for each in shown if each[1].level is level]) for level in Level]
        return [(level, LEVEL_WORDS[level], cards) for level, cards in levels if cards]

    def _shows(self, card: ScenarioCard) -> bool:
        text = " ".join((card.title, card.summary, *card.skills)).casefold()
        return all(word in text for word in self.find.casefold().split())


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


def scenarios_page(
    cards: list[ScenarioCard],
    archived: Sequence[tuple[str, str]],
    classes: Sequence[ClassRow],
    query: Mapping[str, str],
) -> ScenariosPage:
    """The library as an address asks for it: `?find=` some words, `?class=` for one of the own classes."""
    asked = next((row for row in classes if row.public_id == query.get("class")), None)
    return ScenariosPage(
        cards,
        archived,
        find=made_visible(" ".join(query.get("find", "").split())[:LONGEST_SEARCH]),
        class_id=asked.public_id if asked else "",
        class_name=asked.name if asked else "",
    )


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
