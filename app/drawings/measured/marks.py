"""Dots on the tire and the mark on its wheel, as they lie when the assembly comes in."""

import math
from collections.abc import Sequence

from app.domain.model.marks import VALVE_DEG
from app.domain.truth import AssemblyTruth
from app.domain.variants import Variant
from app.drawings.measured.parts import Measured, Table, angle, clock, measurement, numbers, of, place, words
from app.drawings.spots import Spot
from app.drawings.wheel_face import wheel_face


def dots(variant: Variant, letters: Sequence[str]) -> Measured:
    """Each assembly's face with its dots, its low-point mark if there is one, and the valve."""
    truths = [variant.truth.assemblies[letter] for letter in letters]
    return measurement(
        "Dots and marks",
        [wheel_face(_spots(variant, truth), title=of(truth.id, variant, _seen(truth))) for truth in truths],
        [_table(variant, truth) for truth in truths],
    )


def _seen(truth: AssemblyTruth) -> str:
    return f"{truth.wheel.material} wheel seen from outboard"


def _found(truth: AssemblyTruth) -> list[tuple[str, str, str, float]]:
    """Kind of spot, its name, what it is on and where, of every mark that is there."""
    marks = truth.marks
    every = [
        ("light-spot", "Light-spot dot", "tire", float(marks.light_spot_deg)),
        ("high-point", "High-point dot", "tire", float(marks.high_point_deg)),
        ("low-point", "Low-point mark", "wheel", float(marks.low_point_deg)),
        ("valve", "Valve", "wheel", VALVE_DEG),
    ]
    return [mark for mark in every if not math.isnan(mark[-1])]


def _spots(variant: Variant, truth: AssemblyTruth) -> list[Spot]:
    return [
        Spot(kind, at, f"{name}, on the {on}", place(at, variant)) for kind, name, on, at in _found(truth)
    ]


def _table(variant: Variant, truth: AssemblyTruth) -> Table:
    return Table(
        of(truth.id, variant, f"marks, {truth.wheel.material} wheel"),
        (words("Mark"), words("On the"), numbers("Angle"), numbers("Clock")),
        tuple((name, on, angle(at, variant), clock(at)) for _, name, on, at in _found(truth)),
    )
