"""What an author writes about one assembly: wheel, tire, heavy spots, and what a replacement tire gives."""

from typing import Annotated, Literal, Self

from pydantic import AfterValidator, Field, field_validator, model_validator

from app.compute import tires
from app.compute.angles import FULL_TURN_DEG
from app.compute.errors import ComputeError
from app.compute.matching import SMALLEST_TURN_DEG
from app.domain.bench_sheets import AssemblyBenchSheet
from app.domain.mark_sheets import MarksSheet
from app.domain.sheets import (
    SMALLEST,
    AuthoredTable,
    Drawn,
    DrawnAboveZero,
    DrawnLine,
    DrawnNotNegative,
    DrawnWhole,
    Letter,
    Line,
    Number,
    OneOfTexts,
    Positive,
    drawn_within,
    extremes,
    repeated,
    texts_of,
)


class HarmonicSheet(AuthoredTable):
    """One harmonic: peak-to-peak size (mm or N by place) and the first high spot clockwise of the valve."""

    order: Annotated[int, Field(ge=1, le=10)]
    peak_to_peak: DrawnNotNegative
    high_deg: Drawn


def _distinct_orders(harmonics: tuple[HarmonicSheet, ...]) -> tuple[HarmonicSheet, ...]:
    if twice := repeated(each.order for each in harmonics):
        raise ValueError(f"order {twice} stands there twice; give each order once")
    return harmonics


Harmonics = Annotated[tuple[HarmonicSheet, ...], Field(max_length=10), AfterValidator(_distinct_orders)]


class PlaneSheet(AuthoredTable):
    z_mm: Drawn
    radius_mm: DrawnAboveZero


class BeadSeatsSheet(AuthoredTable):
    inboard: Harmonics
    outboard: Harmonics


class WheelSheet(AuthoredTable):
    material: Literal["steel", "alloy"]
    diameter_in: Positive
    width_in: Positive
    inboard: PlaneSheet
    outboard: PlaneSheet
    bead_seats: BeadSeatsSheet | None = None
    lateral_runout: Harmonics = ()

    @model_validator(mode="after")
    def _planes_apart(self) -> Self:
        if extremes(self.outboard.z_mm)[0] - extremes(self.inboard.z_mm)[1] < SMALLEST:
            raise ValueError(f"inboard.z_mm must be {SMALLEST:g} or more below outboard.z_mm in every draw")
        return self


class TinSheet(AuthoredTable):
    """A tire identification number: `prefix` (invented plant and maker groups), then week and year."""

    prefix: Annotated[str, Field(pattern=r"^[A-Z0-9]{2,4}( [A-Z0-9]{2,6}){0,2}$")]
    week: Annotated[DrawnWhole, drawn_within(1, 53)]
    year: Annotated[DrawnWhole, drawn_within(2000, 2099)]


def _tells_apart(turned: Number) -> Number:
    least, greatest = extremes(turned)
    if least <= SMALLEST_TURN_DEG or greatest >= FULL_TURN_DEG - SMALLEST_TURN_DEG:
        raise ValueError(
            f"must lie between {SMALLEST_TURN_DEG:g} and {FULL_TURN_DEG - SMALLEST_TURN_DEG:g} in every draw:"
            " a smaller turn can't tell tire and wheel apart"
        )
    return turned


class TireSheet(AuthoredTable):
    designation: DrawnLine
    tin: TinSheet | None = None
    force: Harmonics = ()
    tread_runout: Harmonics = ()
    mean_force_n: Positive = 4500.0
    conicity_n: Drawn = 0.0
    ply_steer_n: Drawn = 0.0
    """Lateral force that flips with the rotation: positive toward outboard when the wheel turns clockwise."""
    spring_rate_n_per_mm: Positive = 200.0
    turned_deg: Annotated[Drawn, AfterValidator(_tells_apart)] = 180.0
    """How far the tire is turned on its wheel between two measurements, clockwise positive."""

    @field_validator("designation")
    @classmethod
    def _readable(cls, designation: str | OneOfTexts) -> str | OneOfTexts:
        try:
            for text in texts_of(designation):
                tires.parse_designation(text)
        except ComputeError as error:
            raise ValueError(error.message) from error
        return designation


class HeavySpotSheet(AuthoredTable):
    """One lump of unbalance: its mass, its distance from the axle, its angle and its axial position.

    on: whether it turns with the tire when the tire is turned on its wheel.
    """

    name: Line
    mass_g: DrawnNotNegative
    radius_mm: DrawnAboveZero
    angle_deg: Drawn
    z_mm: Drawn
    on: Literal["tire", "wheel"] = "tire"


class ReplacementSheet(AuthoredTable):
    """The assembly after its tire is replaced and everything is measured again."""

    first_n: DrawnNotNegative = 25.0
    conicity_n: Drawn = 0.0


class AssemblySheet(AuthoredTable):
    id: Letter
    wheel: WheelSheet
    tire: TireSheet
    replacement: ReplacementSheet = ReplacementSheet()
    heavy_spots: Annotated[tuple[HeavySpotSheet, ...], Field(max_length=8)] = ()
    marks: MarksSheet = MarksSheet()
    bench: AssemblyBenchSheet = AssemblyBenchSheet()

    @model_validator(mode="after")
    def _distinct_heavy_spots(self) -> Self:
        if twice := repeated(spot.name for spot in self.heavy_spots):
            raise ValueError(f"two heavy spots are named {twice}; give each its own name")
        return self
