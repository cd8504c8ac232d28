"""What the templates of `teaching/authoring/` receive as `page`."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from app.domain.authored.checking import FILL_IN, Checked, checked
from app.domain.authored.entries import Document, at, list_at, path_of
from app.domain.authored.places import field_at
from app.domain.faults import Fault
from app.services.authoring import Draft, DraftRow
from app.services.authoring_images import ImageLine
from app.services.scenarios import ScenarioCard
from app.web.forms import BaseForm, SendForm
from app.web.teaching.authoring import offers
from app.web.teaching.authoring.controls import Control, all_controls, controls_of, unplaced
from app.web.teaching.authoring.forms import FileForm, ImageForm, StartForm
from app.web.teaching.authoring.naming import message_in_words, place_in_words
from app.web.teaching.authoring.previews import Preview
from app.web.teaching.authoring.sections import Section, every_section, section_of, section_with, titled
from app.web.teaching.authoring.words.tasks import KINDS


@dataclass(frozen=True)
class DraftsPage:
    """time_zone: of the own classes, in which times are shown."""

    rows: Sequence[DraftRow]
    cards: Sequence[ScenarioCard]
    form: StartForm
    time_zone: str


@dataclass(frozen=True)
class Line:
    """One sheet in the outline of a draft. list, place: of an entry that can be moved and taken away."""

    path: str
    title: str
    faults: int
    list: str = ""
    place: int = 0
    is_first: bool = True
    is_last: bool = True
    below: tuple["Line", ...] = ()


@dataclass(frozen=True)
class ListedFault:
    """A fault in words, with the sheet that mends it; section is None where no sheet shows it."""

    section: Section | None
    title: str
    message: str
    place: str


@dataclass(frozen=True)
class OutlinePage:
    """A draft with all its sheets, and what is still at fault."""

    draft: Draft
    form: BaseForm
    faults: tuple[Fault, ...]

    @property
    def document(self) -> Document:
        return self.draft.document

    def _line(self, path: str, **more: object) -> Line:
        section = section_of(self.document, path)
        faults = sum(section.holds(fault.place) for fault in self.faults)
        title = titled(self.document, path) if section.is_entry else section.title
        return Line(path, title, faults, **more)  # type: ignore[arg-type]

    @property
    def single(self) -> tuple[Line, ...]:
        """The sheets that there is one of."""
        return tuple(self._line(each.path) for each in every_section(self.document) if not each.is_entry)

    @property
    def assemblies(self) -> tuple[Line, ...]:
        return self._lines("assemblies")

    @property
    def parts(self) -> tuple[Line, ...]:
        return tuple(
            self._line(
                path_of("parts", place),
                list="parts",
                place=place,
                is_first=place == 0,
                is_last=place == len(list_at(self.document, "parts")) - 1,
                below=self._lines(path_of("parts", place, "tasks")),
            )
            for place in range(len(list_at(self.document, "parts")))
        )

    def _lines(self, path: str) -> tuple[Line, ...]:
        count = len(list_at(self.document, path))
        return tuple(
            self._line(
                path_of(path, place), list=path, place=place, is_first=place == 0, is_last=place == count - 1
            )
            for place in range(count)
        )

    @property
    def task_kinds(self) -> tuple[tuple[str, str], ...]:
        kinds = field_at({"parts": [{}]}, "parts.0.tasks").kinds
        return tuple((kind, KINDS.get(kind, kind)) for kind in kinds)

    @property
    def listed(self) -> list[ListedFault]:
        return [listed(self.document, fault) for fault in self.faults]


def listed(document: Document, fault: Fault) -> ListedFault:
    return ListedFault(
        section=section_with(document, fault.place),
        title=place_in_words(document, fault.place),
        message=message_in_words(document, fault.message),
        place=fault.place,
    )


@dataclass(frozen=True)
class SheetPage:
    """One sheet of a draft with its form. stale: why what was sent is not saved yet, empty where it is.

    strict: whether empty fields are called faults; while a sheet is written for the first time they are not.
    faults: of this sheet.
    """

    draft: Draft
    section: Section
    form: BaseForm
    preview: Preview
    faults: tuple[Fault, ...]
    strict: bool = False
    stale: str = ""

    @property
    def told(self) -> tuple[Fault, ...]:
        return self.faults if self.strict else tuple(each for each in self.faults if each.message != FILL_IN)

    @property
    def missing(self) -> list[Control]:
        """What is still to be filled in."""
        places = {fault.place for fault in self.faults if fault.message == FILL_IN}
        return [control for control in all_controls(self.controls) if control.name in places]

    @cached_property
    def controls(self) -> tuple[Control, ...]:
        return controls_of(self.section, self.draft.document, self.told)

    @property
    def controls_at_fault(self) -> list[Control]:
        return [control for control in all_controls(self.controls) if control.error]

    @property
    def problems(self) -> dict[str, str]:
        """What is at fault, by the id of the control."""
        return {control.id: control.error or "" for control in self.controls_at_fault}

    @property
    def unplaced(self) -> list[Fault]:
        return unplaced(self.section, self.controls, self.told)

    @property
    def whose(self) -> tuple[tuple[str, str], ...]:
        return offers.whose(self.draft.document)

    @property
    def title(self) -> str:
        return titled(self.draft.document, self.section.path) if self.section.is_entry else self.section.title

    @property
    def kind(self) -> str:
        """What the student gives, of a task's sheet."""
        name = at(self.draft.document, path_of(self.section.path, "kind")) if self.preview.is_task else None
        return KINDS.get(str(name), str(name)) if name else ""

    @property
    def neighbours(self) -> tuple[Section | None, Section | None]:
        """The sheets before and after this one."""
        everything = list(every_section(self.draft.document))
        place = next(n for n, each in enumerate(everything) if each.path == self.section.path)
        before = everything[place - 1] if place else None
        return before, everything[place + 1] if place + 1 < len(everything) else None


def sheet_page(
    draft: Draft, section: Section, preview: Preview, *, strict: bool = False, stale: str = ""
) -> SheetPage:
    """The sheet with what a check finds on it: a full one once the draft's shape is good."""
    found: Checked = checked(draft.document)
    faults = tuple(fault for fault in found.faults if section.holds(fault.place))
    return SheetPage(draft, section, SendForm(), preview, faults, strict, stale)


@dataclass(frozen=True)
class PublishPage:
    draft: Draft
    form: BaseForm
    faults: tuple[ListedFault, ...]


@dataclass(frozen=True)
class ImagesPage:
    draft: Draft
    form: ImageForm
    take_out_form: SendForm
    images: Sequence[ImageLine]


@dataclass(frozen=True)
class ImportPage:
    """faults: place and what is allowed there, of a file that was refused."""

    form: FileForm
    faults: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class ThrowAwayPage:
    draft: Draft
    form: SendForm
