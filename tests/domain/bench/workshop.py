"""Small shops for tests, a hand that works in them, and the reckoning of a textbook to compare with."""

import cmath
import math
from typing import Any

import numpy as np

from app.domain.bench import BenchState, Observation, apply, read_action, start
from app.domain.measures import UnitSystem
from app.domain.variants import Variant
from tests.domain.writing import assembly, first, heavy_spot, small, variant

Z = (-80.0, 80.0)
RADIUS = 200.0
FINE = {"step": 0.001, "dead_band": 0.0, "pieces": [0.25, 1, 5, 10, 20, 40]}
"""A balancer without rounding, so that what it shows can be compared with reckoning by hand."""


def shop(
    *heavy: dict[str, Any],
    bench: dict[str, Any] | None = None,
    tire: dict[str, Any] | None = None,
    wheel: dict[str, Any] | None = None,
    settings: dict[str, Any] | None = None,
    letters: str = "A",
    seed: int = 0,
) -> Variant:
    """A shop with one or more equal assemblies. settings: of the table [bench]."""
    each = {"heavy_spots": list(heavy), "bench": bench or {}, "tire": tire or {}, "wheel": wheel or {}}
    scenario = small(
        [],
        *(
            assembly(
                letter,
                **{name: dict(table) if isinstance(table, dict) else table for name, table in each.items()},
            )
            for letter in letters
        ),
        machine={"metric": FINE},
        bench=settings or {},
    )
    return variant(scenario, seed=seed, units=UnitSystem.METRIC)


class Hand:
    """Does one action after the other and keeps what was seen."""

    def __init__(self, of: Variant) -> None:
        self.variant = of
        self.state: BenchState = start(of)
        self.log: list[dict[str, Any]] = []

    def do(self, name: str, **fields: Any) -> Observation:
        body = {"do": name, **fields}
        self.state, seen = apply(self.variant, self.state, read_action(body))
        self.log.append(body)
        return seen

    def all(self, *names: str) -> Observation:
        return [self.do(name) for name in names][-1]

    def clamps(self, letter: str = "A", **entered: float) -> "Hand":
        """On the balancer, cone and clamp right, the true dimensions typed in unless told otherwise."""
        self.do("bring", assembly=letter, to="balancer")
        self.do("cone", cone="middle")
        self.do("clamp", grip="firm")
        self.do("enter", **{"distance_mm": 120, "width_in": 6.5, "diameter_in": 16} | entered)
        return self

    def spins(self) -> list[complex]:
        """The weights asked for, as arrows."""
        seen = self.do("spin", hood_down=True)
        assert not seen.refused, seen.text
        assert seen.readings
        return [
            0j if angle is None else arrow(mass, angle)
            for mass, angle in zip(seen.readings.values, seen.readings.angles_deg, strict=True)
        ]

    def fits(self, plane: str, angle_deg: float, mass_g: float, **fields: Any) -> Observation:
        given = {"kind": "clip", "clip": "P", "plane": plane, "angle_deg": angle_deg, "mass_g": mass_g}
        return self.do("fit-weight", **given | fields)

    def rolls(self, letter: str = "A") -> complex:
        """The first harmonic of force from the trace, by the recipe of the textbook, peak to peak."""
        self.do("bring", assembly=letter, to="roller")
        seen = self.do("roll")
        assert not seen.refused, seen.text
        assert seen.readings
        values = np.array(seen.readings.values)
        return complex(
            4 / len(values) * np.sum(values * np.exp(2j * np.pi * np.arange(len(values)) / len(values)))
        )

    @property
    def rules(self) -> list[str]:
        return [each.rule for each in self.state.broken]

    @property
    def one(self) -> Any:
        return self.state.assemblies[0]


def arrow(size: float, angle_deg: float) -> complex:
    return cmath.rect(size, math.radians(angle_deg))


def asked(
    lumps: list[tuple[complex, float]], z: tuple[float, float] = Z, radius: float = RADIUS
) -> list[complex]:
    """Statics of a rigid rotor: the two weights [g] whose forces and moments cancel the lumps (g.mm, z)."""
    forces = sum(force for force, _ in lumps)
    moments = sum(force * at for force, at in lumps)
    solved = np.linalg.solve(np.array([[1, 1], z], dtype=complex), np.array([-forces, -moments]))
    return [complex(each) / radius for each in solved]


def near(first_arrows: list[complex], second_arrows: list[complex], within: float = 0.2) -> bool:
    """Whether arrows agree [g]; the balancer shows whole degrees."""
    return all(abs(one - other) < within for one, other in zip(first_arrows, second_arrows, strict=True))


__all__ = ["FINE", "RADIUS", "Hand", "Z", "arrow", "asked", "first", "heavy_spot", "near", "shop"]
