"""How far the readings alone move an answer, and whether its tolerance suits: a teaching model, named as one.

A student reads rounded numbers: masses, lengths and angles to the last digit that is shown, dials and traces
to their divisions, a balancer to its repeatability. Each reading is drawn anew within its rounding (equally
likely; repeatability as a normal spread) and the answer computed again, for many variants at once. What
95 of 100 careful students would stay within is the least that a tolerance can fairly be.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from typing import Any

import numpy as np

from app.compute import angles, phasors
from app.domain.draws import Draw, Numbers, seed_of
from app.domain.measures import Measure, UnitSystem, shown_as
from app.domain.model import Model, quantity_of
from app.domain.model.runout import DIAL_STEP_MM, FORCE_STEP_N, dial_readings_mm, force_readings_n
from app.domain.references import is_reference, of_assembly
from app.domain.scenario import Scenario
from app.domain.tasks import NumberTask
from app.domain.truth import PLANES, AssemblyTruth, Truth, draw_truth
from app.domain.variants import tries_until_well_posed
from app.domain.well_posed import within
from app.domain.wrong_turns import wrong_turns

VARIANTS, REDRAWS = 40, 100
SHARE = 0.95
OFTEN = 0.25
"""A wrong turn that passes in more of the draws is named; such draws are thrown away, which leaves few."""

_REPORTED = ("unbalance.{plane}.mass_g", "unbalance.{plane}.angle_deg")


class Verdict(StrEnum):
    TOO_TIGHT = "too tight"
    FAIR = "fair"
    WRONG_PASSES = "so wide that a wrong turn passes"


@dataclass(frozen=True)
class Advice:
    """Of one question. moves: half the width that holds 95 % of the answers from redrawn readings, in the
    measure's inside unit; tolerance: the usual one over the variants, in the same. passes: the words of the
    first wrong turn that is taken for right."""

    task: NumberTask
    measure: Measure
    moves: float
    tolerance: float
    kept: float
    """The share of careful students whose answer is taken."""
    verdict: Verdict
    passes: str = ""


def advice(scenario: Scenario, units: UnitSystem) -> tuple[Advice, ...]:
    """For each question that is answered by a number, in order. Raises NotWellPosed."""
    seeds = np.array([seed_of("advice", str(number)) for number in range(VARIANTS)], dtype=np.uint64)
    shape = (VARIANTS, REDRAWS)
    tries = tries_until_well_posed(scenario, seeds, units)
    together = Draw(*(np.broadcast_to(each[:, np.newaxis], shape) for each in (seeds, tries)))
    truth = draw_truth(scenario, together, units)
    again = redrawn(truth, _noise(shape), scenario.bench.repeatability_g if scenario.bench else 0.0)
    drawn = Model(draw_truth(scenario, Draw(seeds, np.zeros_like(seeds)), units))
    right = Model(truth)
    tasks = [task for task in scenario.tasks if isinstance(task, NumberTask)]
    return tuple(_of_task(task, right, again, drawn) for task in tasks)


def _noise(shape: tuple[int, int]) -> Draw:
    """Its own numbers for each redraw of each variant, the same on every machine."""
    seeds = np.array(
        [seed_of("redraw", str(number)) for number in range(shape[0] * shape[1])], dtype=np.uint64
    )
    return Draw(seeds.reshape(shape), np.zeros(shape, dtype=np.uint64))


def _of_task(task: NumberTask, right: Model, again: Model, drawn: Model) -> Advice:
    """drawn: first draws of many seeds, of which some are thrown away."""
    measure = quantity_of(task.key).measure
    value, moved = np.broadcast_arrays(*(np.asarray(each.value(task.key), float) for each in (right, again)))
    known = np.isfinite(value) & np.isfinite(moved)
    value, moved = value[known], moved[known]
    around = measure in (Measure.ANGLE, Measure.TURN)
    off = np.abs(angles.difference(moved, value) if around else moved - value)
    kept = float(np.mean(within(measure, task.tolerance, value, moved)))
    passes = next(_passing(task, drawn, measure), "")
    return Advice(
        task=task,
        measure=measure,
        moves=float(np.quantile(off, SHARE)),
        tolerance=float(np.median(np.broadcast_to(task.tolerance.around(value), value.shape))),
        kept=kept,
        verdict=_verdict(kept, passes),
        passes=passes,
    )


def _verdict(kept: float, passes: str) -> Verdict:
    if kept < SHARE:
        return Verdict.TOO_TIGHT
    return Verdict.WRONG_PASSES if passes else Verdict.FAIR


def _passing(task: NumberTask, drawn: Model, measure: Measure) -> Iterator[str]:
    """The wrong turns that are often taken for right, among draws before any is thrown away."""
    right = np.asarray(drawn.value(task.key), dtype=float)
    for turn, wrong in wrong_turns(drawn, task.key) if is_reference(task.key) else ():
        right_and_wrong = np.broadcast_arrays(right, np.asarray(wrong, dtype=float))
        known = np.logical_and(*(np.isfinite(each) for each in right_and_wrong))
        if not turn.always_differs or not known.any():
            continue
        hits = within(measure, task.tolerance, *(each[known] for each in right_and_wrong))
        if float(np.mean(hits)) > OFTEN:
            yield turn.words


def redrawn(truth: Truth, noise: Draw, repeatability_g: float) -> Model:
    """The model of a truth whose readings are drawn anew within their rounding. noise: of its shape."""
    read = replace(
        truth,
        assemblies={letter: _read(each, noise, truth.units) for letter, each in truth.assemblies.items()},
    )
    model = Model(read)
    for letter in truth.assemblies:
        _read_instruments(model, Model(truth), letter, noise)
    if repeatability_g:
        return model.with_given(dict(_repeated(model, noise, repeatability_g)))
    return model


def _half_digit(measure: Measure, units: UnitSystem) -> float:
    shown = shown_as(measure, units)
    return float(0.5 * shown.factor * 10.0**-shown.decimals)


def _within(noise: Draw, place: str, count: int, half: float) -> Numbers:
    """(..., count): each from -half to half."""
    columns = [noise.uniform(f"{place}.{number}") for number in range(count)]
    return half * (2 * np.stack(columns, axis=-1) - 1) if columns else np.zeros((*noise.shape, 0))


def _read(assembly: AssemblyTruth, noise: Draw, units: UnitSystem) -> AssemblyTruth:
    """What is read of heavy spots and planes."""
    spots, wheel, at = assembly.heavy_spots, assembly.wheel, f"advice.{assembly.id}"
    count = len(spots.names)
    mass, length, angle = (
        _half_digit(measure, units) for measure in (Measure.MASS, Measure.LENGTH, Measure.ANGLE)
    )
    return replace(
        assembly,
        heavy_spots=replace(
            spots,
            mass_g=np.maximum(spots.mass_g + _within(noise, f"{at}.mass", count, mass), 0.0),
            radius_mm=spots.radius_mm + _within(noise, f"{at}.radius", count, length),
            angle_deg=spots.angle_deg + _within(noise, f"{at}.angle", count, angle),
            z_mm=spots.z_mm + _within(noise, f"{at}.z", count, length),
        ),
        wheel=replace(
            wheel,
            plane_radius_mm=wheel.plane_radius_mm + _within(noise, f"{at}.plane", len(PLANES), length),
        ),
    )


def _read_instruments(model: Model, exact: Model, letter: str, noise: Draw) -> None:
    """Put dial readings and traces, drawn anew within a division, in the place of those that are shown."""
    view, at = exact.assembly(letter), f"advice.{letter}"
    units = exact.truth.units
    if view.truth.wheel.bead_seats is not None:
        for plane in PLANES:
            shown = dial_readings_mm(view, plane)
            moved = shown + _within(noise, f"{at}.{plane}", shown.shape[-1], DIAL_STEP_MM[units] / 2)
            model.part((dial_readings_mm.__qualname__, letter, plane), partial(np.asarray, moved))
    if view.truth.tire.force.orders or view.truth.wheel.bead_seats is not None:
        shown = force_readings_n(view)
        moved = shown + _within(noise, f"{at}.force", shown.shape[-1], FORCE_STEP_N[units] / 2)
        model.part((force_readings_n.__qualname__, letter), partial(np.asarray, moved))


def _repeated(model: Model, noise: Draw, repeatability_g: float) -> Iterator[tuple[str, Any]]:
    """What a balancer shows in each plane, with its spread from spin to spin in both directions."""
    for letter, truth in model.truth.assemblies.items():
        for plane in PLANES if truth.heavy_spots.names else ():
            size, angle = (of_assembly(letter, name.format(plane=plane)) for name in _REPORTED)
            vector = phasors.phasor(model.value(size), np.nan_to_num(model.value(angle)))
            moved = vector + repeatability_g * _normal(noise, f"advice.{letter}.{plane}.spin")
            yield size, phasors.size(moved)
            yield angle, phasors.angle_deg(moved)


def _normal(noise: Draw, place: str) -> Any:
    """A complex number whose two parts are normal with standard deviation 1 (Box and Muller, 1958)."""
    radius = np.sqrt(-2.0 * np.log(1.0 - noise.uniform(f"{place}.size")))
    return radius * np.exp(2j * np.pi * noise.uniform(f"{place}.turn"))
