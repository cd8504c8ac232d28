"""Templates compile, import what they use, and carry no script, style or outside host."""

import re
from collections.abc import Iterator

import pytest
from jinja2 import Environment, nodes
from jinja2.meta import find_referenced_templates

from app.factory import create_app
from app.settings import Settings
from tests.rules import tree

INLINE = {
    "a script without a file": re.compile(
        r"<script(?![^>]*\bsrc=)(?![^>]*\btype=.application/json)", re.IGNORECASE
    ),
    "a style element": re.compile(r"<style\b", re.IGNORECASE),
    "a style attribute": re.compile(r"\sstyle\s*=", re.IGNORECASE),
    "an event attribute": re.compile(r"\son[a-z]+\s*=\s*[\"']", re.IGNORECASE),
    "a script in an address": re.compile(r"javascript:", re.IGNORECASE),
}
OUTSIDE_HOST = re.compile(r"(?:https?:)?//(?!www\.w3\.org/)[a-z0-9-]+(?:\.[a-z0-9-]+)+", re.IGNORECASE)
EVALUATES = re.compile(
    r"\beval\(|new Function\(|setAttribute\(\s*[\"'](?:style|on\w+)[\"']|document\.write\("
)

FOLDER = tree.ROOT / "templates"
TEMPLATES = [path.relative_to(FOLDER).as_posix() for path in tree.under("templates", ".html")]


@pytest.fixture(scope="module")
def environment(tmp_path_factory: pytest.TempPathFactory) -> Environment:
    """The app's own, since only it knows the app's filters and tests."""
    folder = tmp_path_factory.mktemp("data")
    return create_app(Settings.from_environment({"HEAVYSPOT_DATA": str(folder)})).jinja_env


def unused_imports(template: nodes.Template) -> set[str]:
    used = {name.name for name in template.find_all(nodes.Name) if name.ctx == "load"}
    return set(imported_macros(template)) - used


def imported_macros(template: nodes.Template) -> Iterator[str]:
    for statement in template.find_all(nodes.FromImport):
        for name in statement.names:
            yield name[1] if isinstance(name, tuple) else name
    for module in template.find_all(nodes.Import):
        yield module.target


def missing_macros(environment: Environment, template: nodes.Template) -> list[str]:
    missing = []
    for statement in template.find_all(nodes.FromImport):
        assert isinstance(statement.template, nodes.Const)
        library = parsed(environment, statement.template.value)
        there = {macro.name for macro in library.find_all(nodes.Macro)}
        wanted = {name[0] if isinstance(name, tuple) else name for name in statement.names}
        missing += sorted(wanted - there)
    return missing


def parsed(environment: Environment, name: str) -> nodes.Template:
    assert environment.loader
    return environment.parse(environment.loader.get_source(environment, name)[0])


def test_there_are_templates_to_look_at() -> None:
    assert len(TEMPLATES) > 10


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_template_compiles_and_what_it_names_exists(environment: Environment, name: str) -> None:
    environment.get_template(name)
    template = parsed(environment, name)
    for referenced in find_referenced_templates(template):
        if referenced:
            environment.get_template(referenced)
    assert missing_macros(environment, template) == []


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_template_uses_every_macro_it_imports(environment: Environment, name: str) -> None:
    assert unused_imports(parsed(environment, name)) == set()


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_template_has_no_inline_script_or_style(name: str) -> None:
    source = (FOLDER / name).read_text()
    assert [fault for fault, pattern in INLINE.items() if pattern.search(source)] == []


def test_no_template_style_sheet_or_script_names_an_outside_host() -> None:
    sources = tree.under("templates") + tree.under("static", ".css", ".js", ".svg", ".html", ".json")
    assert sources
    found = {tree.name_of(path): OUTSIDE_HOST.findall(tree.text_of(path) or "") for path in sources}
    assert {name: hosts for name, hosts in found.items() if hosts} == {}


def test_no_script_evaluates_text_or_writes_a_style_attribute() -> None:
    scripts = tree.under("static", ".js")
    assert scripts
    assert [tree.name_of(path) for path in scripts if EVALUATES.search(path.read_text())] == []


@pytest.mark.parametrize(
    ("source", "fault"),
    [
        ("<script>go()</script>", "a script without a file"),
        ("<STYLE>p {}</STYLE>", "a style element"),
        ('<p class="a" style="color: red">', "a style attribute"),
        ('<button onclick="go()">', "an event attribute"),
        ('<a href="javascript:go()">', "a script in an address"),
    ],
)
def test_the_rule_against_inline_code_sees_each_kind(source: str, fault: str) -> None:
    assert [name for name, pattern in INLINE.items() if pattern.search(source)] == [fault]


@pytest.mark.parametrize(
    "source", ['<script type="module" src="/a.js">', '<script type="application/json">{}']
)
def test_the_rule_against_inline_code_lets_files_and_data_be(source: str) -> None:
    assert not any(pattern.search(source) for pattern in INLINE.values())


@pytest.mark.parametrize("source", ["url(https://fonts.example.com/a)", 'src="//cdn.example.com/a.js"'])
def test_the_rule_against_outside_hosts_sees_one(source: str) -> None:
    assert OUTSIDE_HOST.search(source)


def test_the_rule_on_unused_macros_sees_one() -> None:
    source = '{% from "a.html" import used, idle %}{% import "b.html" as b %}{{ used() }}'
    assert unused_imports(Environment(autoescape=True).parse(source)) == {"idle", "b"}
