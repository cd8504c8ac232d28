"""Places on the face of a wheel: degrees clockwise from the top, in drawing units."""

import math

Point = tuple[float, float]


def point(centre: Point, radius: float, angle_deg: float) -> Point:
    """The place at `radius` from `centre`, `angle_deg` clockwise from straight up."""
    angle = math.radians(angle_deg)
    return centre[0] + radius * math.sin(angle), centre[1] - radius * math.cos(angle)


def nice_step(span: float, steps: int = 4) -> float:
    """The least 1, 2 or 5 times a power of ten that goes at most `steps` times into `span`; 1 for no span."""
    if span <= 0:
        return 1.0
    raw = span / steps
    power = 10.0 ** math.floor(math.log10(raw))
    return float(next(factor for factor in (1, 2, 5, 10) if factor * power >= raw * (1 - 1e-9)) * power)


def step_text(value: float) -> str:
    """A multiple of a nice step without its binary dust: 0.30000000000000004 is 0.3."""
    return f"{value:.6g}".replace("-", "−")
