"""What an author writes for a lab at the bench: the shop in `[bench]`, and how each assembly comes in.

Everything has a default, so a scenario without these tables has a bench too, with a plain shop.
"""

from typing import Annotated, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from app.domain.sheets import (
    AuthoredTable,
    Drawn,
    DrawnAboveZero,
    DrawnNotNegative,
    Line,
    Positive,
    Slug,
    repeated,
)

Plane = Literal["inboard", "outboard"]
KindOfWeight = Literal["clip", "adhesive"]
StationName = Literal["rack", "stand", "balancer", "gauge", "roller", "car"]
Asked = Literal["distance", "width", "diameter"]


class OldWeightSheet(AuthoredTable):
    """A weight that is on the wheel when it comes in. 0 g: none, for ranges that hold none."""

    kind: KindOfWeight = "clip"
    plane: Plane
    mass_g: DrawnNotNegative
    angle_deg: Drawn


class LumpSheet(AuthoredTable):
    """A small mass on a tire, at its angle on the tire: a shelf label, or a new tire's heavy spot."""

    mass_g: DrawnNotNegative
    angle_deg: Drawn
    radius_mm: DrawnAboveZero = 310.0
    z_mm: Drawn = 0.0


class NewTireSheet(AuthoredTable):
    """The tire that stands ready to take this one's place: its own first harmonic of force, heavy spot."""

    first_n: DrawnNotNegative = 25.0
    high_deg: Drawn = 0.0
    conicity_n: Drawn = 0.0
    heavy_spot: LumpSheet = LumpSheet(mass_g=20.0, angle_deg=90.0)


class AssemblyBenchSheet(AuthoredTable):
    """How one assembly comes in, and what only the bench shows of it.

    dirt: the eccentricity on the balancer while the mounting face isn't clean. dots: printed on the tire,
    each at the place that its truth gives it. outside: which way a sidewall marked "outside" faces when it
    comes; rotation: the side of the car that its arrow suits then. distance_mm: from the balancer to the rim.
    spokes: behind which adhesive weights of the outer plane have to hide, the first gap at the valve.
    """

    arrives: Literal["mounted", "separate"] = "mounted"
    valve: Literal["rubber", "sensor"] = "rubber"
    bore_mm: DrawnAboveZero = 66.5
    flange_mm: DrawnAboveZero = 3.0
    spokes: Annotated[int, Field(ge=0, le=12)] = 0
    mass_kg: Positive = 18.0
    distance_mm: DrawnNotNegative = 120.0
    pressure_kpa: DrawnNotNegative | None = None
    """As it comes in; without it, the placard's front pressure."""
    old_weights: Annotated[tuple[OldWeightSheet, ...], Field(max_length=8)] = ()
    dirt_mm: DrawnNotNegative = 0.0
    dirt_deg: Drawn = 0.0
    label: LumpSheet | None = None
    dots: tuple[Literal["light spot", "high point"], ...] = ()
    low_point_mark: bool = False
    rotation: Literal["left", "right"] | None = None
    outside: Literal["out", "in"] | None = None
    tread_depth_mm: Annotated[tuple[Positive, ...], Field(min_length=3, max_length=3)] = (7.0, 7.0, 7.0)
    damage: Line | None = None
    new_tire: NewTireSheet | None = None


class ConeSheet(AuthoredTable):
    """A cone of the balancer and the wheel bores that it centres."""

    id: Slug
    min_mm: Positive
    max_mm: Positive

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.min_mm >= self.max_mm:
            raise ValueError("min_mm must be below max_mm")
        return self


def _distinct_cones(cones: tuple[ConeSheet, ...]) -> tuple[ConeSheet, ...]:
    if twice := repeated(cone.id for cone in cones):
        raise ValueError(f"two cones have the id {twice}; give each its own")
    return cones


STATIONS: tuple[StationName, ...] = ("rack", "stand", "balancer", "gauge", "roller", "car")
CONES = (
    ConeSheet(id="small", min_mm=45, max_mm=60),
    ConeSheet(id="middle", min_mm=58, max_mm=75),
    ConeSheet(id="large", min_mm=73, max_mm=95),
)


class BenchSheet(AuthoredTable):
    """The shop. minutes: what an action takes, by its name, where it differs from the shop's usual times.

    repeatability_g: the standard deviation of the balancer from spin to spin. asks: the dimensions that have
    to be typed in; the others it measures itself. retorque_km: least and most after which torque is checked.
    """

    stations: Annotated[tuple[StationName, ...], Field(min_length=1)] = STATIONS
    minutes: dict[str, Annotated[float, Field(ge=0, le=600)]] = Field(default_factory=dict)
    cones: Annotated[
        tuple[ConeSheet, ...], Field(min_length=1, max_length=8), AfterValidator(_distinct_cones)
    ] = CONES
    repeatability_g: Annotated[float, Field(ge=0, le=20)] = 0.0
    asks: tuple[Asked, ...] = ("distance", "width", "diameter")
    lug_count: Annotated[int, Field(ge=3, le=10)] = 5
    retorque_km: Annotated[tuple[Positive, ...], Field(min_length=2, max_length=2)] = (80.0, 160.0)
    """50 to 100 miles: common practice, no source."""
