"""What is really so about an assembly that only the bench shows. Shapes as in `app.domain.truth`."""

from dataclasses import dataclass

import numpy as np

from app.domain.bench_sheets import AssemblyBenchSheet, LumpSheet, NewTireSheet
from app.domain.draws import Draw, Numbers


@dataclass(frozen=True)
class LumpTruth:
    mass_g: Numbers
    angle_deg: Numbers
    radius_mm: Numbers
    z_mm: Numbers


@dataclass(frozen=True)
class NewTireTruth:
    first_n: Numbers
    high_deg: Numbers
    conicity_n: Numbers
    heavy_spot: LumpTruth


@dataclass(frozen=True)
class AssemblyBenchTruth:
    """sheet: what isn't drawn. old_mass_g, old_angle_deg: (..., n) in the order of its old weights."""

    sheet: AssemblyBenchSheet
    bore_mm: Numbers
    flange_mm: Numbers
    distance_mm: Numbers
    pressure_kpa: Numbers | None
    old_mass_g: Numbers
    old_angle_deg: Numbers
    dirt_mm: Numbers
    dirt_deg: Numbers
    label: LumpTruth | None
    new_tire: NewTireTruth | None


def draw_bench(sheet: AssemblyBenchSheet, place: str, draw: Draw) -> AssemblyBenchTruth:
    """The bench's truth of one assembly for each seed of `draw`; place: `assemblies.A.bench`."""
    old = [
        draw.number(f"{place}.old_weights.{at}.mass_g", each.mass_g)
        for at, each in enumerate(sheet.old_weights)
    ]
    angles = [
        draw.number(f"{place}.old_weights.{at}.angle_deg", each.angle_deg)
        for at, each in enumerate(sheet.old_weights)
    ]
    nothing = np.zeros((*draw.shape, 0))
    return AssemblyBenchTruth(
        sheet=sheet,
        bore_mm=draw.number(f"{place}.bore_mm", sheet.bore_mm),
        flange_mm=draw.number(f"{place}.flange_mm", sheet.flange_mm),
        distance_mm=draw.number(f"{place}.distance_mm", sheet.distance_mm),
        pressure_kpa=None
        if sheet.pressure_kpa is None
        else draw.number(f"{place}.pressure_kpa", sheet.pressure_kpa),
        old_mass_g=np.stack(old, axis=-1) if old else nothing,
        old_angle_deg=np.stack(angles, axis=-1) if angles else nothing,
        dirt_mm=draw.number(f"{place}.dirt_mm", sheet.dirt_mm),
        dirt_deg=draw.number(f"{place}.dirt_deg", sheet.dirt_deg),
        label=_lump(sheet.label, f"{place}.label", draw) if sheet.label else None,
        new_tire=_new_tire(sheet.new_tire, f"{place}.new_tire", draw) if sheet.new_tire else None,
    )


def _new_tire(sheet: NewTireSheet, place: str, draw: Draw) -> NewTireTruth:
    return NewTireTruth(
        first_n=draw.number(f"{place}.first_n", sheet.first_n),
        high_deg=draw.number(f"{place}.high_deg", sheet.high_deg),
        conicity_n=draw.number(f"{place}.conicity_n", sheet.conicity_n),
        heavy_spot=_lump(sheet.heavy_spot, f"{place}.heavy_spot", draw),
    )


def _lump(sheet: LumpSheet, place: str, draw: Draw) -> LumpTruth:
    return LumpTruth(
        mass_g=draw.number(f"{place}.mass_g", sheet.mass_g),
        angle_deg=draw.number(f"{place}.angle_deg", sheet.angle_deg),
        radius_mm=draw.number(f"{place}.radius_mm", sheet.radius_mm),
        z_mm=draw.number(f"{place}.z_mm", sheet.z_mm),
    )
