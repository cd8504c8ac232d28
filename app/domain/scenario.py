"""The authored job: what an instructor writes in `scenario.toml`. All faults of a file are named at once.

A number may be fixed, a range (`{ low = 10, high = 40, step = 1 }`) or one of a list
(`{ one_of = [5, 10] }`); each student's variant draws its own. Parsed scenarios are frozen; equal files give
equal scenarios.
"""

import json
import tomllib
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cached_property
from typing import Annotated, Literal, Self

from pydantic import Field, ValidationError, model_validator

from app.domain.assembly_sheets import AssemblySheet
from app.domain.bench_sheets import BenchSheet
from app.domain.faults import Fault, faults_from
from app.domain.road_sheets import TemperatureSheet, VibrationSheet
from app.domain.sheets import (
    AuthoredTable,
    Drawn,
    DrawnAboveZero,
    Letter,
    Line,
    Positive,
    Slug,
    Text,
    repeated,
)
from app.domain.tasks import AnyTask, Task, for_each_assembly

LARGEST_FILE = 200_000
MOST_TASKS = 150
MOST_POINTS_IN_A_LINE = 100
"""Time and memory of tomllib rise with the square of a dotted key's length."""


class ScenarioFaults(ValueError):  # noqa: N818 -- says what is so
    """A scenario that can't be used; `faults` names each place and what is allowed there."""

    def __init__(self, faults: list[Fault]) -> None:
        super().__init__("; ".join(str(fault) for fault in faults))
        self.faults = faults


class Level(StrEnum):
    FIRST_STEPS = "first steps"
    PRACTICE = "practice"
    CAPSTONE = "capstone"


class Caution(StrEnum):
    """Dangers of the work; the words shown for each stand in `app.domain.cautions`."""

    LIFTING = "lifting"
    BEAD_SEATING = "bead seating"
    SPINNING = "spinning"
    TORQUE = "torque"
    DAMAGED_TIRE = "damaged tire"
    PRESSURE = "pressure"


class StockSheet(AuthoredTable):
    """The weights on the shelf, and the balancer's step and dead band, in g or oz by the table."""

    step: Positive
    dead_band: Annotated[float, Field(ge=0, le=100)]
    pieces: Annotated[tuple[Positive, ...], Field(min_length=1, max_length=24)]

    @model_validator(mode="after")
    def _distinct_pieces(self) -> Self:
        if twice := repeated(self.pieces):
            raise ValueError(f"pieces hold {twice} twice; give each size once")
        return self


class TrialSheet(AuthoredTable):
    """A trial run, for lessons on balancing by experiment: the weight that is tried in the inboard plane.

    response: the reading that one gram there makes; lag_deg: how far behind it the reading shows.
    """

    mass_g: DrawnAboveZero
    angle_deg: Drawn
    response: DrawnAboveZero
    lag_deg: Drawn = 0.0


class MachineSheet(AuthoredTable):
    metric: StockSheet = StockSheet(
        step=5.0, dead_band=5.0, pieces=(5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60)
    )
    us: StockSheet = StockSheet(
        step=0.25, dead_band=0.25, pieces=(0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0)
    )
    max_pieces: Annotated[int, Field(ge=1, le=6)] = 2
    width_error_mm: Drawn = 0.0
    """How much too wide the rim width was typed in, for lessons on wrong dimensions; negative: too narrow."""
    diameter_error_mm: Drawn = 0.0
    """How much too large the rim diameter was typed in; negative: too small."""
    trial: TrialSheet | None = None


class PlacardSheet(AuthoredTable):
    """rear_size: where the rear axle takes another size or a greater load index than the front."""

    size: Line
    rear_size: Line | None = None
    front_kpa: Positive
    rear_kpa: Positive


class VehicleSheet(AuthoredTable):
    description: Line
    concern: Text
    drive_side: Literal["left", "right"]
    placard: PlacardSheet
    wheel_torque_nm: Positive
    service_date: date
    first_harmonic_limit_n: Positive | None = None
    total_force_limit_n: Positive | None = None
    oldest_tire_years: Annotated[int, Field(ge=1, le=30)] | None = None
    rear_share: Annotated[float, Field(ge=0, le=1)] = 0.3
    temperature: TemperatureSheet | None = None
    vibration: VibrationSheet | None = None


class Measurement(AuthoredTable):
    """Something that the student sees measured: a drawing with its table."""

    kind: Literal[
        "cones",
        "rim",
        "heavy spots",
        "balancer",
        "entered width",
        "entered diameter",
        "flange",
        "spokes",
        "shelf label",
        "half turn",
        "trial run",
        "tread",
        "tread on the hub",
        "bead seats",
        "force trace",
        "force report",
        "two measurements",
        "sidewalls",
        "uniformity",
        "load table",
        "dots",
        "lateral forces",
        "as it came",
        "force and conicity",
        "pressures",
        "vibration",
        "unbalance",
    ]
    assemblies: tuple[Letter, ...] = ()
    caption: Text | None = None


class PartSheet(AuthoredTable):
    title: Line
    text: Text
    shows: Annotated[tuple[Measurement, ...], Field(max_length=12)] = ()
    tasks: Annotated[tuple[Task, ...], Field(max_length=40)] = ()


