"""One variant's shop: what the handlers of actions ask, computed once for each variant.

It knows the authored bench, the class's units and the facts that don't depend on what was done.
"""

from dataclasses import dataclass
from typing import Any

from app.compute import weight_clips
from app.domain.bench.state import AssemblyState
from app.domain.bench_sheets import BenchSheet, ConeSheet
from app.domain.bench_truth import AssemblyBenchTruth
from app.domain.draws import seed_of
from app.domain.measures import Measure, show
from app.domain.truth import AssemblyTruth
from app.domain.variants import Variant

SEATING_LIMIT_KPA = 275.0
"""40 psi, above which no bead is seated: common practice; the tire's maker has the last word."""
SEATS_AT_KPA = 150.0
"""Where a lubricated bead slides onto its seat. Teaching model; a dry one would need more than the limit."""
SNUG_SHARE = 0.7
"""Of the full torque: a first pass up to it is a snug one. Teaching model."""
TORQUE_MAY_EXCEED = 1.1
STUD_BREAKS_AT = 1.5
SENSOR_REACH_DEG = 45.0
SIDES = {"LF": "left", "LR": "left", "RF": "right", "RR": "right"}
_OTHER = {"out": "in", "in": "out", "left": "right", "right": "left"}


@dataclass(frozen=True)
class Shop:
    variant: Variant
    sheet: BenchSheet
    clips: dict[str, str | None]
    """The clip that fits each assembly's flange."""

    def truth(self, letter: str) -> AssemblyTruth:
        return self.variant.truth.assemblies[letter]

    def bench(self, letter: str) -> AssemblyBenchTruth:
        return self.variant.truth.assemblies[letter].bench

    def say(self, value: float, measure: Measure) -> str:
        """A quantity (inside unit) in words, in the class's units."""
        return show(float(value), measure, self.variant.units)

    def cone(self, name: str) -> ConeSheet | None:
        return next((cone for cone in self.sheet.cones if cone.id == name), None)

    def has(self, station: str) -> bool:
        return station in self.sheet.stations

    @property
    def torque_nm(self) -> float:
        return self.variant.scenario.vehicle.wheel_torque_nm

    def placard_kpa(self, where: str) -> float:
        """Of the axle where an assembly stands; the front's before it is on the car."""
        placard = self.variant.scenario.vehicle.placard
        return placard.rear_kpa if where in ("LR", "RR") else placard.front_kpa

    def chance(self, number: int, *purpose: str) -> float:
        """0 <= u < 1, the same for equal variants, action numbers and purposes on every machine."""
        return seed_of(str(self.variant.seed), str(number), *purpose) / 2.0**64

    def side_of(self, corner: str) -> str:
        return SIDES[corner]

    def outside_faces(self, assembly: AssemblyState) -> str | None:
        """Where the sidewall marked "outside" faces, None for a tire without one."""
        return self._as_turned(assembly, self.bench(assembly.id).sheet.outside)

    def arrow_suits(self, assembly: AssemblyState) -> str | None:
        """The side of the car that a tire's arrow suits as it is mounted, None for a tire without one."""
        return self._as_turned(assembly, self.bench(assembly.id).sheet.rotation)

    def _as_turned(self, assembly: AssemblyState, came: str | None) -> str | None:
        if came is None or assembly.tire == "new":
            return None
        return _OTHER[came] if assembly.turned_over else came


def shop_of(variant: Variant) -> Shop:
    """The shop of a variant; made once and kept with its model."""
    shop: Shop = variant.model.part("bench.shop", lambda: _made(variant))
    return shop


def _made(variant: Variant) -> Shop:
    clips = {
        letter: weight_clips.clip_for(number(truth.bench.flange_mm))
        for letter, truth in variant.truth.assemblies.items()
    }
    return Shop(variant, variant.scenario.bench or BenchSheet(), clips)


def number(value: Any) -> float:
    """A drawn number of a single variant, an array of shape (), as a plain one."""
    return float(value)
