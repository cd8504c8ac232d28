"""What an author writes about the vehicle: its driver, its placard, the limits of the shop, a test drive."""

from datetime import date
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from app.compute import tires
from app.compute.errors import ComputeError
from app.domain.road_sheets import TemperatureSheet, VibrationSheet
from app.domain.sheets import AuthoredTable, Line, Positive, Text


class PlacardSheet(AuthoredTable):
    """rear_size: where the rear axle takes another size or a greater load index than the front."""

    size: Line
    rear_size: Line | None = None
    front_kpa: Positive
    rear_kpa: Positive

    @model_validator(mode="after")
    def _readable_where_the_axles_differ(self) -> Self:
        """By size and load index it is then judged where an assembly may stand."""
        for name, size in (("size", self.size), ("rear_size", self.rear_size)) if self.rear_size else ():
            try:
                read = tires.parse_designation(size or "")
            except ComputeError as error:
                raise ValueError(f"{name}: {error.message}") from error
            if read.load_index is None:
                raise ValueError(f"{name} lacks its load index, such as 95 in 255/40R18 95W")
        return self


class VehicleSheet(AuthoredTable):
    description: Line
    concern: Text
    drive_side: Literal["left", "right"]
    placard: PlacardSheet
    wheel_torque_nm: Positive
    service_date: date
    first_harmonic_limit_n: Positive | None = None
    total_force_limit_n: Positive | None = None
    oldest_tire_years: Annotated[int, Field(ge=1, le=30)] | None = None
    rear_share: Annotated[float, Field(ge=0, le=1)] = 0.3
    temperature: TemperatureSheet | None = None
    vibration: VibrationSheet | None = None
