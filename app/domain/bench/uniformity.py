"""What a state of the bench does to force and runout: the load roller's trace, the dial, and the tire's dots.

A tire turned over changes the sign of its conicity and mirrors its angles, as in `weighing`.
"""

from typing import Any

import numpy as np

from app.compute import angles, matching, phasors, runout
from app.domain.bench.shop import Shop, number
from app.domain.bench.state import AssemblyState
from app.domain.bench.weighing import parts_of
from app.domain.model.runout import DIAL_STEP_MM, FORCE_STEP_N, TRACE_READINGS, rounded_to_step
from app.domain.truth import PLANES, AssemblyTruth, HarmonicsTruth

STIFFENING = 0.7
"""Spring rate k = k0 (1 + 0.7 (p / p0 - 1)). Teaching model."""


def stiffness_share(shop: Shop, assembly: AssemblyState) -> float:
    """k / k0 at the assembly's pressure."""
    return max(0.0, 1 + STIFFENING * (assembly.pressure_kpa / shop.placard_kpa("LF") - 1))


def on_tire(assembly: AssemblyState, angle_deg: Any) -> Any:
    """Where a mark of the tire stands on the wheel."""
    own = np.negative(angle_deg) if assembly.turned_over else np.asarray(angle_deg)
    return angles.wrap(own + assembly.turn_deg)


def conicity_n(shop: Shop, assembly: AssemblyState) -> float:
    """Positive toward the assembly's outboard side [N]."""
    new = shop.bench(assembly.id).new_tire if assembly.tire == "new" else None
    own = new.conicity_n if new else shop.truth(assembly.id).tire.conicity_n
    return -number(own) if assembly.turned_over else number(own)


def force_readings_n(shop: Shop, assembly: AssemblyState) -> Any:
    """The radial force trace on the load roller as shown, shape (36,) [N]; see `app.domain.model.runout`."""
    truth = shop.truth(assembly.id)
    orders, peak_to_peak, high = _tire_force(shop, assembly)
    wheel_n = complex(matching.wheel_force(seat_runout_mm(truth), truth.tire.spring_rate_n_per_mm))
    peak_to_peak = np.append(peak_to_peak, abs(wheel_n)) * stiffness_share(shop, assembly)
    high = np.append(on_tire(assembly, high), np.rad2deg(np.angle(wheel_n)))
    readings = runout.trace(
        runout.reading_angles(TRACE_READINGS), truth.tire.mean_force_n, peak_to_peak, high, (*orders, 1)
    )
    return rounded_to_step(readings, FORCE_STEP_N[shop.variant.units])


def _tire_force(shop: Shop, assembly: AssemblyState) -> tuple[tuple[int, ...], Any, Any]:
    new = shop.bench(assembly.id).new_tire if assembly.tire == "new" else None
    if new is not None:
        return (1,), np.array([new.first_n]), np.array([new.high_deg])
    force = shop.truth(assembly.id).tire.force
    return force.orders, force.peak_to_peak, force.high_deg


def first_harmonic_n(shop: Shop, assembly: AssemblyState) -> complex:
    """From the trace as it is shown: a phasor [N, peak to peak]."""
    return complex(runout.first_harmonic(force_readings_n(shop, assembly)))


def seat_runout_mm(truth: AssemblyTruth) -> complex:
    """The average first harmonic of both bead seats: a phasor [mm, peak to peak]."""
    if truth.wheel.bead_seats is None:
        return 0j
    return sum(_first(seat) for seat in truth.wheel.bead_seats) / 2


def _first(harmonics: HarmonicsTruth) -> complex:
    return sum(
        (
            complex(phasors.phasor(harmonics.peak_to_peak[at], harmonics.high_deg[at]))
            for at, order in enumerate(harmonics.orders)
            if order == 1
        ),
        0j,
    )


def dial_readings_mm(shop: Shop, assembly: AssemblyState, place: str, at_deg: Any) -> Any:
    """What a dial shows at angles (n,), zeroed at the valve and rounded to its divisions: (n,) [mm]."""
    orders, peak_to_peak, high = _runout(shop, assembly, place)
    if not orders:
        return np.zeros(len(at_deg))
    waves = runout.trace(np.append(at_deg, 0.0), 0.0, peak_to_peak, high, orders)
    return rounded_to_step(waves[:-1] - waves[-1], DIAL_STEP_MM[shop.variant.units])


def _runout(shop: Shop, assembly: AssemblyState, place: str) -> tuple[tuple[int, ...], Any, Any]:
    truth = shop.truth(assembly.id)
    seats = truth.wheel.bead_seats
    if place == "lateral":
        lateral = truth.wheel.lateral_runout
        return lateral.orders, lateral.peak_to_peak, lateral.high_deg
    if place == "tread":
        tread, wheel = truth.tire.tread_runout, seat_runout_mm(truth)
        own = np.zeros_like(tread.peak_to_peak) if assembly.tire == "new" else tread.peak_to_peak
        return (
            (*tread.orders, 1),
            np.append(own, abs(wheel)),
            np.append(on_tire(assembly, tread.high_deg), np.rad2deg(np.angle(wheel))),
        )
    if seats is None:
        return (), (), ()
    seat = seats[PLANES.index(place.split()[0])]
    return seat.orders, seat.peak_to_peak, seat.high_deg


def dots(shop: Shop, assembly: AssemblyState) -> dict[str, float]:
    """Where the dots on the tire and the mark on the wheel stand, in wheel angles."""
    bench, truth = shop.bench(assembly.id), shop.truth(assembly.id)
    found = {}
    if assembly.tire == "own":
        if "light spot" in bench.sheet.dots:
            heavy = parts_of(shop, assembly.id).own_tire.static
            found["light spot"] = float(on_tire(assembly, np.rad2deg(np.angle(-heavy))))
        if "high point" in bench.sheet.dots:
            found["high point"] = float(on_tire(assembly, np.rad2deg(np.angle(_first(truth.tire.force)))))
    if bench.sheet.low_point_mark:
        found["low point of the wheel"] = float(angles.wrap(np.rad2deg(np.angle(-seat_runout_mm(truth)))))
    return found


def label_deg(shop: Shop, assembly: AssemblyState) -> float | None:
    """Where the shelf label stands on the wheel, None where there is none."""
    label = shop.bench(assembly.id).label
    if label is None or not assembly.label_on or assembly.tire == "new":
        return None
    return float(on_tire(assembly, number(label.angle_deg)))
