"""Calculations of everyday practice: tire pressure and the clips of wheel weights."""

from app.calculations.registry import calculation
from app.calculations.wire import Answer, Given, NotNegative, Number, Positive
from app.compute.constants import STANDARD_ATMOSPHERE_KPA
from app.compute.pressure import TABLE_MINIMUM_KPA, pressure_at_temperature, pressure_warning
from app.compute.weight_clips import clip_for


class PressureGiven(Given):
    set_kpa: NotNegative
    set_c: Number
    at_c: Number
    ambient_kpa: Positive = STANDARD_ATMOSPHERE_KPA


@calculation("pressure-at-temperature", "Gauge pressure of a tire once its temperature has changed")
def pressure_answer(given: PressureGiven) -> Answer:
    """Section 2.20 of the wheel model."""
    gauge_kpa = float(pressure_at_temperature(given.set_kpa, given.set_c, given.at_c, given.ambient_kpa))
    return {"gauge_kpa": gauge_kpa, "change_kpa": gauge_kpa - given.set_kpa}


class PressureWarningGiven(Given):
    placard_kpa: Positive
    table_minimum_kpa: Positive = TABLE_MINIMUM_KPA


@calculation("pressure-warning", "Pressure at which a tire-pressure warning is due")
def pressure_warning_answer(given: PressureWarningGiven) -> Answer:
    """Section 2.24 of the wheel model."""
    return {"warning_kpa": float(pressure_warning(given.placard_kpa, given.table_minimum_kpa))}


class ClipWeightGiven(Given):
    flange_mm: Positive


@calculation("clip-weight", "Clip of a clip-on weight for a rim flange of a given lip thickness")
def clip_weight(given: ClipWeightGiven) -> Answer:
    """Section 2.25 of the wheel model."""
    return {"clip": clip_for(given.flange_mm)}
