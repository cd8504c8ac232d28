"""What a drawing refuses."""

import math


class DrawingError(ValueError):
    """An argument that can't be drawn; the message names it and says what is allowed."""


def finite(name: str, value: float) -> float:
    """`value` itself. Raises DrawingError when it is not a finite number."""
    if not math.isfinite(value):
        raise DrawingError(f"{name} must be a finite number, not {value}")
    return float(value)
