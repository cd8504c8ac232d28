"""The authored job: what an instructor writes in `scenario.toml`. All faults of a file are named at once.

A number may be fixed, a range (`{ low = 10, high = 40, step = 1 }`) or one of a list
(`{ one_of = [5, 10] }`); each student's variant draws its own. Parsed scenarios are frozen; equal files give
equal scenarios.
"""

import json
import tomllib
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import Annotated, Literal, Self

from pydantic import Field, ValidationError, model_validator

from app.domain.assembly_sheets import AssemblySheet
from app.domain.bench_sheets import BenchSheet
from app.domain.faults import Fault, faults_from
from app.domain.machine_sheets import MachineSheet
from app.domain.sheets import AuthoredTable, Letter, Line, Slug, Text, repeated
from app.domain.tasks import AnyTask, Task, for_each_assembly
from app.domain.vehicle_sheets import VehicleSheet

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

    quantity: Annotated[str, Field(pattern=r"^[a-z_]+(\.[a-z_]+)*$", max_length=80)]
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
