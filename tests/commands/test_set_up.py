"""The set-up commands on machines that lack something. Nothing is installed: their commands are looked at."""

import importlib.metadata
import importlib.util
import os
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

SCRIPTS = Path(__file__).parents[2] / "scripts"


def loaded(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"set_up_{name}", SCRIPTS / f"{name}.py")
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def ran() -> list[list[str]]:
    """What the set-up ran, in order."""
    return []


@pytest.fixture
def environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ran: list[list[str]]) -> ModuleType:
    """scripts/environment.py for a project in a folder of its own, where every program succeeds."""
    module = loaded("environment")
    (tmp_path / "pyproject.toml").write_text("[project]\n")
    for name in ("VENV", "PYTHON", "STAMP"):
        monkeypatch.setattr(module, name, tmp_path / getattr(module, name).relative_to(module.ROOT))
    monkeypatch.setattr(module, "ROOT", tmp_path)

    def run(command: list[str], failure: str) -> None:  # noqa: ARG001
        ran.append(command)
        if "venv" in command:
            module.PYTHON.parent.mkdir(parents=True)
            module.PYTHON.touch()

    has_ensurepip(monkeypatch, True)
    monkeypatch.setattr(module, "run", run)
    monkeypatch.setattr(module, "works", lambda: module.PYTHON.exists())
    monkeypatch.setattr(module, "has_pip", lambda _: "--without-pip" not in ran[0])
    return module


def has_ensurepip(monkeypatch: pytest.MonkeyPatch, there: bool) -> None:
    real = importlib.util.find_spec

    def find_spec(name: str, *rest: Any) -> Any:
        return (there or None) if name == "ensurepip" else real(name, *rest)

    monkeypatch.setattr(importlib.util, "find_spec", find_spec)


def has_pip_of_version(monkeypatch: pytest.MonkeyPatch, version: str | None) -> None:
    def version_of(name: str) -> str:
        if version is None:
            raise importlib.metadata.PackageNotFoundError(name)
        return version

    monkeypatch.setattr(importlib.metadata, "version", version_of)


def installed_by(ran: list[list[str]]) -> list[str]:
    return [command[-1] for command in ran if "install" in command]


def test_the_first_run_makes_an_environment_installs_into_it_and_compiles_the_program(
    environment: ModuleType, ran: list[list[str]]
) -> None:
    environment.prepare("test")
    made, installed, compiled = ran
    assert made == [sys.executable, "-m", "venv", str(environment.VENV)]
    assert installed[:4] == [str(environment.PYTHON), "-m", "pip", "install"]
    assert installed[-2:] == ["--editable", ".[test]"]
    assert compiled == [str(environment.PYTHON), "-m", "compileall", "-q", "app"]


def test_a_second_run_does_nothing(environment: ModuleType, ran: list[list[str]]) -> None:
    environment.prepare("test")
    ran.clear()
    environment.prepare("test")
    environment.prepare()
    assert ran == []


def test_the_tests_need_more_than_the_demo_installed(environment: ModuleType, ran: list[list[str]]) -> None:
    environment.prepare()
    environment.prepare("test")
    assert installed_by(ran) == [".", ".[test]"]


def test_a_changed_pyproject_is_installed_again(environment: ModuleType, ran: list[list[str]]) -> None:
    environment.prepare()
    (environment.ROOT / "pyproject.toml").write_text('[project]\nname = "other"\n')
    environment.prepare()
    assert installed_by(ran) == [".", "."]


