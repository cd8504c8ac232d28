"""The calculations' wire names, inputs and answers.

Importing this room registers every calculation. It may import app.compute and pydantic, nothing of the web.
"""

from app.calculations import (
    balancing,
    placing,
    practice_rules,
    runout_and_force,
    stock_weights,
    tires,
    trial_runs,
    vibration,
)

__all__ = [
    "balancing",
    "placing",
    "practice_rules",
    "runout_and_force",
    "stock_weights",
    "tires",
    "trial_runs",
    "vibration",
]
