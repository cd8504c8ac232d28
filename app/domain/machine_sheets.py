"""What an author writes about the balancer and the shelf beside it."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from app.domain.sheets import AuthoredTable, Drawn, DrawnAboveZero, Positive, repeated


class StockSheet(AuthoredTable):
    """The weights on the shelf, and the balancer's step and dead band, in g or oz by the table."""

    step: Positive
    dead_band: Annotated[float, Field(ge=0, le=100)]
    pieces: Annotated[tuple[Positive, ...], Field(min_length=1, max_length=24)]

    @model_validator(mode="after")
    def _distinct_pieces(self) -> Self:
        if twice := repeated(self.pieces):
            raise ValueError(f"pieces hold {twice} twice; give each size once")
        return self


class TrialSheet(AuthoredTable):
    """A trial run, for lessons on balancing by experiment: the weight that is tried in the inboard plane.

    response: the reading that one gram there makes; lag_deg: how far behind it the reading shows.
    """

    mass_g: DrawnAboveZero
    angle_deg: Drawn
    response: DrawnAboveZero
    lag_deg: Drawn = 0.0


class MachineSheet(AuthoredTable):
    metric: StockSheet = StockSheet(
        step=5.0, dead_band=5.0, pieces=(5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60)
    )
    us: StockSheet = StockSheet(
        step=0.25, dead_band=0.25, pieces=(0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0)
    )
    max_pieces: Annotated[int, Field(ge=1, le=6)] = 2
    width_error_mm: Drawn = 0.0
    """How much too wide the rim width was typed in, for lessons on wrong dimensions; negative: too narrow."""
    diameter_error_mm: Drawn = 0.0
    """How much too large the rim diameter was typed in; negative: too small."""
    trial: TrialSheet | None = None
