"""Difficulty, discrimination and reliability against published data and scipy."""

import numpy as np
import pytest
from scipy import stats

from app.domain.item_analysis import analyse_tasks, reliability
from tests.published.cases import case


def answers(case_id: str) -> np.ndarray:
    rows = case(case_id)["given"]["students_by_items"]
    return np.array([[float(answer) for answer in row] for row in rows])


def test_kr20_of_the_published_help_sheet():
    known = case("edu-kr20-wuensch")
    table = answers("edu-kr20-wuensch")
    found = reliability(table)
    assert found.coefficient == pytest.approx(known["expect"]["KR20"], abs=known["tolerance"]["KR20"])
    assert (found.is_kr20, found.students, found.tasks) == (True, 10, 10)
    difficulties = [task.difficulty for task in analyse_tasks(table)]
    assert difficulties == pytest.approx(known["expect"]["p"], abs=known["tolerance"]["p"])


def test_discrimination_leaves_the_task_itself_out_of_the_total():
    known = case("edu-point-biserial-wuensch")
    found = [task.discrimination for task in analyse_tasks(answers("edu-point-biserial-wuensch"))]
    assert found == pytest.approx(known["expect"]["corrected_item_removed"], abs=known["tolerance"]["r"])


def test_discrimination_is_scipys_point_biserial_with_the_rest():
    table = answers("edu-point-biserial-wuensch")
    for place, task in enumerate(analyse_tasks(table)):
        rest = np.delete(table, place, axis=1).sum(axis=1)
        expected = stats.pointbiserialr(table[:, place].astype(bool), rest).statistic
        assert task.discrimination == pytest.approx(expected, abs=1e-12)


def test_a_high_difficulty_is_an_easy_task():
    known = case("edu-difficulty-24-of-30")
    table = np.array([[1.0]] * known["given"]["correct"] + [[0.0]] * (30 - known["given"]["correct"]))
    assert analyse_tasks(table)[0].difficulty == pytest.approx(known["expect"]["p"])


def test_part_marks_give_alpha_by_its_definition_over_covariances():
    """Cronbach (1951): alpha = k² times the mean covariance over the sum of the covariance matrix."""
    rng = np.random.default_rng(5)
    table = np.clip(rng.normal(0.6, 0.2, (40, 1)) + rng.normal(0, 0.2, (40, 6)), 0, 1)
    covariances = np.cov(table.T)
    mean_between = covariances[~np.eye(6, dtype=bool)].mean()
    found = reliability(table)
    assert found.coefficient == pytest.approx(36 * mean_between / covariances.sum())
    assert not found.is_kr20


@pytest.mark.parametrize(
    "table",
    [np.zeros((0, 3)), [[1.0, 0.0]], [[1.0, 0.5], [1.0, 0.5], [1.0, 0.5]], [[1.0], [0.0]]],
    ids=["nobody", "one student", "no differences", "one task"],
)
def test_what_is_undefined_is_none(table):
    assert reliability(table).coefficient is None
    assert all(task.discrimination is None for task in analyse_tasks(table))


def test_a_task_that_waits_for_its_mark_leaves_the_others_as_they_are():
    table = answers("edu-kr20-wuensch")
    waiting = np.vstack([table, np.where(np.arange(10) == 3, np.nan, 1.0)])
    assert reliability(waiting) == reliability(table)
    found = analyse_tasks(waiting)
    assert (found[3].students, found[0].students) == (10, 11)
    assert found[3].difficulty == pytest.approx(0.7)
    assert found[0].difficulty == pytest.approx(8 / 11)
