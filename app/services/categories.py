"""Categories of a class's assignments: what counts together, how much, and how many of the lowest don't."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from app.services.accounts import Person
from app.services.errors import NotFound, Refused
from app.services.reach import note, own_class, refuse_when_put_away
from app.store import assignments
from app.store import gradebook as stored
from app.store.db import Database

LONGEST_NAME = 60
MOST_CATEGORIES = 12
HEAVIEST = 1000.0
MOST_DROPPED = 20


def add_category(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    name: str,
    weight: float,
    drop_lowest: int,
    now: datetime,
) -> str:
    """The public id of a new category. Raises NotFound and Refused."""
    name = _checked(name, weight, drop_lowest)
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        if len(stored.categories_of(session, row.id)) >= MOST_CATEGORIES:
            raise Refused("name", f"A class has at most {MOST_CATEGORIES} categories. Remove one first.")
        _refuse_taken(session, row, name)
        added = stored.add_category(
            session, class_id=row.id, name=name, weight=weight, drop_lowest=drop_lowest
        )
        note(session, now, instructor, "add category", row, name=name, weight=weight, drop_lowest=drop_lowest)
        return added.public_id


def change_category(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    category_id: str,
    name: str,
    weight: float,
    drop_lowest: int,
    now: datetime,
) -> None:
    """Raises NotFound and Refused."""
    name = _checked(name, weight, drop_lowest)
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        category = _own_category(session, row, category_id)
        _refuse_taken(session, row, name, itself=category)
        category.name, category.weight, category.drop_lowest = name, weight, drop_lowest
        note(
            session,
            now,
            instructor,
            "change category",
            row,
            name=name,
            weight=weight,
            drop_lowest=drop_lowest,
        )


def remove_category(
    database: Database, *, class_id: str, instructor: Person, category_id: str, now: datetime
) -> None:
    """Its assignments stay, in no category. Raises NotFound and Refused."""
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        category = _own_category(session, row, category_id)
        note(session, now, instructor, "remove category", row, name=category.name)
        stored.remove_category(session, category)


def put_in_category(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    assignment_id: str,
    category_id: str | None,
    now: datetime,
) -> None:
    """Say in which category an assignment counts; None: in none. Raises NotFound and Refused."""
    sort(database, class_id=class_id, instructor=instructor, chosen={assignment_id: category_id}, now=now)


def sort(
    database: Database,
    *,
    class_id: str,
    instructor: Person,
    chosen: Mapping[str, str | None],
    now: datetime,
) -> None:
    """Put several assignments in their categories, all or none. Raises NotFound and Refused."""
    with database.write() as session:
        row = own_class(session, class_id, instructor)
        refuse_when_put_away(row)
        for assignment_id, category_id in chosen.items():
            assignment: Any = assignments.assignment_taught_by(session, assignment_id, instructor.id)
            if assignment is None or assignment.class_id != row.id:
                raise NotFound("There is no such assignment in this class.")
            category = _own_category(session, row, category_id) if category_id else None
            assignment.category_id = category.id if category else None
            note(
                session,
                now,
                instructor,
                "put in category",
                row,
                assignment=assignment_id,
                category=category.name if category else None,
            )


def _own_category(session: Any, row: Any, category_id: str) -> Any:
    found = next(
        (each for each in stored.categories_of(session, row.id) if each.public_id == category_id), None
    )
    if found is None:
        raise NotFound("There is no such category in this class.")
    return found


def _refuse_taken(session: Any, row: Any, name: str, itself: Any = None) -> None:
    if any(each.name == name and each is not itself for each in stored.categories_of(session, row.id)):
        raise Refused("name", f"There is a category “{name}” already. Choose another name.")


def _checked(name: str, weight: float, drop_lowest: int) -> str:
    name = " ".join(name.split())
    if not name or len(name) > LONGEST_NAME:
        raise Refused("name", f"Give the category a name of at most {LONGEST_NAME} characters.")
    if not 0 < weight <= HEAVIEST:
        raise Refused("weight", f"Give a weight above 0 and at most {HEAVIEST:g}.")
    if not 0 <= drop_lowest <= MOST_DROPPED:
        raise Refused("drop_lowest", f"Leave out 0 to {MOST_DROPPED} of the lowest.")
    return name
