"""Who may import whom. Each contract of pyproject.toml is broken here on purpose and must say so."""

import ast
import json
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.rules import tree

# One forbidden import for each contract: (contract, file it is written into, the import).
VIOLATIONS = [
    ("layers", "compute/angles.py", "import app.domain"),
    ("layers", "services/__init__.py", "import app.web"),
    ("layers", "a_new_room.py", ""),
    ("pure", "domain/__init__.py", "import sqlalchemy"),
    ("pure", "calculations/__init__.py", "import flask"),
    ("compute", "compute/angles.py", "import pydantic"),
    ("no-web", "services/__init__.py", "import flask"),
    ("no-web", "exports/__init__.py", "import jinja2"),
    ("tables", "services/__init__.py", "import app.store.models"),
    ("store", "web/access.py", "import app.store.db"),
    ("sqlalchemy", "services/__init__.py", "import sqlalchemy.orm"),
    ("blueprints", "web/labs/__init__.py", "import app.web.teaching"),
    ("calc", "commands/calc.py", "import app.settings, app.store.db"),
]


def lint_imports(folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
    program = Path(sys.executable).with_name("lint-imports")
    return subprocess.run(
        [program, "--no-logo", "--no-cache", *options],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture
def copy_of_the_app(tmp_path: Path) -> Path:
    shutil.copytree(tree.ROOT / "app", tmp_path / "app", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(tree.ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def test_every_contract_is_kept(copy_of_the_app: Path) -> None:
    result = lint_imports(copy_of_the_app)
    assert result.returncode == 0, result.stdout


def test_every_contract_has_a_violation_to_catch() -> None:
    pyproject = tomllib.loads((tree.ROOT / "pyproject.toml").read_text())
    contracts = {contract["id"] for contract in pyproject["tool"]["importlinter"]["contracts"]}
    assert contracts == {contract for contract, _, _ in VIOLATIONS}


@pytest.mark.parametrize(("contract", "file", "statement"), VIOLATIONS)
def test_a_contract_catches_a_forbidden_import(
    copy_of_the_app: Path, contract: str, file: str, statement: str
) -> None:
    target = copy_of_the_app / "app" / file
    before = target.read_text() if target.exists() else ""
    target.write_text(f"{before}\n{statement}\n")
    result = lint_imports(copy_of_the_app, "--contract", contract)
    assert result.returncode == 1
    assert "BROKEN" in result.stdout, result.stdout


def modules_loaded_by(statement: str) -> set[str]:
    code = f"import json, sys\n{statement}\nprint(json.dumps(sorted(sys.modules)))"
    result = subprocess.run(
        [sys.executable, "-c", code], cwd=tree.ROOT, capture_output=True, text=True, check=True
    )
    return set(json.loads(result.stdout))


def every_module_of(package: str) -> str:
    paths = [path.relative_to(tree.ROOT).with_suffix("") for path in tree.under(f"app/{package}", ".py")]
    names = [".".join(path.parts).removesuffix(".__init__") for path in paths]
    assert names
    return f"import {', '.join(names)}"


def test_a_fresh_interpreter_that_imports_the_computation_loads_no_framework() -> None:
    loaded = modules_loaded_by(every_module_of("compute"))
    assert "numpy" in loaded
    assert loaded & {"flask", "sqlalchemy", "pydantic", "wtforms", "jinja2", "click"} == set()


@pytest.mark.parametrize("room", ["domain", "calculations"])
def test_a_fresh_interpreter_that_imports_a_pure_room_loads_no_framework(room: str) -> None:
    loaded = modules_loaded_by(every_module_of(room))
    assert "app.compute" in loaded
    assert loaded & {"flask", "sqlalchemy", "wtforms", "jinja2", "app.settings"} == set()


def test_the_calculators_command_loads_no_web_and_no_database() -> None:
    loaded = modules_loaded_by("import app.cli; app.cli.main.get_command(None, 'calc')")
    assert "app.calculations" in loaded
    assert loaded & {"flask", "sqlalchemy", "app.settings", "app.store", "app.services"} == set()


def test_the_server_starts_without_what_only_exports_and_upgrades_need() -> None:
    loaded = modules_loaded_by("import app.cli; app.cli.main.get_command(None, 'serve')")
    assert {"app.store.migrating", "app.exports.workbook", "app.web.teaching"} <= loaded
    assert loaded & {"alembic", "openpyxl", "lxml", "docx", "segno"} == set()


def imported_names(source: str) -> set[str]:
    names = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            names.add("." * node.level + (node.module or ""))
    return names


def is_allowed_in_compute(name: str) -> bool:
    top = name.split(".")[0]
    return top == "numpy" or top in sys.stdlib_module_names or (name + ".").startswith("app.compute.")


def test_the_computation_imports_only_numpy_and_the_standard_library() -> None:
    paths = tree.under("app/compute", ".py")
    assert paths
    for path in paths:
        names = imported_names(path.read_text())
        assert [name for name in names if not is_allowed_in_compute(name)] == [], tree.name_of(path)


@pytest.mark.parametrize(
    "statement", ["import scipy", "def f():\n    from app.domain import scenario", "from .. import settings"]
)
def test_the_rule_on_the_computations_imports_sees_one_that_is_not_allowed(statement: str) -> None:
    assert not all(is_allowed_in_compute(name) for name in imported_names(statement))
