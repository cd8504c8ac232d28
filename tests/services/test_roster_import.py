"""Taking a class list: how it is read, what it would do, and that it does just that."""

import pytest

from app.services import accounts, classes, received_files, roster_import
from app.services.delimited import MOST_BYTES, read_table
from app.services.errors import NotAllowed, NotFound, Refused
from app.services.roster_columns import Columns, matched, rows_of
from app.store.choices import KeyKind
from tests import factories

LIST = "Student ID,Last name,First name\n0017,Okafor,Sam\n0018,Núñez,Ana Lucia\n0019,O’Neill,Pat\n"


def look(database, teacher, class_id, now, text=LIST, columns=None):
    content = text if isinstance(text, bytes) else text.encode()
    file_id = roster_import.receive(database, class_id=class_id, instructor=teacher, content=content, now=now)
    return roster_import.preview(
        database, class_id=class_id, instructor=teacher, file_id=file_id, columns=columns, now=now
    )


def take(database, teacher, class_id, now, text=LIST, columns=None, *, leave_out_faulty=False):
    preview = look(database, teacher, class_id, now, text, columns)
    return roster_import.take(
        database,
        class_id=class_id,
        instructor=teacher,
        file_id=preview.file_id,
        columns=preview.columns,
        leave_out_faulty=leave_out_faulty,
        now=now,
    )


def names(database, teacher, class_id):
    page = classes.class_page(database, class_id=class_id, instructor=teacher)
    return [student.sort_name for student in page.students]


def test_a_list_makes_students_who_can_sign_in(database, teacher, class_id, now):
    taken = take(database, teacher, class_id, now)
    assert [card.display_name for card in taken.cards] == ["Sam Okafor", "Ana Lucia Núñez", "Pat O’Neill"]
    assert names(database, teacher, class_id) == ["Núñez, Ana Lucia", "Okafor, Sam", "O’Neill, Pat"]
    card = taken.cards[1]
    signed_in = accounts.sign_in(
        database, sign_in_name=card.sign_in_name, pass_phrase=card.pass_phrase, now=now
    )
    assert signed_in.person.display_name == "Ana Lucia Núñez"


def test_the_same_list_taken_again_changes_nothing(database, teacher, class_id, now):
    take(database, teacher, class_id, now)
    again = look(database, teacher, class_id, now)
    assert [row.words for row in again.rows] == ["no change"] * 3
    assert again.changing == ()
    taken = take(database, teacher, class_id, now)
    assert (taken.cards, taken.changed, taken.unchanged) == ((), 0, 3)


@pytest.mark.parametrize("head", ["Name\n", "Name;Username\n", ""])
def test_a_list_of_names_alone_is_repeatable_too(database, teacher, class_id, now, head):
    text = head + "\n".join(f"Sam Number{i}{';sam' + str(i) if ';' in head else ''}" for i in range(3)) + "\n"
    assert len(take(database, teacher, class_id, now, text).cards) == 3
    assert take(database, teacher, class_id, now, text).unchanged == 3


def test_a_name_is_corrected_by_its_student_number(database, teacher, class_id, now):
    take(database, teacher, class_id, now)
    preview = look(database, teacher, class_id, now, LIST.replace("Okafor,Sam", "Okafor-Lind,Samuel"))
    assert [row.words for row in preview.changing] == ["name changes from Okafor, Sam"]
    take(database, teacher, class_id, now, LIST.replace("Okafor,Sam", "Okafor-Lind,Samuel"))
    assert "Okafor-Lind, Samuel" in names(database, teacher, class_id)
    assert len(names(database, teacher, class_id)) == 3


def test_a_student_of_one_class_joins_a_second_with_the_same_card(database, teacher, class_id, now):
    take(database, teacher, class_id, now)
    second = factories.school_class(database, instructor=teacher, name="Auto 3")
    preview = look(database, teacher, second, now)
    assert {row.words for row in preview.rows} == {"joins, with the account they have"}
    assert take(database, teacher, second, now).cards == ()
    assert names(database, teacher, second) == names(database, teacher, class_id)


def test_a_student_who_left_comes_back(database, teacher, class_id, now):
    take(database, teacher, class_id, now)
    student = classes.class_page(database, class_id=class_id, instructor=teacher).students[0]
    classes.drop_student(
        database, class_id=class_id, instructor=teacher, student_id=student.public_id, now=now
    )
    preview = look(database, teacher, class_id, now)
    assert [row.words for row in preview.changing] == ["comes back, with all earlier work"]
    take(database, teacher, class_id, now)
    assert len(names(database, teacher, class_id)) == 3


