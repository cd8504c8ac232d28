"""What may stand in a file of this project, whatever its language."""

import re

import pytest

from tests.rules import tree

MOST_LINES = 500
WRITTEN_BY_HAND = {".py", ".js", ".css", ".html", ".toml", ".typ"}

# In pieces, so that this file keeps the rule it states.
FOLDERS_OF_A_MACHINE = "|".join(("work", "root", "home", "Users"))
MACHINE_PATHS = re.compile(rf"(?<![\w>}})*.:-])/({FOLDERS_OF_A_MACHINE})/\w|[A-Z]:\\\\?Users")
REGISTRIES = [
    ("pypi", "org"),
    ("files", "pythonhosted", "org"),
    ("registry", "npmjs", "org"),
    ("deb", "debian", "org"),
]
REGISTRY_HOSTS = re.compile("|".join(r"\.".join(parts) for parts in REGISTRIES))


def matches(pattern: re.Pattern[str]) -> list[str]:
    found = []
    for path in tree.files():
        for number, line in enumerate((tree.text_of(path) or "").splitlines(), 1):
            if pattern.search(line):
                found.append(f"{tree.name_of(path)}:{number}: {line.strip()[:80]}")
    return found


def test_no_file_is_longer_than_500_lines() -> None:
    lengths = {
        tree.name_of(path): len((tree.text_of(path) or "").splitlines())
        for path in tree.files()
        if path.suffix in WRITTEN_BY_HAND
    }
    assert len(lengths) > 50
    assert {name: length for name, length in lengths.items() if length > MOST_LINES} == {}


def test_no_file_names_a_path_of_somebodys_machine() -> None:
    assert matches(MACHINE_PATHS) == []


def test_no_file_names_the_host_of_a_package_registry() -> None:
    assert matches(REGISTRY_HOSTS) == []


@pytest.mark.parametrize("line", ["/" + "home/ann/heavyspot", 'path = "/' + 'root/x"', "C:" + "\\Users\\ann"])
def test_the_rule_against_machine_paths_sees_one(line: str) -> None:
    assert MACHINE_PATHS.search(line)


@pytest.mark.parametrize("line", ["/srv/heavyspot", "labs/work/1", "<a href='/teaching/home'>"])
def test_the_rule_against_machine_paths_lets_other_paths_be(line: str) -> None:
    assert not MACHINE_PATHS.search(line)


def test_the_rule_against_registry_hosts_sees_one() -> None:
    assert REGISTRY_HOSTS.search("index-url = https://" + "pypi" + ".org/simple")
