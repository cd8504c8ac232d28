"""What is really so about one variant: the vehicle, the machine and each assembly, as numbers.

Every number is an array of the batch shape `(...)`, `()` for a single variant; a list of n things is the last
axis. Units and signs are those of `app.compute`. Everything that a student sees is computed from this.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np

from app.compute import units as factors
from app.domain.assembly_sheets import AssemblySheet, HarmonicSheet
from app.domain.bench_sheets import BenchSheet, ConeSheet
from app.domain.bench_truth import AssemblyBenchTruth, draw_bench
from app.domain.draws import Draw, Numbers, Texts
from app.domain.machine_sheets import StockSheet, TrialSheet
from app.domain.mark_truth import MarksTruth, draw_marks
from app.domain.measures import UnitSystem
from app.domain.road_truth import TemperatureTruth, VibrationTruth, draw_temperature, draw_vibration
from app.domain.scenario import Scenario
from app.domain.vehicle_sheets import PlacardSheet

PLANES = ("inboard", "outboard")


@dataclass(frozen=True)
class HarmonicsTruth:
    """orders (k,), peak_to_peak (..., k), high_deg (..., k)."""

    orders: tuple[int, ...]
    peak_to_peak: Numbers
    high_deg: Numbers


@dataclass(frozen=True)
class HeavySpots:
    """Lumps of unbalance; names (n,), on (n,): the tire or the wheel; every number (..., n)."""

    names: tuple[str, ...]
    on: tuple[str, ...]
    mass_g: Numbers
    radius_mm: Numbers
    angle_deg: Numbers
    z_mm: Numbers


@dataclass(frozen=True)
class WheelTruth:
    """plane_z_mm, plane_radius_mm (..., 2); bead_seats: their runout [mm] or none. Inboard first."""

    material: str
    diameter_in: float
    width_in: float
    plane_z_mm: Numbers
    plane_radius_mm: Numbers
    bead_seats: tuple[HarmonicsTruth, HarmonicsTruth] | None
    lateral_runout: HarmonicsTruth


@dataclass(frozen=True)
class TireTruth:
    """designations: as drawn, one for each variant (...)."""

    designations: Texts
    tin_prefix: str | None
    week: Numbers | None
    year: Numbers | None
    force: HarmonicsTruth
    tread_runout: HarmonicsTruth
    mean_force_n: float
    conicity_n: Numbers
    ply_steer_n: Numbers
    spring_rate_n_per_mm: float
    turned_deg: Numbers

    @property
    def designation(self) -> str:
        """That of a single variant."""
        return str(self.designations)


@dataclass(frozen=True)
class AssemblyTruth:
    id: str
    wheel: WheelTruth
    tire: TireTruth
    heavy_spots: HeavySpots
    replacement_first_n: Numbers
    replacement_conicity_n: Numbers
    marks: MarksTruth
    bench: AssemblyBenchTruth


@dataclass(frozen=True)
class TrialTruth:
    """A trial weight in the inboard plane, and what one gram there makes the instrument read."""

    mass_g: Numbers
    angle_deg: Numbers
    response: Numbers
    lag_deg: Numbers


@dataclass(frozen=True)
class MachineTruth:
    """Stock, step and dead band in grams; width_error_mm and diameter_error_mm are how much too wide and too
    large the rim was typed in. cones: those on the balancer's board.
    """

    step_g: float
    dead_band_g: float
    stock_g: tuple[float, ...]
    max_pieces: int
    width_error_mm: Numbers
    diameter_error_mm: Numbers
    cones: tuple[ConeSheet, ...]
    trial: TrialTruth | None


@dataclass(frozen=True)
class VehicleTruth:
    placard: PlacardSheet
    drive_side: Literal["left", "right"]
    service_date: date
    first_harmonic_limit_n: float | None
    total_force_limit_n: float | None
    oldest_tire_years: int | None
    rear_share: float
    temperature: TemperatureTruth | None
    vibration: VibrationTruth | None


@dataclass(frozen=True)
class Truth:
    units: UnitSystem
    vehicle: VehicleTruth
    machine: MachineTruth
    assemblies: Mapping[str, AssemblyTruth]


def draw_truth(scenario: Scenario, draw: Draw, units: UnitSystem) -> Truth:
    """The truth of each seed of `draw`; the class's units decide which weights stand on the shelf."""
    sheet = scenario.machine
    stock: StockSheet = sheet.metric if units is UnitSystem.METRIC else sheet.us
    grams = float(factors.convert(1.0, "g" if units is UnitSystem.METRIC else "oz", "g"))
    vehicle = scenario.vehicle
    return Truth(
        units=units,
        vehicle=VehicleTruth(
            placard=vehicle.placard,
            drive_side=vehicle.drive_side,
            service_date=vehicle.service_date,
            first_harmonic_limit_n=vehicle.first_harmonic_limit_n,
            total_force_limit_n=vehicle.total_force_limit_n,
            oldest_tire_years=vehicle.oldest_tire_years,
            rear_share=vehicle.rear_share,
            temperature=None if vehicle.temperature is None else draw_temperature(vehicle.temperature, draw),
            vibration=None if vehicle.vibration is None else draw_vibration(vehicle.vibration, draw),
        ),
        machine=MachineTruth(
            step_g=stock.step * grams,
            dead_band_g=stock.dead_band * grams,
            stock_g=tuple(piece * grams for piece in stock.pieces),
            max_pieces=sheet.max_pieces,
            width_error_mm=draw.number("machine.width_error_mm", sheet.width_error_mm),
            diameter_error_mm=draw.number("machine.diameter_error_mm", sheet.diameter_error_mm),
            cones=(scenario.bench or BenchSheet()).cones,
            trial=_trial(sheet.trial, "machine.trial", draw) if sheet.trial else None,
        ),
        assemblies={each.id: _assembly(each, draw) for each in scenario.assemblies},
    )


