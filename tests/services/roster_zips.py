"""OneRoster zips for tests. Names and order of columns: 1EdTech OneRoster 1.2 CSV Binding, from memory."""

import csv
import io
import zipfile
from collections.abc import Mapping, Sequence

MANIFEST = {
    "manifest.version": "1.0",
    "oneroster.version": "1.2",
    "file.academicSessions": "absent",
    "file.classes": "bulk",
    "file.enrollments": "bulk",
    "file.users": "bulk",
    "source.systemName": "School office",
}
USERS = (
    *("sourcedId", "status", "dateLastModified", "enabledUser", "username", "userIds", "givenName"),
    *("familyName", "middleName", "identifier", "email", "sms", "phone", "agentSourcedIds", "grades"),
)
CLASSES = (
    *("sourcedId", "status", "dateLastModified", "title", "grades", "courseSourcedId", "classCode"),
    *("classType", "location", "schoolSourcedId", "termSourcedIds", "subjects", "subjectCodes", "periods"),
)
ENROLLMENTS = (
    *("sourcedId", "status", "dateLastModified", "classSourcedId", "schoolSourcedId", "userSourcedId"),
    *("role", "primary", "beginDate", "endDate"),
)


def csv_of(heads: Sequence[str], rows: Sequence[Mapping[str, str]]) -> str:
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, heads, restval="")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def user(roster_id: str, given: str, family: str, number: str = "", **more: str) -> dict[str, str]:
    return {"sourcedId": roster_id, "givenName": given, "familyName": family, "identifier": number, **more}


def a_class(roster_id: str, title: str, code: str = "") -> dict[str, str]:
    return {"sourcedId": roster_id, "title": title, "classCode": code, "classType": "scheduled"}


def enrolled(class_id: str, user_id: str, role: str = "student", **more: str) -> dict[str, str]:
    return {
        "sourcedId": f"{class_id}-{user_id}",
        "classSourcedId": class_id,
        "userSourcedId": user_id,
        "role": role,
        **more,
    }


STUDENTS = [
    user("u1", "Sam", "Okafor", "17"),
    user("u2", "Ana Lucia", "Núñez", "18"),
    user("u3", "Bo", "Diaz"),
]
TEACHER = user("t1", "Robin", "Lang")
TWO_CLASSES = [a_class("c1", "Auto 2", "P3"), a_class("c2", "Auto 3", "P5")]
IN_BOTH = [
    enrolled("c1", "u1"),
    enrolled("c1", "u2"),
    enrolled("c2", "u2"),
    enrolled("c2", "u3"),
    enrolled("c1", "t1", role="teacher"),
]


def roster_zip(
    *,
    users: Sequence[Mapping[str, str]] = (*STUDENTS, TEACHER),
    classes: Sequence[Mapping[str, str]] = TWO_CLASSES,
    enrollments: Sequence[Mapping[str, str]] = IN_BOTH,
    manifest: Mapping[str, str] = MANIFEST,
    instead: Mapping[str, bytes | None] | None = None,
) -> bytes:
    """A whole roster. instead: other contents of its files by name; None leaves one out."""
    files: dict[str, bytes | None] = {
        "manifest.csv": csv_of(
            ("propertyName", "value"),
            [{"propertyName": name, "value": value} for name, value in manifest.items()],
        ).encode(),
        "users.csv": csv_of(USERS, users).encode(),
        "classes.csv": csv_of(CLASSES, classes).encode(),
        "enrollments.csv": csv_of(ENROLLMENTS, enrollments).encode(),
    }
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in (files | dict(instead or {})).items():
            if content is not None:
                archive.writestr(name, content)
    return packed.getvalue()
