"""A trial run: what the instrument reads without and with a known weight."""

from collections.abc import Sequence

from app.domain.measures import Measure
from app.domain.model.trial import trial_of
from app.domain.variants import Variant
from app.drawings.measured.parts import Measured, Table, amount, measurement, numbers, of, place, words
from app.drawings.spots import Vector
from app.drawings.vector_plot import vector_plot

DIVISIONS = "divisions"
"""Of the instrument's scale: a reading has no other unit."""
RUNS = {"initial": "first run, no weight", "with_weight": "second run, with the trial weight"}


def trial_run(variant: Variant, letters: Sequence[str]) -> Measured:
    """Both readings as arrows, and the trial weight with its place."""
    drawings, rows = [], []
    for letter in letters:
        view = variant.model.assembly(letter)
        trial = trial_of(view)
        vectors = []
        for tag, (run, name) in enumerate(RUNS.items(), 1):
            size, at = float(view.value(f"trial.{run}.reading")), view.value(f"trial.{run}.angle_deg")
            style = "computed" if run == "initial" else "other"
            vectors.append(
                Vector(f"{name}: {size:.1f}", size, float(at), style, place(at, variant), str(tag))
            )
            rows.append((of(letter, variant, name), f"{size:.1f}", place(at, variant)))
        rows.append(
            (
                of(letter, variant, "trial weight"),
                amount(float(trial.mass_g), Measure.MASS, variant),
                place(float(trial.angle_deg), variant),
            )
        )
        drawings.append(
            vector_plot(vectors, unit=DIVISIONS, title=of(letter, variant, "readings of the two runs"))
        )
    table = Table(
        "Readings in divisions of the instrument, angles clockwise from the valve",
        (words("Run"), numbers("Amount"), numbers("Angle")),
        tuple(rows),
    )
    return measurement("Two runs", drawings, [table])
