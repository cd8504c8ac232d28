"""Quantities of radial runout at the tread, and which of wheel, tire and mounting makes it.

What the dial shows at the tread is the sum of three: the wheel's bead seats, the tire on them, and how the
wheel stands on the hub. A wheel that stands e off centre runs out by 2 e from peak to peak. Turned half a
turn on the hub, the wheel takes its own share and the tire's with it; the mounting's stays with the hub.
"""

from typing import Any

import numpy as np

from app.compute import phasors, runout, trial_runs
from app.domain.measures import Measure
from app.domain.model.registry import computed_once, of_assembly, of_car
from app.domain.model.runout import DIAL_READINGS, DIAL_STEP_MM, rounded_to_step, traced, true_average_mm

AS_FOUND, TURNED = "tread", "tread_turned"
"""On the hub as it came in, and after half a turn on the hub."""
ASSEMBLY, MOUNTING, WHEEL, TIRE = "assembly", "mounting", "wheel", "tire"


@computed_once
def tread_readings_mm(assembly: Any, mounted: str) -> Any:
    """Readings of a dial on the tread, zeroed at the valve and rounded to its divisions: (..., 12) [mm]."""
    truth = assembly.truth
    off_centre = 2 * phasors.phasor(truth.bench.dirt_mm, truth.bench.dirt_deg)
    once = true_average_mm(assembly) + (off_centre if mounted == AS_FOUND else -off_centre)
    size, high = (np.asarray(of(once))[..., np.newaxis] for of in (phasors.size, phasors.angle_deg))
    angles_deg = runout.reading_angles(DIAL_READINGS)
    readings = traced(truth.tire.tread_runout, DIAL_READINGS) + runout.trace(
        angles_deg, 0.0, size, high, (1,)
    )
    return rounded_to_step(readings - readings[..., :1], DIAL_STEP_MM[assembly.model.truth.units])


_HOW_MOUNTED = {AS_FOUND: "as found", TURNED: "after half a turn on the hub"}


@of_assembly(
    "{part}.total_mm", Measure.RUNOUT, "total indicated runout of the tread {part}", parts=_HOW_MOUNTED
)
def tread_total(assembly: Any, mounted: str) -> Any:
    return runout.total_indicated(tread_readings_mm(assembly, mounted))


@of_assembly(
    "{part}.first_mm", Measure.RUNOUT, "first harmonic of the tread’s runout {part}", parts=_HOW_MOUNTED
)
def tread_first(assembly: Any, mounted: str) -> Any:
    return phasors.size(runout.first_harmonic(tread_readings_mm(assembly, mounted)))


@of_assembly("{part}.high_deg", Measure.ANGLE, "high spot of that first harmonic {part}", parts=_HOW_MOUNTED)
def tread_high(assembly: Any, mounted: str) -> Any:
    return phasors.angle_deg(runout.first_harmonic(tread_readings_mm(assembly, mounted)), scale=1.0)


@computed_once
def _told_apart_mm(assembly: Any) -> tuple[Any, Any]:
    """The runout of the assembly itself and that of its mounting, as it was found: (...) each."""
    found, turned = (assembly.phasor(f"{how}.first_mm", f"{how}.high_deg") for how in _HOW_MOUNTED)
    return trial_runs.reindex(found, turned)


def _share_mm(assembly: Any, part: str) -> Any:
    if part in (ASSEMBLY, MOUNTING):
        return _told_apart_mm(assembly)[(ASSEMBLY, MOUNTING).index(part)]
    wheel = assembly.phasor("runout.average.first_mm", "runout.average.high_deg")
    if part == WHEEL:
        return wheel
    return assembly.phasor("tread_share.assembly.first_mm", "tread_share.assembly.high_deg") - wheel


_SHARES = {
    ASSEMBLY: "wheel and tire together",
    MOUNTING: "the mounting",
    WHEEL: "the wheel",
    TIRE: "the tire",
}


@of_assembly(
    "tread_share.{part}.first_mm", Measure.RUNOUT, "runout at the tread that comes from {part}", parts=_SHARES
)
def share_size(assembly: Any, part: str) -> Any:
    return phasors.size(_share_mm(assembly, part))


@of_assembly("tread_share.{part}.high_deg", Measure.ANGLE, "high spot of the share of {part}", parts=_SHARES)
def share_high(assembly: Any, part: str) -> Any:
    return phasors.angle_deg(_share_mm(assembly, part), scale=1.0)


def shares_mm(assembly: Any) -> Any:
    """The shares of mounting, wheel and tire: (..., 3) [mm]."""
    each = [np.asarray(assembly.value(f"tread_share.{part}.first_mm")) for part in (MOUNTING, WHEEL, TIRE)]
    return np.stack(np.broadcast_arrays(*each), axis=-1)


@of_assembly("tread_share.largest", Measure.CHOICE, "whose share is the largest: mounting, wheel or tire")
def largest_share(assembly: Any) -> Any:
    return np.array([MOUNTING, WHEEL, TIRE])[np.argmax(shares_mm(assembly), axis=-1)]


@of_car("most_total_runout", Measure.SEVERAL, "the assembly with the largest total runout at the tread")
def most_total(model: Any) -> Any:
    return _is_largest(model.each("tread.total_mm"))


@of_car("most_first_runout", Measure.SEVERAL, "the assembly with the largest first harmonic at the tread")
def most_first(model: Any) -> Any:
    return _is_largest(model.each("tread.first_mm"))


def _is_largest(sizes: Any) -> Any:
    """shape (..., n) of true and false, in the order of the letters."""
    return sizes >= sizes.max(axis=-1, keepdims=True)
