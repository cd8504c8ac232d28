"""The clip of a clip-on weight, against every row of the published table."""

import numpy as np
import pytest

from app.compute.errors import NotFiniteError, OutOfRangeError
from app.compute.weight_clips import CLIPS, NO_CLIP, clip_for, clip_index
from tests.published.cases import case as published


def test_the_table_is_the_published_one() -> None:
    rows = published("weight-clip-table-j1986")["expect"]["clips"]

    assert {clip.name: [clip.thinnest_mm, clip.thickest_mm] for clip in CLIPS} == {
        name: row["flange_lip_thickness_mm"] for name, row in rows.items()
    }


@pytest.mark.parametrize("case_id", ["2.3mm", "3.0mm", "5.5mm"])
def test_a_lip_within_a_row_takes_its_clip(case_id: str) -> None:
    case = published(f"weight-clip-choice-{case_id}")

    assert clip_for(case["given"]["flange_lip_thickness_mm"]) == case["expect"]["clip"]


@pytest.mark.parametrize("flange_mm", [1.99, 3.35, 4.8, 6.01])
def test_a_lip_outside_every_row_takes_no_clip(flange_mm: float) -> None:
    assert clip_for(flange_mm) is None


def test_the_thicker_lip_of_two_rows_takes_the_first() -> None:
    assert clip_for(2.7) == "C"


def test_a_batch_answers_as_each_lip_alone() -> None:
    flanges = np.array([[2.3, 3.0, 4.0], [5.5, 4.8, 2.7]])

    places = clip_index(flanges)

    names = [None if place == NO_CLIP else CLIPS[place].name for place in places.ravel()]
    assert names == [clip_for(flange) for flange in flanges.ravel()]
    assert places.shape == flanges.shape


def test_a_lip_without_thickness_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="flange_mm"):
        clip_for(0)
    with pytest.raises(NotFiniteError, match="flange_mm"):
        clip_index([2.3, np.nan])
