"""The worked solution of a placement: the best arrangement, corner by corner."""

import numpy as np

from app.compute import placement
from app.domain.answers import positions_of
from app.domain.measures import Measure, show
from app.domain.solutions.step import SolutionStep
from app.domain.tasks import PlacementTask
from app.domain.variants import Variant


def placement_step(variant: Variant, task: PlacementTask) -> SolutionStep:
    """Why the best arrangement costs the least, with what each assembly adds."""
    costs = np.asarray(variant.model.value(task.key))
    best = positions_of(int(placement.is_best(costs).argmax()), variant.scenario)
    least = show(float(costs.min()), Measure.FORCE, variant.units)
    vehicle = variant.truth.vehicle

    def of(letter: str, name: str) -> str:
        value = float(variant.model.assembly(letter).value(name))
        return show(value, Measure.FORCE, variant.units)

    if task.key.endswith("tracking"):
        pushes = {position: of(letter, "placed.conicity_n") for position, letter in best.items()}
        words = "difference of the front conicities + share of the rear × difference of the rear ones"
        put_in = (
            f"|{pushes['RF']} − ({pushes['LF']})| + {vehicle.rear_share:g} × "
            f"|{pushes['RR']} − ({pushes['LR']})|"
        )
    else:
        shares = dict(
            zip(placement.POSITIONS, placement.comfort_weights(vehicle.drive_side).tolist(), strict=True)
        )
        words = "how much each corner is felt × first harmonic of the assembly there, added"
        put_in = " + ".join(
            f"{shares[position]:g} × {of(letter, 'placed.first_n')}" for position, letter in best.items()
        )
    where = ", ".join(f"{position} {letter}" for position, letter in best.items())
    return SolutionStep(f"{where}: of all 24 arrangements none costs less", words, put_in, least)
