"""Spots and vectors that several drawings share."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from app.drawings.drawing import tags
from app.drawings.errors import DrawingError, finite
from app.drawings.labels import Part
from app.drawings.markers import VECTOR_KINDS, known


@dataclass(frozen=True)
class Spot:
    """A spot on a wheel or tire.

    kind: a key of `markers.MARKERS`. label: what it is, with its amount and unit ("inboard weight 35 g").
    where: the angle as text; plain degrees when left out. radius: share of the tire's outer radius, 0 to 1,
    or where such a spot usually sits. tag: what stands beside it; the next letter when left out.
    """

    kind: str
    angle_deg: float
    label: str
    where: str = ""
    radius: float | None = None
    tag: str = ""


@dataclass(frozen=True)
class Vector:
    """An amount with a direction.

    size: in one unit for all of a drawing, not negative. angle_deg None: no direction. label: what it is,
    with its amount and unit. style: "computed" (solid, filled), "own" (dashed, open) or "other" (dotted).
    """

    label: str
    size: float
    angle_deg: float | None
    style: str = "computed"
    where: str = ""
    tag: str = ""


def prepare_spots(spots: Sequence[Spot]) -> list[Spot]:
    """The spots with angles taken around the circle and every text filled in. Raises DrawingError."""
    done = []
    for index, spot in enumerate(spots):
        known(spot.kind)
        angle = finite(f"spots[{index}].angle_deg", spot.angle_deg) % 360
        radius = spot.radius
        if radius is not None and not 0 <= finite(f"spots[{index}].radius", radius) <= 1:
            raise DrawingError(f"spots[{index}].radius must lie from 0 to 1, not {radius}")
        done.append(replace(spot, angle_deg=angle, where=spot.where or degrees(angle)))
    return done


def prepare_vectors(vectors: Sequence[Vector]) -> list[Vector]:
    """The vectors with angles taken around the circle and every text filled in. Raises DrawingError."""
    done = []
    for index, vector in enumerate(vectors):
        if vector.style not in VECTOR_KINDS:
            raise DrawingError(
                f"vectors[{index}].style must be one of {', '.join(VECTOR_KINDS)}, not {vector.style!r}"
            )
        if finite(f"vectors[{index}].size", vector.size) < 0:
            raise DrawingError(f"vectors[{index}].size must not be negative, not {vector.size}")
        angle = vector.angle_deg
        if angle is None or vector.size == 0:
            done.append(replace(vector, angle_deg=None, where=vector.where or "no direction"))
        else:
            angle = finite(f"vectors[{index}].angle_deg", angle) % 360
            done.append(replace(vector, angle_deg=angle, where=vector.where or degrees(angle)))
    return done


def with_tags(given: Sequence[str]) -> list[str]:
    """Each item's own tag, or the next letter of the parts list that nobody has taken."""
    letters = iter([tag for tag in tags(len(given) * 2) if tag not in given])
    return [tag or next(letters) for tag in given]


def part(tag: str, kind: str, *words: str) -> Part:
    """A line of the parts list: the words that are not empty, parted by commas."""
    return Part(tag, kind, ", ".join(word for word in words if word))


def degrees(angle_deg: float) -> str:
    """An angle as it is lettered: one decimal at most, and 360 is 0."""
    return f"{round(angle_deg, 1) % 360:g}°"
