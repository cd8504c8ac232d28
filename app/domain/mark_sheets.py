"""What an author writes about the marks on a tire and its wheel: arrow, outside, dots, low point."""

from typing import Annotated

from app.domain.sheets import AuthoredTable, Drawn, DrawnLine, drawn_among

LEFT, RIGHT = "left", "right"
OUT, IN = "out", "in"
NONE, LIGHT_SPOT, HIGH_POINT, LOW_POINT = "none", "light spot", "high point", "low point"


class MarksSheet(AuthoredTable):
    """Angles are those of the assembly as it comes, clockwise from the valve.

    rotation: the side of the car on which the tire's arrow points forward. outside: which way the sidewall
    marked "outside" faces. missing: the one mark that is not there, for ranges in which it differs.
    """

    rotation: Annotated[DrawnLine, drawn_among(LEFT, RIGHT)] | None = None
    outside: Annotated[DrawnLine, drawn_among(OUT, IN)] | None = None
    light_spot_deg: Drawn | None = None
    high_point_deg: Drawn | None = None
    low_point_deg: Drawn | None = None
    missing: Annotated[DrawnLine, drawn_among(NONE, LIGHT_SPOT, HIGH_POINT, LOW_POINT)] = NONE
