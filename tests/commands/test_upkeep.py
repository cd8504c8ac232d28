"""`heavyspot person`, `upgrade`, `backup` and `restore`."""

import re
import sqlite3
from pathlib import Path

from tests.commands.program import HeavySpot


def pass_phrase(said: str) -> str:
    found = re.search(r"Pass phrase: +(\S.*)", said)
    assert found, said
    return found[1]


def sign_in_names(database_file: Path) -> list[str]:
    connection = sqlite3.connect(database_file)
    try:
        return [
            name for (name,) in connection.execute("SELECT sign_in_name FROM person ORDER BY sign_in_name")
        ]
    finally:
        connection.close()


def test_an_instructor_is_added_once_with_a_pass_phrase_that_is_shown_once(heavyspot: HeavySpot) -> None:
    added = heavyspot.run("person", "add-instructor", "J. Rivera", "j.rivera")
    assert added.status == 0
    assert len(pass_phrase(added.out)) >= 12
    again = heavyspot.run("person", "add-instructor", "Jo Rivera", "j.rivera")
    assert again.status == 1
    assert "already" in again.error
    assert sign_in_names(heavyspot.database_file) == ["j.rivera"]
    assert pass_phrase(added.out).encode() not in heavyspot.database_file.read_bytes()


def test_a_sign_in_name_that_cannot_be_used_is_refused(heavyspot: HeavySpot) -> None:
    ended = heavyspot.run("person", "add-instructor", "J. Rivera", "j")
    assert ended.status == 1
    assert "letters" in ended.error


def test_a_reset_gives_a_new_pass_phrase(heavyspot: HeavySpot) -> None:
    added = heavyspot.run("person", "add-instructor", "J. Rivera", "j.rivera")
    reset = heavyspot.run("person", "reset", "j.rivera")
    assert reset.status == 0
    assert pass_phrase(reset.out) != pass_phrase(added.out)


def test_a_reset_of_an_unknown_person_is_refused(heavyspot: HeavySpot) -> None:
    assert heavyspot.run("upgrade").status == 0
    ended = heavyspot.run("person", "reset", "nobody")
    assert ended.status == 1
    assert "nobody" in ended.error


def test_commands_that_need_a_database_say_that_there_is_none_and_make_none(heavyspot: HeavySpot) -> None:
    for arguments in (["person", "reset", "j.rivera"], ["backup", "copy.db"]):
        ended = heavyspot.run(*arguments)
        assert ended.status == 1
        assert "There is no database" in ended.error
    assert not heavyspot.database_file.exists()


def test_an_upgrade_makes_the_database_and_can_be_run_again(heavyspot: HeavySpot) -> None:
    assert heavyspot.run("upgrade").status == 0
    assert heavyspot.run("upgrade").status == 0
    assert sign_in_names(heavyspot.database_file) == []


def test_a_backup_brings_back_what_was_there_and_keeps_what_it_replaces(
    heavyspot: HeavySpot, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.db"
    heavyspot.run("person", "add-instructor", "J. Rivera", "j.rivera")
    assert heavyspot.run("backup", copy).status == 0
    heavyspot.run("person", "add-instructor", "K. Osei", "k.osei")
    restored = heavyspot.run("restore", copy)
    assert restored.status == 0
    assert sign_in_names(heavyspot.database_file) == ["j.rivera"]
    kept = Path(restored.out.strip().splitlines()[-1].rsplit(" ", 1)[1])
    assert sign_in_names(kept) == ["j.rivera", "k.osei"]


def test_a_backup_never_replaces_a_file(heavyspot: HeavySpot, tmp_path: Path) -> None:
    precious = tmp_path / "precious.txt"
    precious.write_text("keep me")
    heavyspot.run("upgrade")
    ended = heavyspot.run("backup", precious)
    assert ended.status == 1
    assert "is there already" in ended.error
    assert precious.read_text() == "keep me"


def test_a_file_that_is_no_backup_is_refused_and_the_database_stays(
    heavyspot: HeavySpot, tmp_path: Path
) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear Sir or Madam")
    heavyspot.run("person", "add-instructor", "J. Rivera", "j.rivera")
    for file in (letter, tmp_path / "absent.db"):
        ended = heavyspot.run("restore", file)
        assert ended.status == 1
        assert str(file) in ended.error
    assert sign_in_names(heavyspot.database_file) == ["j.rivera"]


def test_upkeep_of_a_database_on_a_server_names_its_own_tools(heavyspot: HeavySpot, tmp_path: Path) -> None:
    heavyspot.environ["HEAVYSPOT_DATABASE_URL"] = "mysql://school/heavyspot"
    ended = heavyspot.run("backup", tmp_path / "copy.db")
    assert ended.status == 1
    assert "HEAVYSPOT_DATABASE_URL" in ended.error
