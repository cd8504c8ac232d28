"""Who may use the calculators, and in which units they open."""

from app.domain.measures import UnitSystem
from app.services import classes
from app.services.classes import ClassRow
from app.web import current


def own_classes() -> list[ClassRow]:
    """The classes that the signed-in person teaches or is in, put-away ones left out."""
    person, database = current.someone(), current.database()
    if person.role == "student":
        return classes.classes_of_student(database, student=person)
    return [row for row in classes.classes_of(database, instructor=person) if row.archived_at is None]


def switched_off_in(rows: list[ClassRow]) -> list[str]:
    """The names of a student's classes whose instructor has switched the calculators off.

    One is enough: otherwise a student in two classes would keep them during a test in one.
    """
    if current.someone().role != "student":
        return []
    return [row.name for row in rows if not row.calculators_on]


def usual_units(rows: list[ClassRow]) -> UnitSystem:
    """The units of the person's first class; US customary without one."""
    return UnitSystem(rows[0].units) if rows else UnitSystem.US
