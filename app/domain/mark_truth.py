"""The marks that are really on a tire and its wheel. Shapes as in `app.domain.truth`."""

from dataclasses import dataclass

import numpy as np

from app.domain.draws import Draw, Numbers, Texts
from app.domain.mark_sheets import HIGH_POINT, LIGHT_SPOT, LOW_POINT, MarksSheet
from app.domain.sheets import Between, OneOf


@dataclass(frozen=True)
class MarksTruth:
    """rotation, outside: None where the tire has no such mark. Angles are nan where a mark is missing."""

    rotation: Texts | None
    outside: Texts | None
    light_spot_deg: Numbers
    high_point_deg: Numbers
    low_point_deg: Numbers


def draw_marks(sheet: MarksSheet, place: str, draw: Draw) -> MarksTruth:
    """The marks of one assembly for each seed of `draw`; place: `assemblies.A.marks`."""
    missing = draw.text(f"{place}.missing", sheet.missing)

    def angle(field: str, name: str, drawn: float | Between | OneOf | None) -> Numbers:
        if drawn is None:
            return np.full(draw.shape, np.nan)
        return np.where(missing == name, np.nan, draw.number(f"{place}.{field}", drawn))

    return MarksTruth(
        rotation=None if sheet.rotation is None else draw.text(f"{place}.rotation", sheet.rotation),
        outside=None if sheet.outside is None else draw.text(f"{place}.outside", sheet.outside),
        light_spot_deg=angle("light_spot_deg", LIGHT_SPOT, sheet.light_spot_deg),
        high_point_deg=angle("high_point_deg", HIGH_POINT, sheet.high_point_deg),
        low_point_deg=angle("low_point_deg", LOW_POINT, sheet.low_point_deg),
    )
