"""The README and DEVELOPERS.md say what is true."""

import re

import click
import pytest

from app.cli import COMMANDS, main
from tests.rules import tree

README = (tree.ROOT / "README.md").read_text()
DEVELOPERS = (tree.ROOT / "DEVELOPERS.md").read_text()

SETTING = re.compile(r"\bHEAVYSPOT_[A-Z_]+\b")
SCRIPT = re.compile(r"\bpython3? (\S+\.py)")
COMMAND = re.compile(r"\bheavyspot ([a-z][a-z-]*)((?: [^`\n]*)?)")
OPTION = re.compile(r"(?<!\S)(--[a-z-]+)")
PATH = re.compile(r"`((?:app|static|templates|tests|migrations|scenarios|scripts)/[\w./-]*)`")


def code_in(document: str) -> str:
    """Only what a reader would type or look up: fenced blocks and words in backquotes."""
    blocks = re.findall(r"```\w*\n(.*?)```", document, re.DOTALL)
    return "\n".join(blocks + re.findall(r"`([^`\n]+)`", re.sub(r"```.*?```", "", document, flags=re.DOTALL)))


def unknown_commands(document: str) -> list[str]:
    unknown = []
    for name, rest in COMMAND.findall(code_in(document)):
        if name not in COMMANDS:
            unknown.append(name)
            continue
        unknown += [f"{name} {option}" for option in OPTION.findall(rest) if option not in options_of(name)]
    return unknown


def options_of(name: str) -> set[str]:
    command = main.get_command(click.Context(main), name)
    assert command
    members = list(command.commands.values()) if isinstance(command, click.Group) else []
    parameters = [parameter for member in [command, *members] for parameter in member.params]
    return {option for parameter in parameters for option in parameter.opts} | {"--help"}


def test_every_setting_of_the_environment_stands_in_the_readme() -> None:
    used = {name for path in tree.under("app", ".py") for name in SETTING.findall(path.read_text())}
    assert "HEAVYSPOT_DATA" in used
    assert used - set(SETTING.findall(README)) == set()


def test_the_readme_documents_no_setting_that_nothing_reads() -> None:
    read = {name for path in tree.under("app", ".py") for name in SETTING.findall(path.read_text())}
    assert set(SETTING.findall(README)) - read == set()


def test_the_readme_starts_with_two_commands_that_exist() -> None:
    scripts = SCRIPT.findall(code_in(README))
    assert scripts[:2] == ["scripts/demo.py", "scripts/test.py"]
    assert [script for script in scripts if not (tree.ROOT / script).is_file()] == []


@pytest.mark.parametrize("document", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_command_and_option_that_is_written_down_exists(document: str) -> None:
    assert unknown_commands(document) == []


@pytest.mark.parametrize("document", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_path_that_is_written_down_exists(document: str) -> None:
    assert [path for path in PATH.findall(document) if not (tree.ROOT / path).exists()] == []


def test_the_readme_tells_of_every_command() -> None:
    assert set(COMMANDS) - {name for name, _ in COMMAND.findall(code_in(README))} == set()


def test_the_rule_on_commands_sees_one_that_does_not_exist() -> None:
    assert unknown_commands("Run `heavyspot fly` or `heavyspot serve --wings`.") == ["fly", "serve --wings"]
