"""What the demo's invented students type: a real student could have typed and handed in all of it."""

from random import Random

import pytest

from app.demo import LESSONS
from app.demo.behaviour import Habits, work
from app.domain.measures import UnitSystem
from app.domain.variants import draw
from app.library import read_scenario
from app.services.labs import problems_of
from app.settings import SCENARIOS

SLIPSHOD = Habits(skill=0.4, diligence=1)

# Variants in which a slip leads to a turn of nothing, and to a weight with no direction.
RARE = (("runout-and-match-mounting", 10**12 + 127, 4), ("four-assemblies", 10**12 + 73, 2))


@pytest.mark.parametrize(
    ("slug", "seed", "student"),
    [*RARE, *((lesson.slug, seed, 0) for lesson in LESSONS for seed in range(8))],
)
def test_what_an_invented_student_types_can_be_read(slug: str, seed: int, student: int) -> None:
    variant = draw(read_scenario(SCENARIOS / slug / "scenario.toml"), seed, UnitSystem.US)
    typed = work(variant, SLIPSHOD, Random(seed * 10 + student))  # noqa: S311
    assert len(typed) > 5
    assert problems_of(variant, typed) == {}
