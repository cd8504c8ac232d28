"""How each quantity is reckoned, in words: formulas whose names stand for quantities and for what is given.

`{static.size_gmm}` stands for a quantity of the same assembly, `{radius.inboard}` for what is given (see
`givens`), `{@unbalance.inboard}` for an arrow, a size with its direction. `assembly[1]` and `assembly[2]` are
the first and the second assembly, left front and right front. A quantity that has no formula here is said to
follow from the quantities that the model read for it.
"""

import re

from app.domain.solutions.formulas_of_car import FORMULAS_OF_CAR
from app.domain.solutions.formulas_of_lessons import FORMULAS_OF_LESSONS
from app.domain.solutions.placing import FORMULAS_OF_PLACING

_FORMULAS = (
    (r"static\.(size_gmm|angle_deg)", "{spots.arrows}, added as arrows"),
    (r"single\.mass_g", "{static.size_gmm} ÷ {radius.inboard}"),
    (r"single\.angle_deg", "{static.angle_deg} + 180°"),
    (r"unbalance\.(\w+)\.(mass_g|angle_deg)", r"({spots.shares.\1}, added as arrows) ÷ {radius.\1}"),
    (r"correction\.(\w+)\.mass_g", r"{unbalance.\1.mass_g}"),
    (r"correction\.(\w+)\.angle_deg", r"{unbalance.\1.angle_deg} + 180°"),
    (
        r"stock\.(\w+)\.mass_g",
        r"the total from stock that is nearest to {correction.\1.mass_g}",
    ),
    (r"stock_left\.(\w+)\.mass_g", r"difference of {stock.\1.mass_g} and {correction.\1.mass_g}"),
    (r"left\.(\w+)\.(mass_g|angle_deg)", r"{@unbalance.\1} + {@wrong_width.\1}, added as arrows"),
    (r"runout\.(inboard|outboard)\.total_mm", r"{greatest.\1} − {least.\1}"),
    (r"force\.total_n", "{greatest.force} − {least.force}"),
    (
        r"runout\.(inboard|outboard)\.first_mm",
        r"4 ÷ {count.\1} × √(cosine sum² + sine sum²), with {cosines.\1} and {sines.\1}",
    ),
    (
        r"runout\.(inboard|outboard)\.high_deg",
        r"the direction of the arrow of cosine sum and sine sum: {cosines.\1}, {sines.\1}",
    ),
    (
        r"force\.first_n",
        "4 ÷ {count.force} × √(cosine sum² + sine sum²), with {cosines.force} and {sines.force}",
    ),
    (
        r"force\.high_deg",
        "the direction of the arrow of cosine sum and sine sum: {cosines.force}, {sines.force}",
    ),
    (
        r"runout\.average\.(first_mm|high_deg)",
        "half of the sum of {@runout.inboard} and {@runout.outboard} as arrows",
    ),
    (r"wheel_force\.first_n", "{spring_rate} × {runout.average.first_mm}"),
    (r"tire_force\.(first_n|high_deg)", "{@force} − {@wheel_force}, as arrows"),
    (r"match\.turn_deg", "{runout.average.high_deg} + 180° − {tire_force.high_deg}"),
    (r"match\.left_n", "difference of {tire_force.first_n} and {wheel_force.first_n}"),
    (r"over_limit", "{force.first_n} against {limit}"),
    (r"decision", "{force.first_n} as it is, else {match.left_n} match mounted, against {limit}{age_limit}"),
    (r"tire\.age_years", "full years from {built} to {service_date}"),
    *FORMULAS_OF_LESSONS,
    *FORMULAS_OF_CAR,
    *FORMULAS_OF_PLACING,
)

DIRECTION_OF = {"wheel_force": "runout.average.high_deg"}
"""The angle of an arrow whose direction is another quantity's: the wheel pushes where its high spot is."""

SHOWN_BY = {
    "balancer": r"unbalance\..*",
    "entered width": r"wrong_width\..*",
    "entered diameter": r"wrong_diameter\..*",
    "spokes": r"correction\.outboard\..*",
    "tread on the hub": r"(tread|tread_turned|runout\.average)\..*",
    "half turn": r"half_turn\.(first|second)\..*",
    "trial run": r"trial\.(initial|with_weight)\..*",
    "two measurements": r"(force|turned)\.(first_n|high_deg)",
    "force report": r"force\..*",
    "as it came": r"force\.first_n",
    "force and conicity": r"force\.first_n",
    "uniformity": r"(force|tire_force|wheel_force)\.(first_n|high_deg)|runout\.average\..*",
    "sidewalls": r"tire\.(week|year|designation)",
}
"""Quantities that a measurement shows: where a student reads them, nothing has to be reckoned."""


def formula_of(name: str) -> str | None:
    """The formula of a quantity by its short name, of the car's with `car.` before it; or None."""
    for pattern, formula in _FORMULAS:
        if found := re.fullmatch(pattern, name):
            return found.expand(formula)
    return None
