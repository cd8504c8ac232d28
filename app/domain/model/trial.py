"""Quantities of balancing by a trial weight: what the instrument reads, and the weight that follows.

The instrument reads an amount and the angle of the wheel where it is greatest. Both follow the unbalance, by
a factor and a lag that nobody knows beforehand: the trial weight finds them.
"""

from typing import Any

import numpy as np

from app.compute import phasors, trial_runs
from app.domain.measures import Measure
from app.domain.model.registry import computed_once, of_assembly
from app.domain.truth import TrialTruth

RUNS = {"initial": "without the trial weight", "with_weight": "with the trial weight"}
READING_STEP, ANGLE_STEP_DEG = 0.1, 1.0


def trial_of(assembly: Any) -> TrialTruth:
    """Raises LookupError for a scenario without a trial weight."""
    trial: TrialTruth | None = assembly.model.truth.machine.trial
    if trial is None:
        raise LookupError("machine has no trial")
    return trial


def _weight_g(assembly: Any) -> Any:
    trial = trial_of(assembly)
    return phasors.phasor(trial.mass_g, trial.angle_deg)


@computed_once
def _reading(assembly: Any, run: str) -> Any:
    """What the instrument shows, rounded as it shows it: a phasor (...)."""
    trial = trial_of(assembly)
    heavy_g = -assembly.phasor("single.mass_g", "single.angle_deg")
    sensed_g = heavy_g if run == "initial" else heavy_g + _weight_g(assembly)
    exact = sensed_g * phasors.phasor(trial.response, trial.lag_deg)
    size = np.floor(np.abs(exact) / READING_STEP + 0.5) * READING_STEP
    angle = np.floor(np.rad2deg(np.angle(exact)) / ANGLE_STEP_DEG + 0.5) * ANGLE_STEP_DEG
    return phasors.phasor(size, angle)


@of_assembly("trial.{part}.reading", Measure.NUMBER, "what the instrument reads {part}", parts=RUNS)
def reading(assembly: Any, run: str) -> Any:
    return phasors.size(_reading(assembly, run))


@of_assembly(
    "trial.{part}.angle_deg", Measure.ANGLE, "the angle that the instrument shows {part}", parts=RUNS
)
def reading_angle(assembly: Any, run: str) -> Any:
    return phasors.angle_deg(_reading(assembly, run), scale=1.0)


def _runs(assembly: Any) -> tuple[Any, Any]:
    initial, with_weight = (assembly.phasor(f"trial.{run}.reading", f"trial.{run}.angle_deg") for run in RUNS)
    return initial, with_weight


@computed_once
def _effect(assembly: Any) -> Any:
    initial, with_weight = _runs(assembly)
    return with_weight - initial


@of_assembly("trial.effect.reading", Measure.NUMBER, "what the trial weight alone adds to the reading")
def effect_size(assembly: Any) -> Any:
    return phasors.size(_effect(assembly))


@of_assembly("trial.effect.angle_deg", Measure.ANGLE, "direction of what the trial weight alone adds")
def effect_angle(assembly: Any) -> Any:
    return phasors.angle_deg(_effect(assembly), scale=1.0)


@computed_once
def _correction_g(assembly: Any) -> Any:
    initial, _ = _runs(assembly)
    effect = assembly.phasor("trial.effect.reading", "trial.effect.angle_deg")
    return trial_runs.single_plane_correction(initial, _weight_g(assembly), initial + effect)


@of_assembly("trial.correction.mass_g", Measure.MASS, "the weight that balances, the trial weight taken off")
def correction_mass(assembly: Any) -> Any:
    return phasors.size(_correction_g(assembly))


@of_assembly("trial.correction.angle_deg", Measure.ANGLE, "where that weight goes")
def correction_angle(assembly: Any) -> Any:
    return phasors.angle_deg(_correction_g(assembly), scale=1.0)