def test_a_number_is_added_to_a_student_who_had_none(database, teacher, class_id, now):
    factories.student(database, class_id=class_id, instructor=teacher, name="Sam Okafor")
    preview = look(database, teacher, class_id, now)
    assert preview.rows[0].new_keys == {KeyKind.STUDENT_NUMBER: "0017"}
    assert len(take(database, teacher, class_id, now).cards) == 2


def test_who_is_not_on_the_list_is_named_and_stays(database, teacher, class_id, now):
    factories.student(database, class_id=class_id, instructor=teacher, name="Bo Diaz")
    assert look(database, teacher, class_id, now).absent == ("Diaz, Bo",)
    take(database, teacher, class_id, now)
    assert "Diaz, Bo" in names(database, teacher, class_id)


def test_another_instructor_s_student_needs_the_same_name(database, teacher, class_id, now):
    take(database, teacher, class_id, now)
    other = factories.instructor(database)
    their_class = factories.school_class(database, instructor=other)
    right = look(database, other, their_class, now, "ID,Name\n0017,Sam Okafor\n")
    assert right.rows[0].words == "joins, with the account they have"
    wrong = look(database, other, their_class, now, "ID,Name\n0017,Kim Lee\n")
    assert "belongs to somebody else" in wrong.rows[0].fault
    assert "Okafor" not in wrong.rows[0].fault


@pytest.mark.parametrize(
    ("text", "line", "fault"),
    [
        ("Name\nSam Okafor\n=HYPERLINK(1)\n", 3, "formula"),
        ("Name\n@cmd\n", 2, "formula"),
        ("Name\nSam\n1234\n", 3, "needs letters"),
        ("Name\nSam Okafor\nsam okafor\n", 3, "stands on line 2 already"),
        ("ID,Name\n1,Sam\n1,Bo\n", 3, "stands on line 2 already"),
        ("ID,Name\n1,Sam,extra\n", 2, "3 columns"),
        ("Name\n" + "A" * 81 + "\n", 2, "at most 80"),
        ("Name\n" + "A" * 5000 + "\n", 2, "5000 characters"),
        ("Name\nSam\u202eOkafor\n", 2, "U+202E"),
        ("ID,Name\n" + "7" * 61 + ",Sam\n", 2, "at most 60"),
        ("Username,Name\n!,Sam\n", 2, "sign-in name"),
    ],
    ids=lambda value: str(value)[:20].encode("ascii", "replace").decode(),
)
def test_a_fault_is_told_by_line_in_words(database, teacher, class_id, now, text, line, fault):
    faulty = look(database, teacher, class_id, now, text).faulty
    assert [row.row.line for row in faulty] == [line]
    assert fault in faulty[0].fault


def test_a_faulty_line_stops_all_unless_it_is_to_be_left_out(database, teacher, class_id, now):
    text = LIST + "0020,=1+1,Eve\n"
    with pytest.raises(Refused, match="1 line has a fault"):
        take(database, teacher, class_id, now, text)
    assert names(database, teacher, class_id) == []
    taken = take(database, teacher, class_id, now, text, leave_out_faulty=True)
    assert (len(taken.cards), taken.left_out) == (3, 1)


def test_names_written_from_right_to_left_are_names(database, teacher, class_id, now):
    taken = take(database, teacher, class_id, now, "Name\nשרה כהן\n")
    assert taken.cards[0].display_name == "שרה כהן"


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "empty"),
        (b"\n\n \n", "empty"),
        (b"PK\x03\x04\x00\x00", "Save as"),
        (b"Name\nSam\x00Okafor\n", "Save as"),
        (b"Name\n\x81\x8d\x8f\n", "Save as"),
        (b"Name\n" + b"," * 200_000, "columns"),
        (b"a" * (MOST_BYTES + 1), "too large"),
        (b'Name\n"Sam Okafor\nBo\n', "Quotes"),
        (b'Name\n"Sam" Okafor\n', "Quotes"),
        (b"Name\n" + b'"' + b"a" * 140_000 + b'"\n', "cell is short"),
        (b"Name\n" + b"Sam\n" * 1000, "more than 400 lines"),
    ],
    ids=lambda value: repr(value[:12]),
)
def test_a_hostile_file_is_refused_before_anything_is_kept(
    database, teacher, class_id, now, content, message
):
    with pytest.raises(Refused, match=message):
        roster_import.receive(database, class_id=class_id, instructor=teacher, content=content, now=now)


def test_a_line_with_an_open_quote_is_named():
    with pytest.raises(Refused, match="Line 2"):
        read_table(b'Name\n"Sam Okafor\n')