def test_an_installation_that_failed_is_tried_again(
    environment: ModuleType, ran: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    run = environment.run

    def failing(command: list[str], failure: str) -> None:
        run(command, failure)
        if "install" in command:
            raise environment.SetUpError(failure)

    monkeypatch.setattr(environment, "run", failing)
    for _ in range(2):
        with pytest.raises(environment.SetUpError, match="pip could not install"):
            environment.prepare()
    assert ["install" in command for command in ran] == [False, True, True]


def test_without_ensurepip_this_pythons_own_pip_installs(
    environment: ModuleType, ran: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    has_ensurepip(monkeypatch, False)
    has_pip_of_version(monkeypatch, "23.0.1")
    environment.prepare()
    made, installed, _ = ran
    assert "--without-pip" in made
    assert installed[:6] == [sys.executable, "-m", "pip", "--python", str(environment.PYTHON), "install"]


@pytest.mark.parametrize("version", [None, "20.3.4", "22.2.2"])
def test_without_ensurepip_and_without_a_new_enough_pip_it_says_what_to_install(
    environment: ModuleType, ran: list[list[str]], monkeypatch: pytest.MonkeyPatch, version: str | None
) -> None:
    has_ensurepip(monkeypatch, False)
    has_pip_of_version(monkeypatch, version)
    with pytest.raises(environment.SetUpError, match="apt-get install python3-pip"):
        environment.prepare()
    assert ran == []


def test_an_old_python_is_told_so(environment: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 10, 2))
    with pytest.raises(environment.SetUpError, match=r"needs Python 3\.11 or newer"):
        environment.prepare()


def test_an_environment_whose_python_is_gone_does_not_work(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    module = loaded("environment")
    monkeypatch.setattr(module, "PYTHON", tmp_path / "python")
    assert not module.works()
    (tmp_path / "python").symlink_to(tmp_path / "gone")
    assert not module.works()
    (tmp_path / "python").unlink()
    (tmp_path / "python").symlink_to(sys.executable)
    assert module.works()


def test_a_program_that_fails_or_is_missing_is_said(tmp_path: Path) -> None:
    module = loaded("environment")
    for command in ([sys.executable, "-c", "raise SystemExit(3)"], [str(tmp_path / "absent")]):
        with pytest.raises(module.SetUpError, match="Plug it in"):
            module.run(command, "Plug it in.")


@pytest.fixture
def debian(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """scripts/debian.py, which imports its neighbour."""
    monkeypatch.syspath_prepend(str(SCRIPTS))
    return loaded("debian")


@pytest.fixture
def checks(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """scripts/test.py, which imports its neighbours."""
    monkeypatch.syspath_prepend(str(SCRIPTS))
    return loaded("test")


@pytest.mark.skipif(os.name == "nt", reason="apt-get and its users are not of Windows")
@pytest.mark.parametrize(
    ("system", "user", "sudo", "start"),
    [
        ("debian", 0, False, ["env"]),
        ("debian", 1000, True, ["sudo"]),
        ("debian", 1000, False, []),
        ("another", 0, True, []),
    ],
)
def test_packages_come_from_apt_get_only_where_that_can_work(
    debian: ModuleType, monkeypatch: pytest.MonkeyPatch, system: str, user: int, sudo: bool, start: list[str]
) -> None:
    monkeypatch.setattr(debian.shutil, "which", lambda name: name)
    monkeypatch.setattr(debian, "linux_id", lambda: system)
    monkeypatch.setattr(debian.os, "geteuid", lambda: user)
    monkeypatch.setattr(debian.sys.stdin, "isatty", lambda: False, raising=False)
    monkeypatch.setattr(debian, "sudo_asks_no_password", lambda: sudo)
    assert debian.how_to_call_apt_get()[:1] == start


def test_a_browser_that_cannot_be_found_stops_the_checks(
    checks: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(checks.environment, "prepare", lambda _: None)
    monkeypatch.setattr(checks, "run", lambda *_: None)
    monkeypatch.setattr(checks, "find_browser", lambda: None)
    assert checks.main() == 1
    assert "chromium" in capsys.readouterr().err


def test_one_failed_check_fails_the_whole_and_the_others_still_run(
    checks: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    seen = []
    monkeypatch.setattr(checks.environment, "prepare", lambda _: None)
    monkeypatch.setattr(checks, "ensure_browser", lambda: None)
    monkeypatch.setattr(checks, "passes", lambda name, _: seen.append(name) or name != "types")
    assert checks.main() == 1
    assert seen == list(checks.CHECKS)
    assert capsys.readouterr().out.endswith("Failed: types\n")


def test_continuous_integration_runs_the_readmes_second_command_and_nothing_else() -> None:
    lines = (SCRIPTS.parent / ".ci" / "run").read_text().splitlines()
    commands = [line for line in lines if line and not line.startswith(("#", "set ", "cd "))]
    assert commands == ["exec python3 scripts/test.py"]
