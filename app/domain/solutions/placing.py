"""Worked solutions of arrangements on the car: what one costs, corner by corner. See `formulas`."""

from collections.abc import Callable
from typing import Any

import numpy as np

from app.compute import placement
from app.domain.measures import Measure
from app.domain.model.placing import AS_IT_CAME
from app.domain.solutions.given import Given, shown
from app.domain.solutions.step import SolutionStep
from app.domain.tasks import PlacementTask
from app.domain.variants import Variant

FORMULAS_OF_PLACING = (
    (r"car\.as_it_came\.(felt|pull)_n", r"{arranged.\1.as_it_came}"),
    (r"car\.best\.felt_n", "{arranged.felt.comfort}"),
    (r"car\.best\.pull_n", "{arranged.pull.tracking}"),
    (r"car\.comfort_pull_n", "{arranged.pull.comfort}"),
)


def placement_step(variant: Variant, task: PlacementTask) -> SolutionStep:
    """Why the best arrangement costs the least, with what each assembly adds."""
    _, aim = task.key.split(".")
    view = variant.model.assembly(variant.scenario.assembly_ids[0])
    costs = np.asarray(variant.model.value(task.key))
    which = "all 24 arrangements" if np.isfinite(costs).all() else "the arrangements that are permitted"
    where = ", ".join(f"{position} {letter}" for position, letter in _standing(view, aim).items())
    worked = _arranged(view, {"comfort": "felt", "tracking": "pull"}[aim], aim)
    least = shown(view, costs.min(), Measure.FORCE)
    return SolutionStep(f"{where}: of {which} none costs less", worked.words, worked.shown, least)


def _standing(view: Any, which: str) -> dict[str, str]:
    """The letter at each position: as it came, or in the first of the best arrangements for an aim."""
    row = AS_IT_CAME
    if which != "as_it_came":
        row = int(placement.is_best(view.model.value(f"car.{which}")).argmax())
    letters = list(view.model.truth.assemblies)
    return {
        position: letters[place]
        for position, place in zip(placement.POSITIONS, placement.ARRANGEMENTS[row].tolist(), strict=True)
    }


def _arranged(view: Any, what: str, which: str) -> Given:
    vehicle, standing = view.model.truth.vehicle, _standing(view, which)
    name = {"felt": "placed.first_n", "pull": "placed.conicity_n"}[what]
    forces = {
        position: shown(view, view.model.assembly(letter).value(name), Measure.FORCE)
        for position, letter in standing.items()
    }
    if what == "pull":
        return Given(
            "difference of the front conicities + share of the rear × difference of the rear ones",
            f"|{forces['RF']} − ({forces['LF']})| + {vehicle.rear_share:g} × "
            f"|{forces['RR']} − ({forces['LR']})|",
        )
    shares = placement.comfort_weights(vehicle.drive_side).tolist()
    return Given(
        "how much each corner is felt × first harmonic of the assembly there, added",
        " + ".join(
            f"{share:g} × {forces[position]} ({standing[position]} at {position})"
            for position, share in zip(placement.POSITIONS, shares, strict=True)
        ),
    )


GIVENS_OF_PLACING: tuple[tuple[str, Callable[..., Given]], ...] = (
    (r"arranged\.(felt|pull)\.(as_it_came|comfort|tracking)", _arranged),
)