@pytest.mark.parametrize(
    ("content", "encoding"),
    [
        ("Name\nAna Núñez\n".encode("utf-8-sig"), "UTF-8"),
        ("Name\nAna Núñez\n".encode(), "UTF-8"),
        ("Name\nAna Núñez\n".encode("cp1252"), "Windows-1252"),
        ("Name\nAna Núñez\n".encode("utf-16"), "UTF-16"),
    ],
)
def test_the_encoding_is_found_and_told(content, encoding):
    table = read_table(content)
    assert table.encoding == encoding
    assert rows_of(table, matched(table))[0].name.display_name == "Ana Núñez"


@pytest.mark.parametrize(("sign", "word"), [(",", "comma"), (";", "semicolon"), ("\t", "tab")])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_the_separator_is_found_and_told(sign, word, line_end):
    text = line_end.join([f"ID{sign}Name", f'1{sign}"Okafor, Sam"', ""])
    table = read_table(text.encode())
    assert (table.separator, table.width) == (word, 2)
    assert rows_of(table, matched(table))[0].name.sort_name == "Okafor, Sam"


def test_of_two_columns_with_the_same_head_the_first_is_meant_and_another_can_be_chosen():
    table = read_table(b"Name,Name\nSam,Bo\n")
    assert matched(table).name == 0
    assert rows_of(table, Columns(True, name=1))[0].typed == "Bo"


@pytest.mark.parametrize(
    ("columns", "message"),
    [
        (Columns(True), "holds the names"),
        (Columns(True, name=0, number=0), "chosen for two things"),
        (Columns(True, name=7), "has changed"),
    ],
)
def test_columns_that_cannot_be_are_refused(columns, message):
    with pytest.raises(Refused, match=message):
        rows_of(read_table(b"Name,ID\nSam,1\n"), columns)


def test_a_list_waits_an_hour_and_only_for_its_sender(database, teacher, class_id, now):
    from datetime import timedelta

    preview = look(database, teacher, class_id, now)
    other = factories.instructor(database)
    with pytest.raises(NotFound):
        received_files.content_of(database, file_id=preview.file_id, instructor=other, now=now)
    with pytest.raises(NotFound):
        received_files.content_of(
            database, file_id=preview.file_id, instructor=teacher, now=now + timedelta(hours=1, seconds=1)
        )


def test_a_taken_list_is_no_longer_kept(database, teacher, class_id, now):
    preview = look(database, teacher, class_id, now)
    take(database, teacher, class_id, now)
    with pytest.raises(NotFound):
        received_files.content_of(database, file_id=preview.file_id, instructor=teacher, now=now)


def test_a_class_that_changed_since_the_preview_is_looked_at_again(
    database, teacher, class_id, now, monkeypatch
):
    preview = look(database, teacher, class_id, now)
    made = roster_import.pass_phrases_for

    def meanwhile(rows):
        factories.student(database, class_id=class_id, instructor=teacher, name="Sam Okafor")
        return made(rows)

    monkeypatch.setattr(roster_import, "pass_phrases_for", meanwhile)
    with pytest.raises(Refused, match="has changed since"):
        roster_import.take(
            database,
            class_id=class_id,
            instructor=teacher,
            file_id=preview.file_id,
            columns=preview.columns,
            leave_out_faulty=False,
            now=now,
        )
    assert names(database, teacher, class_id) == ["Okafor, Sam"]


def test_another_s_class_and_a_student_find_nothing(database, teacher, class_id, now):
    other = factories.instructor(database)
    with pytest.raises(NotFound):
        roster_import.receive(database, class_id=class_id, instructor=other, content=LIST.encode(), now=now)
    student = factories.student(database, class_id=class_id, instructor=teacher)
    with pytest.raises(NotAllowed):
        received_files.keep(database, instructor=student, content=b"", now=now)


def test_two_students_of_one_name_are_told_apart_by_number(database, teacher, class_id, now):
    text = "ID,Name\n1,Sam Lee\n2,Sam Lee\n"
    taken = take(database, teacher, class_id, now, text)
    assert len({card.sign_in_name for card in taken.cards}) == 2
    assert take(database, teacher, class_id, now, text).unchanged == 2


def test_a_wished_sign_in_name_is_not_given_to_another_line(database, teacher, class_id, now):
    taken = take(database, teacher, class_id, now, "Username,Name\n,Sam Okafor\nsamo,Bo Diaz\n")
    assert [card.sign_in_name for card in taken.cards] == ["samo2", "samo"]
