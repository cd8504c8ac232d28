"""What every use case that changes something for an instructor has in common."""

import ast
import re

from tests.rules import tree

LEAVES_WORK_ALONE = {
    "authoring_publishing._set_archived",
    "cards.new_cards",
    "classes.archive_class",
    "classes.make_class",
    "co_instructors.add_instructor",
    "co_instructors.remove_instructor",
    "deletion.erase_student",
    "devices.sign_out_class",
    "pass_phrase_codes.make_code",
    "people_records.record_of",
    "people_records.records_of_class",
    "received_files.keep",
}
"""About people and their devices, about no class, or about being put away itself."""

ROWS_SAY_WHO = {"hands_on.check", "heats.press", "received_files.keep"}
"""Their own rows say who did it and when, so that a tap writes no second one."""

NOTES = re.compile(r"(?:note|_note_act|audit\.record)\(\s*session")


def writes() -> dict[str, str]:
    """The source of each function that writes for an instructor, with what it calls in its own module."""
    found = {}
    for path in tree.under("app/services", ".py"):
        text = path.read_text(encoding="utf-8")
        functions = {
            node.name: ast.get_source_segment(text, node) or ""
            for node in ast.parse(text).body
            if isinstance(node, ast.FunctionDef)
        }
        for name, source in functions.items():
            if "instructor: Person" in source and "database.write()" in source:
                called = [inner for other, inner in functions.items() if f"{other}(" in source]
                found[f"{path.stem}.{name}"] = "\n".join(called)
    assert len(found) > 30
    return found


def test_what_an_instructor_changes_asks_whether_the_class_is_put_away() -> None:
    unasked = {name for name, source in writes().items() if "refuse_when_put_away(" not in source}
    assert unasked == LEAVES_WORK_ALONE


def test_what_an_instructor_changes_is_noted_in_the_audit() -> None:
    unnoted = {name for name, source in writes().items() if not NOTES.search(source)}
    assert unnoted == ROWS_SAY_WHO
