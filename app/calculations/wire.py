"""What numbers, names and vectors look like on the wire, and how a vector becomes a phasor and back.

Every input is bounded, so that no allowed input can make an infinite answer, a huge list or a hang.
"""

import math
from typing import Annotated, Any

import numpy as np
from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator

from app.compute import phasors
from app.compute.errors import ComputeError

LARGEST = 1e9
SMALLEST_POSITIVE = 1e-9

Number = Annotated[float, Field(ge=-LARGEST, le=LARGEST)]
NotNegative = Annotated[float, Field(ge=0, le=LARGEST)]
Positive = Annotated[float, Field(ge=SMALLEST_POSITIVE, le=LARGEST)]
Name = Annotated[str, Field(min_length=1, max_length=100)]

Answer = dict[str, Any]


class Given(BaseModel):
    """Base of every input: exact types (no text or true/false for a number), finite, no unknown names."""

    model_config = ConfigDict(strict=True, extra="forbid", allow_inf_nan=False, frozen=True)


class Vector(Given):
    """A size at an angle, degrees clockwise from the valve stem."""

    size: NotNegative
    angle_deg: Number | None

    @field_validator("angle_deg")
    @classmethod
    def _a_size_needs_a_direction(cls, angle_deg: float | None, info: ValidationInfo) -> float | None:
        if angle_deg is None and info.data.get("size", 0) > 0:
            raise ValueError("Give the angle in degrees; only a vector of size 0 goes without.")
        return angle_deg

    def phasor(self) -> complex:
        """This vector as a complex phasor."""
        return complex(phasors.phasor(self.size, 0.0 if self.angle_deg is None else self.angle_deg))


TwoVectors = Annotated[list[Vector], Field(min_length=2, max_length=2)]


def phasors_of(vectors: list[Vector]) -> phasors.ComplexArray:
    """n vectors as phasors, shape (n,)."""
    return np.array([vector.phasor() for vector in vectors], dtype=complex)


def angle_or_null(angle_deg: float) -> float | None:
    """An angle for the wire: "no direction" is nan inside and null outside."""
    return None if math.isnan(angle_deg) else float(angle_deg)


def vector_answer(p: complex, scale: float | None = None, size_name: str = "size") -> dict[str, float | None]:
    """A phasor as a vector for the wire.

    scale: the size of the inputs it was made of, in its own unit; see `phasors.angle_deg`.
    size_name: "mass_g" or "mass" where the vector is a weight.
    """
    return {
        size_name: float(phasors.size(p)),
        "angle_deg": angle_or_null(float(phasors.angle_deg(p, scale))),
    }


def require_distinct(ids: list[str], list_name: str) -> None:
    """Refuse an id that stands twice in a list of things, naming its second place. Raises ComputeError."""
    for index, each in enumerate(ids):
        if each in ids[:index]:
            raise ComputeError(f"{list_name}[{index}].id", f"Give each its own id; {each} stands here twice.")
