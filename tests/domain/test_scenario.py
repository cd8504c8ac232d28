"""The shape of a scenario file: every fault at once, each with its place, in words an author understands."""

import pytest
from pydantic import ValidationError

from app.domain.faults import MOST_NAMED, faults_from
from app.domain.scenario import LARGEST_FILE, Scenario, ScenarioFaults, parse
from app.domain.tasks import NumberTask
from tests.domain.writing import (
    SHIPPED,
    assembly,
    choice,
    first,
    heavy_spot,
    number,
    shipped,
    shipped_text,
    small,
    text,
)

BALANCE = shipped_text("two-plane-balance")


def faults(content: str) -> list[str]:
    with pytest.raises(ScenarioFaults) as refused:
        parse(content)
    return [str(fault) for fault in refused.value.faults]


def changed(*changes: tuple[str, str]) -> str:
    content = BALANCE
    for old, new in changes:
        assert old in content
        content = content.replace(old, new, 1)
    return content


def test_all_faults_are_named_at_once_with_their_places() -> None:
    content = changed(
        ("format = 1", "format = 2"),
        ("minutes = 40", 'minutes = "40"'),
        ("[vehicle]", "[vehicle]\ncolour = 1"),
        ('drive_side = "left"', 'drive_side = "middle"'),
        ("mass_g = { low = 14", "mass_g = { low = -14"),
        ("z_mm = -95", "z_mm = inf"),
        ("diameter_in = 15", "diameter_in = 0"),
        ('designation = "P205/65R15 92H"', 'designation = "205"'),
        ('key = "assembly[A].static.size_gmm"', 'kee = "assembly[A].static.size_gmm"'),
        ("tolerance = { absolute = 6 }", "tolerance = { absolute = -6 }"),
        ('kind = "balancer"', 'kind = "crystal ball"'),
        ('right = "couple"', 'right = "triple"'),
        ('id = "left-mass"\nkind = "number"', 'id = "left-mass"\nkind = "guess"'),
        ('id = "senses"', 'id = "Senses!"'),
    )
    found = faults(content)
    assert found == [
        "format: must be one of 1",
        "minutes: must be a whole number without quotes",
        "vehicle.drive_side: must be one of 'left' or 'right'",
        "vehicle.colour: is not a field known here; remove it or mend its spelling",
        "assemblies[0].wheel.diameter_in: must be above 0",
        found[5],
        "assemblies[0].heavy_spots[0].mass_g: must not be below 0 in any draw",
        "assemblies[0].heavy_spots[1].z_mm: must be an ordinary number, not nan or infinity",
        "parts[0].tasks[0].key: is missing; add it",
        "parts[0].tasks[0].kee: is not a field known here; remove it or mend its spelling; did you mean key?",
        "parts[0].tasks[1].tolerance.absolute: must be at least 0",
        found[11],
        "parts[1].tasks[4]: right must be one of couple, heavier, looks",
        found[13],
        "reflection[0].id: must have the form ^[a-z0-9]+(-[a-z0-9]+)*$",
    ]
    assert found[5].startswith("assemblies[0].tire.designation: ")
    assert found[11].startswith("parts[1].shows[0].kind: must be one of 'cones', 'rim'")
    assert found[13].startswith("parts[2].tasks[0]: has no known kind; allowed: 'number', 'choice'")


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        (
            "{ low = 14, high = 30, step = 1 }",
            "{ low = 30, high = 14, step = 1 }",
            "low must not be above high",
        ),
        (
            "{ low = 14, high = 30, step = 1 }",
            "{ low = 14, high = 30, step = 17 }",
            "step must not be larger",
        ),
        ("{ low = 14, high = 30, step = 1 }", "{ low = 14, high = 30, step = 1e-9 }", "must not be smaller"),
        ("{ low = 14, high = 30, step = 1 }", "{ low = 14, hi = 30 }", "is missing"),
        ("{ low = 14, high = 30, step = 1 }", "{ one_of = [] }", "needs at least 1 entries"),
        ("{ low = 14, high = 30, step = 1 }", "{ one_of = [5, nan] }", "ordinary number"),
        ("{ low = 14, high = 30, step = 1 }", '"14"', "a number without quotes"),
        ("{ low = 14, high = 30, step = 1 }", "true", "a number without quotes"),
        ("{ low = 14, high = 30, step = 1 }", "1e300", "at most"),
        ("z_mm = -82", "z_mm = { low = -100, high = 90 }", "below outboard.z_mm in every draw"),
        ('name = "Sidewall, inboard"', 'name = "Tread splice"', "two heavy spots are named Tread splice"),
        ('id = "static-angle"', 'id = "static-size"', "two tasks have the id static-size"),
        ('id = "check"', 'id = "senses"', "two reflection prompts have the id senses"),
        ("[machine]", "[machine.us]\nstep = 1\ndead_band = 0\npieces = [1, 2, 2]\n[machine]", "2.0 twice"),
        ("service_date = 2026-10-05", 'service_date = "soon"', "a date such as"),
        ('title = "One assembly on the balancer"', 'title = ""', "must not be empty"),
        ('title = "One assembly on the balancer"', f'title = "{"x" * 200}"', "at most 160 characters"),
        ("skills = [", "skills = []\nskill = [", "needs at least 1 entries"),
        ('cautions = ["spinning", "lifting"]', 'cautions = ["dragons"]', "must be one of 'lifting'"),
        (
            'text = "Two weights only spread',
            'id2 = "x"\ntext = "Two weights only spread',
            "not a field known here",
        ),
        ("points = 2", "points = 0", "must be above 0"),
        ("points = 2", "points = 101", "must be at most 100"),
        ("tolerance = { relative = 0.05 }", "tolerance = 0.05", "must be a table"),
        ('key = "assembly[A].static.size_gmm"', 'key = "A.static"', "must have the form"),
    ],
)
def test_each_fault_says_what_is_allowed(old: str, new: str, fault: str) -> None:
    found = faults(changed((old, new)))
    assert any(fault in each for each in found), found


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        (
            {"wheel": {"bead_seats": {"inboard": [first(1, 0), first(2, 0)], "outboard": []}}},
            "order 1 stands there",
        ),
        ({"wheel": {"bead_seats": {"inboard": [first(-1, 0)], "outboard": []}}}, "must not be below 0"),
        ({"tire": {"force": [first(1, 0, order=11)]}}, "must be at most 10"),
        ({"tire": {"tin": {"prefix": "1AB", "week": 54, "year": 2020}}}, "from 1 to 53"),
        ({"tire": {"tin": {"prefix": "1AB", "week": {"low": 1, "high": 9}, "year": 2020}}}, "whole number"),
        ({"tire": {"tin": {"prefix": "1AB", "week": 5.5, "year": 2020}}}, "whole number"),
        ({"tire": {"tin": {"prefix": "1AB", "week": 5, "year": 20}}}, "from 2000 to 2099"),
        ({"tire": {"tin": {"prefix": "1 a", "week": 5, "year": 2020}}}, "must have the form"),
        ({"heavy_spots": [heavy_spot(1, 2, 3, radius_mm=0)]}, "must be above 0 in every draw"),
        ({"replacement": {"first_n": {"low": -5, "high": 5}}}, "must not be below 0"),
    ],
)
def test_numbers_of_an_assembly_keep_their_limits(changes: dict[str, object], fault: str) -> None:
    with pytest.raises(ValidationError) as refused:
        small([], assembly(**changes))
    found = [str(each) for each in faults_from(refused.value)]
    assert len(found) == 1
    assert found[0].startswith(f"assemblies[0].{next(iter(changes))}")
    assert fault in found[0]


