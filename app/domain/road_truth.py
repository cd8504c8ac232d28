"""What is really so about a vehicle on the road. Shapes as in `app.domain.truth`."""

from dataclasses import dataclass

from app.domain.draws import Draw, Numbers, Texts
from app.domain.road_sheets import TemperatureSheet, VibrationSheet
from app.domain.sheets import Between, OneOf


@dataclass(frozen=True)
class TemperatureTruth:
    set_c: Numbers
    at_c: Numbers
    ambient_kpa: float


@dataclass(frozen=True)
class VibrationTruth:
    """source: what the vibration really comes from, by its `order_name`."""

    speed_kmh: Numbers
    source: Texts
    off_percent: Numbers
    axle_ratio: Numbers | None
    engine_rpm: Numbers | None
    mass_g: Numbers
    radius_mm: Numbers


def draw_temperature(sheet: TemperatureSheet, draw: Draw) -> TemperatureTruth:
    """One drawn number of each for every variant of the draw."""
    return TemperatureTruth(
        set_c=draw.number("vehicle.temperature.set_c", sheet.set_c),
        at_c=draw.number("vehicle.temperature.at_c", sheet.at_c),
        ambient_kpa=sheet.ambient_kpa,
    )


def draw_vibration(sheet: VibrationSheet, draw: Draw) -> VibrationTruth:
    """One drawn number of each for every variant; None for what the sheet leaves out."""

    def number(field: str, drawn: float | Between | OneOf) -> Numbers:
        return draw.number(f"vehicle.vibration.{field}", drawn)

    ratio, rpm = sheet.axle_ratio, sheet.engine_rpm
    return VibrationTruth(
        speed_kmh=number("speed_kmh", sheet.speed_kmh),
        source=draw.text("vehicle.vibration.source", sheet.source),
        off_percent=number("off_percent", sheet.off_percent),
        axle_ratio=None if ratio is None else number("axle_ratio", ratio),
        engine_rpm=None if rpm is None else number("engine_rpm", rpm),
        mass_g=number("mass_g", sheet.mass_g),
        radius_mm=number("radius_mm", sheet.radius_mm),
    )
