"""Balancing by experiment: half a turn on the shaft, and trial weights."""

from typing import Annotated

import numpy as np
from pydantic import Field

from app.calculations.registry import calculation
from app.calculations.wire import (
    Answer,
    Given,
    Number,
    Positive,
    TwoVectors,
    Vector,
    phasors_of,
    vector_answer,
)
from app.compute import phasors, trial_runs
from app.compute.errors import ComputeError


class ReindexGiven(Given):
    """Two spins with half a turn on the shaft between them, the unbalance by plane."""

    first: TwoVectors
    second: TwoVectors


class Weight(Given):
    """A trial weight, in the caller's unit of mass."""

    mass: Positive
    angle_deg: Number

    def phasor(self) -> complex:
        """This weight as a complex phasor."""
        return complex(phasors.phasor(self.mass, self.angle_deg))


class TrialWeightGiven(Given):
    """One trial run in a single plane."""

    initial: Vector
    trial: Weight
    with_trial: Vector


class PlaneTrial(Weight):
    """A trial run with a weight in one of two planes, and the readings at both."""

    plane: Annotated[int, Field(ge=0, le=1)]
    readings: TwoVectors


class InfluenceGiven(Given):
    """The readings without a weight and with a trial weight in each plane."""

    initial: TwoVectors
    trials: Annotated[list[PlaneTrial], Field(min_length=2, max_length=2)]


@calculation("reindex", "Tells the assembly's unbalance from its mounting's by half a turn on the shaft")
def reindex(given: ReindexGiven) -> Answer:
    """The unbalance of the assembly and that of its mounting in the first spin, by plane."""
    first, second = phasors_of(given.first), phasors_of(given.second)
    assembly, mounting = trial_runs.reindex(first, second)
    scales = (np.abs(first) + np.abs(second)) / 2
    return {
        "assembly": [vector_answer(*each) for each in zip(assembly, scales, strict=True)],
        "mounting": [vector_answer(*each) for each in zip(mounting, scales, strict=True)],
    }


@calculation("trial-weight", "The correction weight in one plane from one trial run")
def trial_weight(given: TrialWeightGiven) -> Answer:
    """The correction, with the trial weight taken off."""
    correction = trial_runs.single_plane_correction(
        given.initial.phasor(), given.trial.phasor(), given.with_trial.phasor()
    )
    return vector_answer(complex(correction), size_name="mass")


@calculation(
    "influence-coefficients",
    "The correction weights in two planes from two trial runs",
    fields={"coefficients": "trials"},
)
def influence_coefficients(given: InfluenceGiven) -> Answer:
    """The effect of a unit weight in each plane on each reading, and the weights that cancel the readings."""
    if given.trials[0].plane == given.trials[1].plane:
        raise ComputeError("trials[1].plane", "Give one trial in plane 0 and one in plane 1.")
    trials = sorted(given.trials, key=lambda trial: trial.plane)
    initial = phasors_of(given.initial)
    weights = np.array([trial.phasor() for trial in trials])
    readings = np.array([phasors_of(trial.readings) for trial in trials])
    coefficients = trial_runs.influence_coefficients(initial, weights, readings)
    # In the order of the coefficients: reading by row, plane by column.
    scales = ((np.abs(readings) + np.abs(initial)) / np.abs(weights)[:, np.newaxis]).T
    corrections = trial_runs.two_plane_corrections(initial, coefficients)
    correction_scales = trial_runs.two_plane_corrections_scale(initial, coefficients)
    return {
        "coefficients": [
            [vector_answer(*each) for each in zip(*row, strict=True)]
            for row in zip(coefficients, scales, strict=True)
        ],
        "corrections": [
            vector_answer(*each, size_name="mass")
            for each in zip(corrections, correction_scales, strict=True)
        ],
    }
