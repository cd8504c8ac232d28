"""The general shape of rim and tire in half section, as shares of the rim's half width and flange radius."""

from collections.abc import Sequence
from functools import cache

from app.drawings.curves import smooth
from app.drawings.polar import Point

TIRE_REACH = 0.56
"""How far the tread stands above the flange, in flange radii."""

TIRE_BULGE = 1.18
"""How far the sidewall stands out, in half widths."""

RIM: tuple[Point, ...] = (
    *((-1.0, 0.0), (-0.95, 0.0), (-0.92, -0.08), (-0.68, -0.085), (-0.56, -0.105), (-0.44, -0.19)),
    *((0.05, -0.19), (0.2, -0.105), (0.68, -0.085), (0.92, -0.08), (0.95, 0.0), (1.0, 0.0)),
    *((1.0, -0.04), (0.97, -0.115), (0.22, -0.14), (0.08, -0.225), (-0.47, -0.225), (-0.6, -0.14)),
    *((-0.97, -0.115), (-1.0, -0.04)),
)

_DISC: tuple[Point, ...] = (
    *((0.34, -0.137), (0.5, -0.13), (0.62, -0.3), (0.58, -0.48), (0.42, -0.58), (0.4, -2.0)),
    *((0.28, -2.0), (0.3, -0.55), (0.46, -0.44), (0.5, -0.3)),
)

_OUTER_HALF = (
    *((0.0, 0.56), (0.5, 0.555), (0.86, 0.54), (1.03, 0.49), (1.14, 0.38), (1.18, 0.24), (1.12, 0.1)),
    *((0.99, 0.01), (0.91, -0.07)),
)
_INNER_HALF = (
    *((0.85, -0.075), (0.91, 0.04), (1.04, 0.13), (1.09, 0.25), (1.05, 0.37), (0.93, 0.44), (0.8, 0.465)),
    *((0.4, 0.475), (0.0, 0.48)),
)


@cache
def tire() -> tuple[Point, ...]:
    """The tire's section from bead to bead, closed: outside over the tread and back along the inside."""
    outer_left = [(-z, r) for z, r in reversed(_OUTER_HALF)]
    inner_left = [(-z, r) for z, r in reversed(_INNER_HALF)]
    return (*smooth([*outer_left, *_OUTER_HALF[1:]]), *smooth([*_INNER_HALF, *inner_left[1:]]))


def disc(planes: Sequence[float]) -> list[Point]:
    """The disc from the rim down to the hub and past any place where a drawing cuts it off.

    It stands outboard of the planes inside the rim, as spokes stand outboard of the weights behind them.
    """
    inside = [z for z in planes if 0 < z < 0.7]
    shift = min(0.3, max(0.0, max(inside, default=0.0) - 0.16))
    return [(z + shift, r) for z, r in _DISC]
