"""What the trial of a draft and the preview of its answers show."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from app.domain.answers import Raw
from app.domain.authored.advice import Advice, Verdict, advice
from app.domain.authored.spread import NumberSpread, Preview, WordSpread, preview
from app.domain.cautions import CautionWords
from app.domain.marking import mark_all, option_text
from app.domain.measures import Measure, UnitSystem, shown_as
from app.domain.scenario import Scenario
from app.domain.tasks import AnyTask, ChoiceTask
from app.domain.variants import Variant
from app.drawings.drawing import Drawing
from app.drawings.histogram import histogram, rose
from app.drawings.measured.job_card import JobCard, job_card
from app.services.authoring import Draft
from app.web.formatting import UNIT_NAMES, number
from app.web.forms import SendForm
from app.web.lab_sheet import MarkedPart, Part, cautions_of, marked_answers, parts_of
from app.web.teaching.authoring.naming import message_in_words
from app.web.teaching.scenario_pages import MOST_SAMPLES

TRIAL = "teaching/authoring/try_draft.html"
"""The template of a trial, of a draft and of a scenario of the library alike."""

UnitChoices = list[tuple[UnitSystem, str, bool]]


@dataclass(frozen=True)
class NotYetPage:
    draft: Draft


@dataclass(frozen=True)
class Trial:
    """A lab to try. number: of the sample; here and back: the addresses of the trial and of its origin."""

    title: str
    variant: Variant
    number: int
    here: str
    back: str


@dataclass(frozen=True)
class TrialPage:
    """marked: None until answers were sent."""

    trial: Trial
    form: SendForm
    job: JobCard
    cautions: tuple[CautionWords, ...]
    parts: tuple[Part, ...]
    marked: tuple[MarkedPart, ...] | None
    score: str
    has_bench: bool

    @property
    def units(self) -> UnitSystem:
        return self.trial.variant.units

    @property
    def another(self) -> int:
        return self.trial.number % MOST_SAMPLES + 1

    @property
    def unit_choices(self) -> UnitChoices:
        return _unit_choices(self.units)


def trial_page(trial: Trial, answers: Mapping[str, Raw], *, marked: bool) -> TrialPage:
    """The lab with the answers in it, and as a student's would be marked where that is asked for."""
    variant = trial.variant
    marks = mark_all(variant, answers) if marked else []
    earned = sum(mark.points for mark in marks)
    return TrialPage(
        trial=trial,
        form=SendForm(),
        job=job_card(variant),
        cautions=cautions_of(variant.scenario),
        parts=parts_of(variant, answers),
        marked=marked_answers(variant, answers, marks, comments={}, hints={}, solutions=True)
        if marked
        else None,
        score=f"{number(earned)} of {number(variant.scenario.out_of)} points",
        has_bench=variant.scenario.bench is not None,
    )


@dataclass(frozen=True)
class AdviceInWords:
    verdict: str
    kind: str
    sentence: str


@dataclass(frozen=True)
class Answers:
    """The right answers to one question. drawing: of numbers; counts: of words, with how often."""

    title: str
    drawing: Drawing | None
    counts: tuple[tuple[str, int], ...]
    advice: AdviceInWords | None


@dataclass(frozen=True)
class PreviewPage:
    draft: Draft
    scenario: Scenario
    units: UnitSystem
    preview: Preview
    advice: Mapping[str, Advice]

    @property
    def thrown(self) -> str:
        return f"{round(100 * self.preview.thrown / self.preview.count)} %"

    @property
    def reasons(self) -> list[tuple[str, int]]:
        return [
            (message_in_words(self.draft.document, each.reason), each.draws) for each in self.preview.reasons
        ]

    @cached_property
    def answers(self) -> list[Answers]:
        return [self._answers(each) for each in self.preview.spreads]

    @property
    def unit_choices(self) -> UnitChoices:
        return _unit_choices(self.units)

    @cached_property
    def _titles(self) -> Mapping[str, str]:
        """Each question with its number, as the lab counts them."""
        return {
            task.id: f"{part}.{place} {task.title}"
            for part, lab_part in enumerate(self.scenario.lab_parts, 1)
            for place, task in enumerate(lab_part.tasks, 1)
        }

    def _answers(self, spread: NumberSpread | WordSpread) -> Answers:
        title = self._titles[spread.task.id]
        if isinstance(spread, WordSpread):
            counts = tuple((_option(spread.task, word), count) for word, count in spread.counts)
            return Answers(title, None, counts, None)
        found = self.advice.get(spread.task.id)
        return Answers(
            title,
            _drawing(spread, self.units),
            (),
            _in_words(found, self.units) if found else None,
        )


def preview_page(draft: Draft, scenario: Scenario, units: UnitSystem) -> PreviewPage:
    found = {each.task.id: each for each in advice(scenario, units)}
    return PreviewPage(draft, scenario, units, preview(scenario, units), found)


def _drawing(spread: NumberSpread, units: UnitSystem) -> Drawing:
    title = f"{spread.task.title}: {len(spread.values)} variants"
    if spread.measure is Measure.ANGLE:
        return rose(spread.values.tolist(), title=title)
    shown = shown_as(spread.measure, units)
    name = f"{spread.measure.value}, {shown.unit}" if shown.unit else spread.measure.value
    return histogram((spread.values / shown.factor).tolist(), name=name, title=title)


def _option(task: AnyTask, word: str) -> str:
    return option_text(task, word) if isinstance(task, ChoiceTask) else word


_KINDS = {Verdict.TOO_TIGHT: "bad", Verdict.FAIR: "good", Verdict.WRONG_PASSES: "bad"}


def _in_words(found: Advice, units: UnitSystem) -> AdviceInWords:
    moves, tolerance = (_plus_minus(each, found.measure, units) for each in (found.moves, found.tolerance))
    said = f"The readings alone move this answer by {moves} (95 %); your tolerance is {tolerance}"
    if found.moves == 0:
        said = f"The readings alone don’t move this answer; your tolerance is {tolerance}"
    match found.verdict:
        case Verdict.TOO_TIGHT:
            sentence = f"{said}: {1 - found.kept:.0%} of careful students would be marked wrong."
        case Verdict.WRONG_PASSES:
            sentence = f"{said}. So wide that a wrong turn often passes: {found.passes}"
        case Verdict.FAIR:
            sentence = f"{said}."
    return AdviceInWords(found.verdict.value, _KINDS[found.verdict], sentence)


def _plus_minus(value: float, measure: Measure, units: UnitSystem) -> str:
    """Two figures that count, in the class's unit: `±0.33 g`, `±0.012 in`."""
    shown = shown_as(measure, units)
    return f"±{float(f'{value / shown.factor:.2g}'):g} {shown.unit}".rstrip().replace(" °", "°")


def _unit_choices(units: UnitSystem) -> UnitChoices:
    return [(each, name, each is units) for each, name in UNIT_NAMES.items()]
