"""What stands beside a sheet while it is written: the drawing of a sample variant, and the live key."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property

from app.domain.assembly_sheets import AssemblySheet
from app.domain.authored.checking import without_faults
from app.domain.authored.entries import Document, at, path_of, steps_of, with_entry
from app.domain.authored.sampling import KeyLine, SampleVariant, key_of_task, sample_variant
from app.domain.authored.starters import blank_document
from app.domain.measures import UnitSystem
from app.domain.scenario import Measurement, Scenario
from app.drawings.measured import Measured, measured
from app.drawings.measured.job_card import JobCard, job_card
from app.services.authoring import Draft
from app.web.lab_sheet import Part, parts_of

_OF_AN_ASSEMBLY: Mapping[str, Callable[[AssemblySheet], object]] = {
    "heavy spots": lambda sheet: sheet.heavy_spots,
    "sidewalls": lambda sheet: sheet.tire.tin,
    "bead seats": lambda sheet: sheet.wheel.bead_seats,
    "force trace": lambda sheet: sheet.tire.force,
}
"""What is drawn of an assembly, and what it needs for that."""


@dataclass(frozen=True)
class Preview:
    """Of one sheet. number: of the sample. part: its measurements, for the macro `measurements`."""

    draft: Draft
    path: str
    number: int
    units: UnitSystem

    @cached_property
    def sample(self) -> SampleVariant | None:
        scenario = usable_scenario(self.draft, self.path)
        return sample_variant(scenario, self.number, self.units) if scenario else None

    @property
    def part(self) -> Part | None:
        """The measurements of the sheet's part, or those of its assembly alone."""
        if self.sample is None:
            return None
        variant = self.sample.variant
        match steps_of(self.path):
            case ("assemblies", int()):
                letter = str(at(self.draft.document, path_of(self.path, "id")))
                return Part("1", "", "", lambda: tuple(self._of_assembly(letter)), ())
            case ("parts", int() as place, *_) if place < len(variant.scenario.parts):
                try:
                    part = parts_of(variant)[place]
                    part.measurements  # noqa: B018 -- drawn here, where it may lack what it shows
                except LookupError:
                    return None
                return part
        return None

    def _of_assembly(self, letter: str) -> list[Measured]:
        """What can be shown of an assembly, as far as it is written."""
        if self.sample is None:
            return []
        variant = self.sample.variant
        sheet = next((each for each in variant.scenario.assemblies if each.id == letter), None)
        return [
            measured(Measurement.model_validate({"kind": kind, "assemblies": (letter,)}), variant)
            for kind, needs in _OF_AN_ASSEMBLY.items()
            if sheet is not None and needs(sheet)
        ]

    @property
    def job(self) -> JobCard | None:
        return job_card(self.sample.variant) if self.sample and self.path == "vehicle" else None

    @property
    def key(self) -> tuple[KeyLine, ...]:
        """Of the sheet's task; empty while the task is at fault."""
        if self.sample is None or not self.is_task:
            return ()
        return key_of_task(str(at(self.draft.document, path_of(self.path, "id"))), self.sample.variant)

    @property
    def is_task(self) -> bool:
        return len(steps_of(self.path)) == 4

    @property
    def has_drawing(self) -> bool:
        return self.path == "vehicle" or steps_of(self.path)[0] in ("assemblies", "parts")


def usable_scenario(draft: Draft, path: str) -> Scenario | None:
    """What can be drawn of a draft for one sheet: without faulty tasks, and for an assembly without any."""
    document: Document = draft.document
    blank = blank_document("…", draft.saved_at.date())
    blank = with_entry(blank, "summary", "…")
    blank = with_entry(blank, "skills", ["…"])
    words = dict.fromkeys(("aim", "prior_knowledge", "common_mistakes", "discuss"), "…")
    blank = with_entry(with_entry(blank, "teacher", words), "parts.0.text", "…")
    if steps_of(path)[0] == "assemblies":
        document = with_entry(document, "parts", blank["parts"])
    return without_faults(document, blank)