class PromptSheet(AuthoredTable):
    id: Slug
    text: Text


class TeacherSheet(AuthoredTable):
    aim: Text
    prior_knowledge: Text
    common_mistakes: Text
    discuss: Text


class NeedSheet(AuthoredTable):
    """Values of a choice, each of which must be that of at least one assembly, whatever the numbers are."""

    quantity: Line
    values: Annotated[tuple[Slug, ...], Field(min_length=1, max_length=8)]


class WellPosedSheet(AuthoredTable):
    """Margins that a drawn variant must keep so that each answer is determined."""

    placement_share: Annotated[float, Field(ge=0, le=0.5)] = 0.02
    stock_margin_g: Annotated[float, Field(ge=0, le=5)] = 0.5
    limit_margin_n: Annotated[float, Field(ge=0, le=50)] = 3.0
    needs_decisions: tuple[Literal["fit", "match-mount", "replace"], ...] = ()
    """Decisions that must each occur at least once among the assemblies of every variant."""
    needs: Annotated[tuple[NeedSheet, ...], Field(max_length=4)] = ()


class Scenario(AuthoredTable):
    format: Literal[1]
    id: Slug
    title: Line
    summary: Text
    level: Level
    course_place: Annotated[int, Field(ge=1, le=9999)] = 9999
    """Where it stands among those of its level in the library: the lower first."""
    minutes: Annotated[int, Field(ge=5, le=300)]
    skills: Annotated[tuple[Line, ...], Field(min_length=1, max_length=20)]
    task_list_code: Line | None = None
    """Where the lab stands in the task list of the program's accreditation, as the instructor writes it."""
    cautions: tuple[Caution, ...]
    vehicle: VehicleSheet
    machine: MachineSheet = MachineSheet()
    bench: BenchSheet | None = None
    assemblies: Annotated[tuple[AssemblySheet, ...], Field(min_length=1, max_length=8)]
    parts: Annotated[tuple[PartSheet, ...], Field(min_length=1, max_length=12)]
    reflection: Annotated[tuple[PromptSheet, ...], Field(max_length=12)] = ()
    teacher: TeacherSheet
    well_posed: WellPosedSheet = WellPosedSheet()

    @model_validator(mode="after")
    def _distinct(self) -> Self:
        for what, names in (
            ("assemblies", [assembly.id for assembly in self.assemblies]),
            ("tasks", [task.id for task in self.tasks]),
            ("reflection prompts", [prompt.id for prompt in self.reflection]),
        ):
            if twice := repeated(names):
                raise ValueError(f"two {what} have the id {twice}; give each its own")
        if len(self.tasks) > MOST_TASKS:
            raise ValueError(f"asks {len(self.tasks)} questions; a lab has at most {MOST_TASKS}")
        return self

    @cached_property
    def lab_parts(self) -> tuple["LabPart", ...]:
        """The parts as a student sees them: tasks that ask every assembly stand there once for each."""
        letters = tuple(assembly.id for assembly in self.assemblies)
        all_tasks = [task for part in self.parts for task in part.tasks]
        return tuple(
            LabPart(
                part.title, part.text, part.shows, for_each_assembly(part.tasks, letters, among=all_tasks)
            )
            for part in self.parts
        )

    @cached_property
    def tasks(self) -> tuple[AnyTask, ...]:
        """Every question of the lab in order, one for each assembly where a task asks all."""
        return tuple(task for part in self.lab_parts for task in part.tasks)

    def task(self, task_id: str) -> AnyTask | None:
        return next((task for task in self.tasks if task.id == task_id), None)

    @property
    def out_of(self) -> float:
        return sum(task.points for task in self.tasks)

    @property
    def assembly_ids(self) -> tuple[str, ...]:
        return tuple(assembly.id for assembly in self.assemblies)


@dataclass(frozen=True)
class LabPart:
    title: str
    text: str
    shows: tuple[Measurement, ...]
    tasks: tuple[AnyTask, ...]


def parse(content: str) -> Scenario:
    """The scenario that a TOML text describes.

    Raises ScenarioFaults with every fault of its shape, each with its place. Whether keys exist and variants
    are well-posed is for `app.domain.check`.
    """
    if len(content) > LARGEST_FILE:
        raise ScenarioFaults([Fault("file", f"is longer than {LARGEST_FILE} characters")])
    for number, line in enumerate(content.split("\n"), start=1):
        if line.count(".") > MOST_POINTS_IN_A_LINE:
            what = (
                f"line {number} holds more than {MOST_POINTS_IN_A_LINE} points; break it into shorter lines"
            )
            raise ScenarioFaults([Fault("file", what)])
    try:
        table = tomllib.loads(content)
        plain = json.dumps(table, default=str)
    except tomllib.TOMLDecodeError as error:
        raise ScenarioFaults([Fault("file", f"is not TOML: {error}")]) from error
    except RecursionError as error:
        raise ScenarioFaults([Fault("file", "nests tables or lists too deeply")]) from error
    except ValueError as error:
        raise ScenarioFaults([Fault("file", f"holds a value that can't be used: {error}")]) from error
    try:
        return Scenario.model_validate_json(plain)
    except ValidationError as error:
        raise ScenarioFaults(faults_from(error, Scenario)) from error
