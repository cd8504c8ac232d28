"""The sheets on which a draft is written: which fields stand on which, and where each leads back to."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from app.domain.authored.entries import Document, NoSuchEntry, at, list_at, path_of, steps_of
from app.domain.authored.places import field_at, table_at
from app.domain.authored.shape import Field, Kind, Table, fields_of
from app.domain.scenario import Scenario
from app.web.teaching.authoring.words import words_of

ABOUT = "about"
"""The sheet of the scenario's own plain fields; every other sheet is called by its path."""

OWN_SHEETS = {"Scenario.assemblies", "Scenario.parts", "PartSheet.tasks"}
"""Lists whose every entry has a sheet of its own; others stand on the sheet of what they belong to."""

_TABLES = (Kind.TABLE, Kind.TABLES)


@dataclass(frozen=True)
class Section:
    """One sheet. base: the path before the names of its fields, empty for those of the scenario itself."""

    path: str
    base: str
    table: Table
    fields: tuple[Field, ...]
    title: str

    def holds(self, place: str) -> bool:
        """Whether a fault's place is shown on this sheet."""
        steps = steps_of(place)
        if self.base:
            base = steps_of(self.base)
            if steps[: len(base)] != base:
                return False
            steps = steps[len(base) :]
        return not steps or any(field.name == steps[0] for field in self.fields)

    @property
    def is_entry(self) -> bool:
        return bool(self.base)


def section_of(document: Document, path: str) -> Section:
    """The sheet with a path: `about`, `vehicle`, `parts.0`, `parts.0.tasks.2`. Raises NoSuchEntry."""
    if path == ABOUT:
        fields = tuple(field for field in _shown(Scenario) if field.kind not in _TABLES)
        return Section(path, "", Scenario, fields, "What it is about")
    field = field_at(document, path)
    if _name(field) in OWN_SHEETS:
        return _entry_section(document, path)
    if field not in _shown(Scenario) or path != field.name or field.kind not in _TABLES:
        raise NoSuchEntry(path)
    return Section(path, "", Scenario, (field,), words_of(field).label)


def _entry_section(document: Document, path: str) -> Section:
    if not isinstance(steps_of(path)[-1], int):
        raise NoSuchEntry(path)
    table = table_at(document, path)
    return Section(path, path, table, fields_on_sheets(table), name_of(document, path))


def name_of(document: Document, path: str) -> str:
    """What an entry with its own sheet is called: “Assembly A”, “Part 1”, “Task 1.2”."""
    match steps_of(path):
        case ("assemblies", int() as place):
            return f"Assembly {at(document, path_of(path, 'id')) or place + 1}"
        case ("parts", int() as part):
            return f"Part {part + 1}"
        case ("parts", int() as part, "tasks", int() as task):
            return f"Task {part + 1}.{task + 1}"
    return path


def titled(document: Document, path: str) -> str:
    """As `name_of`, with the entry's own title."""
    title = at(document, path_of(path, "title"))
    return (
        f"{name_of(document, path)}: {title}" if isinstance(title, str) and title else name_of(document, path)
    )


def every_section(document: Document) -> Iterator[Section]:
    """Every sheet of a draft, in the order in which it is written."""
    yield section_of(document, ABOUT)
    for field in _shown(Scenario):
        if field.kind not in _TABLES:
            continue
        if _name(field) not in OWN_SHEETS:
            yield section_of(document, field.name)
            continue
        for place in range(len(list_at(document, field.name))):
            yield from _with_those_below(document, path_of(field.name, place))


def _with_those_below(document: Document, path: str) -> Iterator[Section]:
    section = section_of(document, path)
    yield section
    for field in _shown(section.table):
        if _name(field) in OWN_SHEETS:
            below = path_of(path, field.name)
            for place in range(len(list_at(document, below))):
                if field.table_of(at(document, path_of(below, place))) is not None:
                    yield from _with_those_below(document, path_of(below, place))


def section_with(document: Document, place: str) -> Section | None:
    """The sheet on which a fault is mended; the deepest one. None for a place that no sheet shows."""
    holding = [section for section in every_section(document) if section.holds(place)]
    return max(holding, key=lambda section: len(steps_of(section.base)), default=None)


def fields_on_sheets(table: Table) -> tuple[Field, ...]:
    """The fields of a table that its author fills in; those with sheets of their own are not among them."""
    fields = [field for field in _shown(table) if _name(field) not in OWN_SHEETS]
    return tuple(sorted(fields, key=lambda field: words_of(field).late))


@cache
def _shown(table: Table) -> tuple[Field, ...]:
    return tuple(
        field for field in fields_of(table) if field.kind is not Kind.FIXED and not words_of(field).hidden
    )


def _name(field: Field) -> str:
    return f"{field.owner}.{field.name}"
