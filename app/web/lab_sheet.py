"""A lab as it is shown: its parts, questions and marked answers, for the pages of students and instructors.

Before a lab is handed in only `cautions_of` and `parts_of` may be used: they hold no key. The templates
`components/lab_*.html` draw what is made here, and the job card of `app.drawings.measured.job_card`.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial

from app.domain.answers import Raw, is_blank, listed_order, measure_of, tickable, typed_kind
from app.domain.cautions import CAUTION_WORDS, CautionWords
from app.domain.marking import Mark
from app.domain.measures import Measure, shown_as
from app.domain.scenario import Measurement, Scenario
from app.domain.solutions import SolutionStep, worked_solution
from app.domain.tasks import AnyTask, ChoiceTask, OrderTask, SeveralTask, SpotsTask, TextTask
from app.domain.variants import Variant
from app.drawings.drawing import Drawing
from app.drawings.measured import Measured, measured
from app.drawings.measured.answers import answer_drawings
from app.drawings.wheel_face import CENTRE, TIRE, wheel_face
from app.services.labs import Result
from app.web.marked import VERDICTS, VerdictWords, points_of, points_off

FIELD = "answer-"
"""Before a task's id, the name of its control in the form and the id of its element."""

_SHORT_OPTION = 48
"""Signs of an option that fit on one line of half a sheet."""

_IN_THE_EXAMPLE = {Measure.ANGLE, Measure.TURN, Measure.COUNT}
"""Measures whose example says all: a unit beside the box would only puzzle."""


@dataclass(frozen=True)
class Question:
    """One task as it is asked, with what was typed so far.

    number: part and place, "2.3". kind: text, spots, choice, choices, order, placement or bench; a text of
    words has `longest`. unit: what a number without a unit is in. options: value and label, those of an order
    as they stand in the list. problem: why it can't be read.
    """

    id: str
    number: str
    title: str
    prompt: str
    points: float
    kind: str
    hint: str | None
    unit: str | None
    options: tuple[tuple[str, str], ...]
    longest: int | None
    driver_side: str
    typed: Raw
    problem: str | None
    wheel: "MarkedWheel | None" = None
    """Where spots are marked."""
    hints: "Hints | None" = None

    @property
    def field(self) -> str:
        return FIELD + self.id

    @property
    def first_control(self) -> str:
        """The id of what takes the focus when a fault is followed to its place."""
        if self.kind == "placement":
            return f"{self.id}-LF"
        return self.field if self.kind in ("text", "spots") else f"{self.field}-0"

    @property
    def text(self) -> str:
        return self.typed if isinstance(self.typed, str) else ""

    @property
    def ticked(self) -> list[str]:
        return [self.typed] if isinstance(self.typed, str) else list(self.typed or ())

    @property
    def placed(self) -> dict[str, str]:
        """What was chosen for each position, or typed for each step."""
        return self.typed if isinstance(self.typed, dict) else {}

    @property
    def wide(self) -> bool:
        """Whether it needs the sheet's whole width."""
        long_options = self.kind == "choice" and max(len(text) for _, text in self.options) > _SHORT_OPTION
        return bool(self.longest) or self.kind in ("order", "placement") or long_options

    @property
    def answered(self) -> bool:
        return not is_blank(self.typed)


@dataclass(frozen=True)
class Hints:
    """The texts that were shown with what each cost, and what the next one would; never a text before."""

    shown: tuple[tuple[str, str], ...]
    count: int
    next_cost: float

    @property
    def next_number(self) -> int | None:
        """Of the hint that can be asked for now; None where all were shown."""
        return len(self.shown) + 1 if len(self.shown) < self.count else None

    @property
    def next_cost_words(self) -> str:
        return points_off(self.next_cost)


@dataclass(frozen=True)
class MarkedWheel:
    """The wheel's face to mark spots on, with its place in the drawing, for the script that reads a click."""

    drawing: Drawing
    centre_x: float
    centre_y: float
    radius: float


MARKED_WHEEL = MarkedWheel(wheel_face(), *CENTRE, TIRE)


@dataclass(frozen=True)
class Part:
    """A part of the lab: what is told, what is measured, what is asked."""

    number: str
    title: str
    text: str
    measure: Callable[[], tuple[Measured, ...]]
    questions: tuple[Question, ...]

    @cached_property
    def measurements(self) -> tuple[Measured, ...]:
        """Drawn when they are first asked for: a page that has them already doesn't."""
        return self.measure()


@dataclass(frozen=True)
class MarkedAnswer:
    """One answer with its mark. drawing: the own answer beside the computed one. solution: worked with the
    student's own numbers; empty where there is none, or it isn't shown yet."""

    question: Question
    mark: Mark
    verdict: VerdictWords
    points: str
    explanation: str | None
    comment: str
    drawing: Drawing | None
    solution: tuple[SolutionStep, ...]


@dataclass(frozen=True)
class MarkedPart:
    number: str
    title: str
    answers: tuple[MarkedAnswer, ...]


