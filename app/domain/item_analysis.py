"""What the marks of a class say about its tasks: how hard each was, whether it tells students apart, and
whether the tasks measure one thing.

`shares` is an array (students, tasks) of points earned over points possible, 0 to 1; nan where the
instructor still has to mark. A student who handed nothing in has no row. None means undefined: too few
students, or no differences to compare.

Sources: classical test theory; G. F. Kuder and M. W. Richardson, "The theory of the estimation of test
reliability", Psychometrika 2 (1937), formula 20; L. J. Cronbach, "Coefficient alpha and the internal
structure of tests", Psychometrika 16 (1951); the correction for the task's own part in the total is
P. B. Henrysson's, "Correction of item-total correlations in item analysis", Psychometrika 28 (1963).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FEWEST_STUDENTS = 2
NO_SPREAD = 1e-12
"""A variance below this is rounding: everybody earned the same."""


@dataclass(frozen=True)
class TaskAnalysis:
    """difficulty: mean share earned, so high is easy, as the term is used. discrimination: correlation of the
    task with the rest of the lab. students: how many of them have this task marked."""

    difficulty: float | None
    discrimination: float | None
    students: int


@dataclass(frozen=True)
class Reliability:
    """coefficient alpha, which is KR-20 where every task is either right or wrong. students, tasks: those it
    is made from, with every mark there."""

    coefficient: float | None
    is_kr20: bool
    students: int
    tasks: int


def analyse_tasks(shares: ArrayLike) -> tuple[TaskAnalysis, ...]:
    """Each task in order. Discrimination is the point-biserial correlation where a task is right or wrong,
    else Pearson's, with the sum of the other tasks; it takes the students who have every mark."""
    table = _table(shares)
    whole = table[~np.isnan(table).any(axis=1)]
    return tuple(
        TaskAnalysis(
            difficulty=float(np.mean(marked)) if len(marked := column[~np.isnan(column)]) else None,
            discrimination=_correlation(whole[:, place], np.delete(whole, place, axis=1).sum(axis=1)),
            students=len(marked),
        )
        for place, column in enumerate(table.T)
    )


def reliability(shares: ArrayLike) -> Reliability:
    """k / (k - 1) (1 - sum of the tasks' variances / variance of the totals), with population variances in
    both places: p (1 - p) is one, and mixing the two kinds gives too much."""
    table = _table(shares)
    whole = table[~np.isnan(table).any(axis=1)]
    students, tasks = whole.shape
    is_kr20 = bool(np.isin(whole, (0.0, 1.0)).all())
    spread = float(whole.sum(axis=1).var()) if students >= FEWEST_STUDENTS else 0.0
    if tasks < 2 or spread < NO_SPREAD:
        return Reliability(None, is_kr20, students, tasks)
    coefficient = tasks / (tasks - 1) * (1 - float(whole.var(axis=0).sum()) / spread)
    return Reliability(coefficient, is_kr20, students, tasks)


def _table(shares: ArrayLike) -> NDArray[np.float64]:
    table = np.asarray(shares, dtype=np.float64)
    if table.ndim != 2:
        raise ValueError("shares must have one row for each student and one column for each task")
    return table


def _correlation(one: NDArray[np.float64], other: NDArray[np.float64]) -> float | None:
    if len(one) < FEWEST_STUDENTS or one.var() < NO_SPREAD or other.var() < NO_SPREAD:
        return None
    return float(np.corrcoef(one, other)[0, 1])
