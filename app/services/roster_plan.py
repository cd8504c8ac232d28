"""What taking a list would do to people and classes: a pure comparison of its rows with what is known.

A student is known again by the roster id, then the student number, then the sign-in name, and last by the
name within the class. So the same list taken twice changes nothing the second time.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from app.services.names import TypedName, same_name
from app.store.choices import KeyKind

NOT_THE_SAME = "belongs to somebody else on this server. Check it, or leave it out."


@dataclass(frozen=True)
class RosterRow:
    """One student of a list. `targets`: the places of the classes, among those the list is taken into."""

    line: int
    typed: str
    name: TypedName | None
    number: str = ""
    sign_in_name: str = ""
    roster_id: str = ""
    targets: tuple[int, ...] = (0,)
    fault: str | None = None


@dataclass(frozen=True)
class KnownPerson:
    """own: this instructor has taught them, and may change their name."""

    key: int
    display_name: str
    sort_name: str
    sign_in_name: str
    is_student: bool
    own: bool
    keys: Mapping[KeyKind, str]


@dataclass(frozen=True)
class Known:
    """People who may be meant. enrolled: for each class, by person, whether they are in it now."""

    people: Mapping[int, KnownPerson]
    enrolled: Sequence[Mapping[int, bool]]


@dataclass(frozen=True)
class PlannedRow:
    """What one row would do. `person` is None for a new student. earlier_name: the name it replaces.

    enrol, take_back: places of the classes that the student joins or comes back to.
    """

    row: RosterRow
    person: KnownPerson | None = None
    earlier_name: str | None = None
    new_keys: Mapping[KeyKind, str] = field(default_factory=dict)
    enrol: tuple[int, ...] = ()
    take_back: tuple[int, ...] = ()
    fault: str | None = None

    @property
    def is_new(self) -> bool:
        return self.fault is None and self.person is None

    @property
    def changes(self) -> bool:
        return self.fault is None and bool(
            self.is_new or self.earlier_name or self.new_keys or self.enrol or self.take_back
        )

    @property
    def words(self) -> str:
        """What is done, in words."""
        if self.is_new:
            return "new student"
        parts = [
            "joins, with the account they have" if self.enrol else "",
            "comes back, with all earlier work" if self.take_back else "",
            f"name changes from {self.earlier_name}" if self.earlier_name else "",
            "student number is added" if KeyKind.STUDENT_NUMBER in self.new_keys else "",
            "school id is added" if KeyKind.ROSTER_ID in self.new_keys else "",
        ]
        return "; ".join(filter(None, parts)) or "no change"


@dataclass(frozen=True)
class Planned:
    """What taking a kept list would do, row by row."""

    file_id: str
    rows: tuple[PlannedRow, ...]

    @property
    def faulty(self) -> tuple[PlannedRow, ...]:
        return tuple(row for row in self.rows if row.fault)

    @property
    def changing(self) -> tuple[PlannedRow, ...]:
        return tuple(row for row in self.rows if row.changes)


def plan(rows: Sequence[RosterRow], known: Known) -> tuple[PlannedRow, ...]:
    """What each row would do, in order; a row with a fault does nothing."""
    planner = _Planner(known)
    return tuple(planner.planned(row) for row in rows)


class _Planner:
    """Goes through the rows once; remembers which students and names it has met."""

    def __init__(self, known: Known) -> None:
        self.known = known
        self.by_key = {
            (kind, value): person for person in known.people.values() for kind, value in person.keys.items()
        }
        self.by_sign_in = {person.sign_in_name: person for person in known.people.values()}
        self.met: dict[object, int] = {}

    def planned(self, row: RosterRow) -> PlannedRow:
        fault = row.fault
        person = None
        if fault is None:
            person, fault = self._find(row)
        if fault is None:
            fault = self._fault_with_person(row, person) if person else None
        fault = fault or self._met_before(row, person)
        if fault is not None or row.name is None:
            return PlannedRow(row, fault=fault or "There is no name.")
        keys = {
            kind: value
            for kind, value in _keys(row).items()
            if value and (person is None or kind not in person.keys)
        }
        if person is None:
            return PlannedRow(row, new_keys=keys, enrol=row.targets)
        renamed = person.own and (row.name.display_name, row.name.sort_name) != (
            person.display_name,
            person.sort_name,
        )
        return PlannedRow(
            row,
            person,
            earlier_name=person.sort_name if renamed else None,
            new_keys=keys,
            enrol=tuple(place for place in row.targets if person.key not in self.known.enrolled[place]),
            take_back=tuple(
                place for place in row.targets if self.known.enrolled[place].get(person.key) is False
            ),
        )

    def _find(self, row: RosterRow) -> tuple[KnownPerson | None, str | None]:
        """The student that is meant, if known, and a fault where the keys don't agree."""
        by_key = [self.by_key.get((kind, value)) for kind, value in _keys(row).items() if value]
        by_sign_in = [self.by_sign_in.get(row.sign_in_name)] if row.sign_in_name else []
        found = {person.key: person for person in by_key + by_sign_in if person}
        if len(found) > 1:
            return None, "The keys on this line belong to two different students."
        if found:
            return next(iter(found.values())), None
        return self._find_by_name(row)

    def _find_by_name(self, row: RosterRow) -> tuple[KnownPerson | None, str | None]:
        if row.name is None or row.sign_in_name:
            return None, None
        wanted = same_name(row.name.display_name)
        there = {key for place in row.targets for key in self.known.enrolled[place]}
        same = [
            person
            for key in sorted(there)
            if same_name((person := self.known.people[key]).display_name) == wanted
            and all(person.keys.get(kind, value) == value for kind, value in _keys(row).items() if value)
        ]
        if len(same) > 1:
            return None, f"There are {len(same)} students of this name. Give each a student number."
        return (same[0] if same else None), None

    def _fault_with_person(self, row: RosterRow, person: KnownPerson) -> str | None:
        if not person.is_student:
            return f"The sign-in name {NOT_THE_SAME}"
        same = row.name is not None and same_name(row.name.display_name) == same_name(person.display_name)
        if not person.own and not same:
            return f"The {'student number' if row.number else 'key'} on this line {NOT_THE_SAME}"
        for kind, value in _keys(row).items():
            if value and person.keys.get(kind, value) != value:
                return f"{person.display_name} is known by the {kind} {person.keys[kind]}, not {value}."
        if row.sign_in_name and row.sign_in_name != person.sign_in_name:
            return f"{person.display_name} signs in as {person.sign_in_name}, not {row.sign_in_name}."
        return None

    def _met_before(self, row: RosterRow, person: KnownPerson | None) -> str | None:
        """Two lines for one student: which of them is meant is the school's to say."""
        if row.fault or row.name is None:
            return None
        marks: list[object] = [(kind, value) for kind, value in _keys(row).items() if value]
        marks += [("sign-in", row.sign_in_name)] if row.sign_in_name else []
        marks += [("person", person.key)] if person else []
        if not marks:
            marks = [("name", same_name(row.name.display_name))]
        line = next((self.met[mark] for mark in marks if mark in self.met), None)
        for mark in marks:
            self.met.setdefault(mark, row.line)
        return None if line is None else f"This student stands on line {line} already."


def _keys(row: RosterRow) -> dict[KeyKind, str]:
    return {KeyKind.ROSTER_ID: row.roster_id, KeyKind.STUDENT_NUMBER: row.number}