def _trial(sheet: TrialSheet, place: str, draw: Draw) -> TrialTruth:
    return TrialTruth(
        mass_g=draw.number(f"{place}.mass_g", sheet.mass_g),
        angle_deg=draw.number(f"{place}.angle_deg", sheet.angle_deg),
        response=draw.number(f"{place}.response", sheet.response),
        lag_deg=draw.number(f"{place}.lag_deg", sheet.lag_deg),
    )


def _assembly(sheet: AssemblySheet, draw: Draw) -> AssemblyTruth:
    place = f"assemblies.{sheet.id}"
    wheel, tire = sheet.wheel, sheet.tire
    planes = [(f"{place}.wheel.{name}", getattr(wheel, name)) for name in PLANES]
    seats = wheel.bead_seats
    return AssemblyTruth(
        id=sheet.id,
        wheel=WheelTruth(
            material=wheel.material,
            diameter_in=wheel.diameter_in,
            width_in=wheel.width_in,
            plane_z_mm=np.stack([draw.number(f"{at}.z_mm", plane.z_mm) for at, plane in planes], axis=-1),
            plane_radius_mm=np.stack(
                [draw.number(f"{at}.radius_mm", plane.radius_mm) for at, plane in planes], axis=-1
            ),
            bead_seats=None
            if seats is None
            else (
                _harmonics(seats.inboard, f"{place}.wheel.bead_seats.inboard", draw),
                _harmonics(seats.outboard, f"{place}.wheel.bead_seats.outboard", draw),
            ),
            lateral_runout=_harmonics(wheel.lateral_runout, f"{place}.wheel.lateral_runout", draw),
        ),
        tire=TireTruth(
            designations=draw.text(f"{place}.tire.designation", tire.designation),
            tin_prefix=tire.tin.prefix if tire.tin else None,
            week=draw.number(f"{place}.tire.tin.week", tire.tin.week) if tire.tin else None,
            year=draw.number(f"{place}.tire.tin.year", tire.tin.year) if tire.tin else None,
            force=_harmonics(tire.force, f"{place}.tire.force", draw),
            tread_runout=_harmonics(tire.tread_runout, f"{place}.tire.tread_runout", draw),
            mean_force_n=tire.mean_force_n,
            conicity_n=draw.number(f"{place}.tire.conicity_n", tire.conicity_n),
            ply_steer_n=draw.number(f"{place}.tire.ply_steer_n", tire.ply_steer_n),
            spring_rate_n_per_mm=tire.spring_rate_n_per_mm,
            turned_deg=draw.number(f"{place}.tire.turned_deg", tire.turned_deg),
        ),
        heavy_spots=_heavy_spots(sheet, f"{place}.heavy_spots", draw),
        replacement_first_n=draw.number(f"{place}.replacement.first_n", sheet.replacement.first_n),
        replacement_conicity_n=draw.number(f"{place}.replacement.conicity_n", sheet.replacement.conicity_n),
        marks=draw_marks(sheet.marks, f"{place}.marks", draw),
        bench=draw_bench(sheet.bench, f"{place}.bench", draw),
    )


def _harmonics(sheets: tuple[HarmonicSheet, ...], place: str, draw: Draw) -> HarmonicsTruth:
    def column(field: str) -> Numbers:
        return _stacked(
            [draw.number(f"{place}.{each.order}.{field}", getattr(each, field)) for each in sheets], draw
        )

    return HarmonicsTruth(tuple(each.order for each in sheets), column("peak_to_peak"), column("high_deg"))


def _heavy_spots(sheet: AssemblySheet, place: str, draw: Draw) -> HeavySpots:
    def column(field: str) -> Numbers:
        return _stacked(
            [draw.number(f"{place}.{each.name}.{field}", getattr(each, field)) for each in sheet.heavy_spots],
            draw,
        )

    return HeavySpots(
        names=tuple(spot.name for spot in sheet.heavy_spots),
        on=tuple(spot.on for spot in sheet.heavy_spots),
        mass_g=column("mass_g"),
        radius_mm=column("radius_mm"),
        angle_deg=column("angle_deg"),
        z_mm=column("z_mm"),
    )


def _stacked(columns: list[Numbers], draw: Draw) -> Numbers:
    return np.stack(columns, axis=-1) if columns else np.zeros((*draw.shape, 0))