@pytest.mark.parametrize(
    "options",
    [{"right": "maybe"}, {}, {"right": "yes", "key": "assembly[A].decision"}],
)
def test_a_choice_has_exactly_one_source_of_its_right_option(options: dict[str, str]) -> None:
    with pytest.raises(ValueError, match="right"):
        small([choice("x", "yes no", **options)])
    with pytest.raises(ValueError, match="two options have the same id"):
        small([choice("x", "yes yes", right="yes")])


def test_a_lab_has_a_bounded_number_of_questions() -> None:
    tasks = [number(f"t{i}", "assembly[*].static.size_gmm") for i in range(40)]
    with pytest.raises(ValueError, match="asks 160 questions; a lab has at most 150"):
        small(tasks, *(assembly(letter) for letter in "ABCD"))


def test_a_long_list_of_faults_is_cut_short() -> None:
    found = faults("\n".join(f"k{i} = 1" for i in range(1000)))
    assert len(found) == MOST_NAMED + 1
    assert "faults more" in found[-1]


def test_a_file_that_is_not_toml_says_where() -> None:
    assert faults("format = 1\ntitle = 'x' y")[0].startswith("file: is not TOML: ")
    assert "line 2" in faults("format = 1\ntitle = 'x' y")[0]
    assert "Cannot overwrite" in faults("format = 1\nformat = 1")[0]


def test_equal_texts_give_equal_frozen_scenarios() -> None:
    one, other = parse(BALANCE), parse(BALANCE)
    assert one == other
    with pytest.raises(ValueError, match="frozen"):
        one.title = "x"  # type: ignore[misc]


def test_a_task_that_asks_every_assembly_stands_there_once_for_each_one_assembly_after_the_other() -> None:
    scenario = small(
        [
            number(
                "age",
                "assembly[*].tire.age_years",
                title="Age of {assembly}",
                prompt="How old is {assembly}?",
            ),
            choice("decision", "fit replace", key="assembly[*].decision", follows=["age"]),
            number("left", "assembly[A].match.left_n", follows=["decision"]),
            text("why"),
        ],
        assembly("A"),
        assembly("B1"),
    )
    asked = {task.id: task for task in scenario.tasks}
    assert list(asked) == ["age-a", "decision-a", "age-b1", "decision-b1", "left", "why"]
    age = asked["age-b1"]
    assert isinstance(age, NumberTask)
    assert (age.title, age.prompt) == ("Age of B1", "How old is B1?")
    assert age.key == "assembly[B1].tire.age_years"
    assert getattr(asked["decision-b1"], "follows", None) == ("age-b1",)
    assert getattr(asked["left"], "follows", None) == ("decision-a", "decision-b1")
    assert scenario.task("age-a") is asked["age-a"]
    assert scenario.task("age") is None
    assert scenario.out_of == 12


@pytest.mark.parametrize("scenario_id", SHIPPED)
def test_the_shipped_scenarios_have_everything_a_lesson_needs(scenario_id: str) -> None:
    scenario = shipped(scenario_id)
    assert scenario.id == scenario_id
    assert scenario.cautions
    assert len(scenario.reflection) >= 3
    for task in scenario.tasks:
        assert task.explain or task.kind == "text", task.id
    assert {part.title for part in scenario.parts} == {part.title for part in scenario.lab_parts}
    assert "{" not in " ".join(f"{task.title} {task.prompt} {task.explain}" for task in scenario.tasks)


def test_the_schema_for_authors_can_be_printed() -> None:
    schema = Scenario.model_json_schema()
    assert {"format", "id", "vehicle", "assemblies", "parts", "teacher"} <= set(schema["required"])


def test_a_file_may_not_be_longer_than_its_limit() -> None:
    assert faults(BALANCE + "#" * LARGEST_FILE) == [f"file: is longer than {LARGEST_FILE} characters"]
