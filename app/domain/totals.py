"""A student's total: by category with its weight, without the lowest where a category drops some.

Without categories a total is the points earned over the points possible. With them it is the mean of the
categories' shares by weight, over the categories that hold something yet; an assignment in no category is
shown and not counted. What is dropped is what has the lowest share, the later of equals, and never all of a
category.
"""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from math import fsum
from typing import NamedTuple


@dataclass(frozen=True)
class Category:
    """weight: above 0, in any unit; drop_lowest: how many of the lowest don't count."""

    id: Hashable
    name: str
    weight: float
    drop_lowest: int = 0


class Earned(NamedTuple):
    """What an assignment that counts now has brought: nothing handed in is 0 points. place: the assignment's
    in the gradebook."""

    place: int
    category: Hashable | None
    points: float
    out_of: float

    @property
    def share(self) -> float:
        return self.points / self.out_of if self.out_of else 0.0


@dataclass(frozen=True)
class CategoryTotal:
    """One category of a student. percent_of_total: the part of the total that its weight makes now."""

    category: Category
    points: float
    out_of: float
    percent_of_total: float
    dropped: tuple[int, ...]

    @property
    def share(self) -> float:
        return self.points / self.out_of


@dataclass(frozen=True)
class Total:
    """share: 0 to 1 (above it where an override gave more than the points possible), None while nothing
    counts. points, out_of: the sums without categories, None with them. dropped: places left out."""

    share: float | None
    points: float | None
    out_of: float | None
    by_category: tuple[CategoryTotal, ...] = ()
    dropped: frozenset[int] = frozenset()


def total(earned: Sequence[Earned], categories: Sequence[Category] = ()) -> Total:
    """The total of what counts now; `earned` leaves out what doesn't (excused, practice, not due)."""
    if not categories:
        points, out_of = _sums(earned)
        return Total(points / out_of if out_of else None, points, out_of)
    in_category: Mapping[Hashable, list[Earned]] = {each.id: [] for each in categories}
    for each in earned:
        if each.category in in_category and each.out_of:
            in_category[each.category].append(each)
    holding = [each for each in categories if in_category[each.id]]
    weights = fsum(each.weight for each in holding)
    parts = tuple(_category_total(each, in_category[each.id], weights) for each in holding)
    share = fsum(each.share * each.percent_of_total for each in parts) / 100 if parts else None
    return Total(share, None, None, parts, frozenset(place for each in parts for place in each.dropped))


def _category_total(category: Category, earned: Sequence[Earned], weights: float) -> CategoryTotal:
    lowest_first = sorted(earned, key=lambda each: (each.share, -each.place))
    dropped = lowest_first[: min(category.drop_lowest, len(earned) - 1)]
    points, out_of = _sums([each for each in earned if each not in dropped])
    return CategoryTotal(
        category=category,
        points=points,
        out_of=out_of,
        percent_of_total=100 * category.weight / weights,
        dropped=tuple(sorted(each.place for each in dropped)),
    )


def _sums(earned: Sequence[Earned]) -> tuple[float, float]:
    return fsum(each.points for each in earned), fsum(each.out_of for each in earned)