def cautions_of(scenario: Scenario) -> tuple[CautionWords, ...]:
    return tuple(CAUTION_WORDS[caution] for caution in scenario.cautions)


def parts_of(
    variant: Variant,
    answers: Mapping[str, Raw] | None = None,
    problems: Mapping[str, str] | None = None,
    hints: Mapping[str, int] | None = None,
) -> tuple[Part, ...]:
    """The parts of a variant, with answers as sent and the problems of those that can't be read.

    hints: how many were shown, by task.
    """
    answers, problems = answers or {}, problems or {}
    return tuple(
        Part(
            number=str(place),
            title=part.title,
            text=part.text,
            measure=partial(_measurements, variant, part.shows),
            questions=_questions(variant, place, answers, problems, hints or {}),
        )
        for place, part in enumerate(variant.scenario.lab_parts, 1)
    )


def _measurements(variant: Variant, shows: Sequence[Measurement]) -> tuple[Measured, ...]:
    return tuple(measured(shown, variant) for shown in shows)


def asked(parts: Sequence[Part]) -> list[Question]:
    """The questions of the parts that are answered by typing or choosing, not by work at the bench."""
    return [question for part in parts for question in part.questions if question.kind != "bench"]


def _questions(
    variant: Variant,
    place: int,
    answers: Mapping[str, Raw],
    problems: Mapping[str, str],
    hints: Mapping[str, int],
) -> tuple[Question, ...]:
    return tuple(
        Question(
            id=task.id,
            number=f"{place}.{number}",
            title=task.title,
            prompt=task.prompt,
            points=task.points,
            kind=typed_kind(task),
            hint=hint,
            unit=unit,
            options=_options(task, variant, answers.get(task.id)),
            longest=task.longest if isinstance(task, TextTask) else None,
            driver_side=variant.scenario.vehicle.drive_side,
            typed=answers.get(task.id),
            problem=problems.get(task.id),
            wheel=MARKED_WHEEL if isinstance(task, SpotsTask) else None,
            hints=_hints(task, hints.get(task.id, 0)),
        )
        for number, task in enumerate(variant.scenario.lab_parts[place - 1].tasks, 1)
        for hint, unit in [_hint_and_unit(task, variant)]
    )


def _hints(task: AnyTask, shown: int) -> Hints | None:
    if not task.hints:
        return None
    following = task.hints[shown] if shown < len(task.hints) else None
    return Hints(
        shown=tuple((hint.text, points_off(hint.cost)) for hint in task.hints[:shown]),
        count=len(task.hints),
        next_cost=following.cost if following else 0.0,
    )


def _hint_and_unit(task: AnyTask, variant: Variant) -> tuple[str | None, str | None]:
    """How a number may be typed, and the unit that it has when none is typed."""
    measure = measure_of(task)
    if measure is None:
        return None, None
    shown = shown_as(measure, variant.units)
    return f"Like {shown.example}", None if measure in _IN_THE_EXAMPLE else shown.unit


def _options(task: AnyTask, variant: Variant, typed: Raw) -> tuple[tuple[str, str], ...]:
    if isinstance(task, ChoiceTask):
        return tuple((option.id, option.text) for option in task.options)
    if isinstance(task, OrderTask):
        return tuple((name, task.step(name).text) for name in listed_order(task, typed, variant.seed))
    if isinstance(task, SeveralTask):
        return tickable(task, variant.scenario)
    return tuple((letter, f"Assembly {letter}") for letter in variant.scenario.assembly_ids)


def marked_parts(result: Result, *, solutions: bool = False) -> tuple[MarkedPart, ...]:
    """The answers of a handed-in lab with their marks, part by part; with worked solutions, or without."""
    lab = result.lab
    return marked_answers(
        lab.variant,
        lab.answers,
        result.marks,
        comments=result.comments,
        hints=lab.hints,
        solutions=solutions,
    )


def marked_answers(
    variant: Variant,
    answers: Mapping[str, Raw],
    given: Sequence[Mark],
    *,
    comments: Mapping[str, str],
    hints: Mapping[str, int],
    solutions: bool,
) -> tuple[MarkedPart, ...]:
    """Answers with the marks that were given for them, part by part; hints: how many were shown, by task."""
    marks = {mark.task_id: mark for mark in given}
    drawings = answer_drawings(variant, answers)
    tasks = {task.id: task for task in variant.scenario.tasks}
    return tuple(
        MarkedPart(
            number=str(place),
            title=part.title,
            answers=tuple(
                MarkedAnswer(
                    question=question,
                    mark=mark,
                    verdict=VERDICTS[mark.verdict],
                    points=points_of(mark),
                    explanation=tasks[question.id].explain,
                    comment=comments.get(question.id, ""),
                    drawing=drawings.get(question.id),
                    solution=worked_solution(variant, tasks[question.id]) if solutions else (),
                )
                for question in _questions(variant, place, answers, {}, hints)
                if (mark := marks.get(question.id)) is not None
            ),
        )
        for place, part in enumerate(variant.scenario.lab_parts, 1)
    )
