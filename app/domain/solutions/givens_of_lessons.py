"""What the formulas of the lessons take from the job itself. See `givens`."""

from collections.abc import Callable
from typing import Any

from app.compute import angles, units
from app.domain.measures import Measure, UnitSystem
from app.domain.model.marks import HIGH_POINT_DOT, LOW_POINT_MARK, VALVE_DEG
from app.domain.model.shelf import spokes_of
from app.domain.model.trial import trial_of
from app.domain.solutions.given import Given, shown


def _dead_band(view: Any) -> Given:
    return Given(
        "what the balancer shows at least", shown(view, view.model.truth.machine.dead_band_g, Measure.MASS)
    )


def _lip(view: Any) -> Given:
    return Given("thickness of a lip", shown(view, view.truth.bench.flange_mm, Measure.RUNOUT))


def _bore(view: Any) -> Given:
    return Given("bore", shown(view, view.truth.bench.bore_mm, Measure.RUNOUT))


def _spoke_step(view: Any) -> Given:
    count = spokes_of(view)
    step = shown(view, angles.FULL_TURN_DEG / count, Measure.ANGLE)
    return Given("360° ÷ number of spokes", f"{step} (360° ÷ {count})")


def _assembly_mass(view: Any) -> Given:
    mass_kg, words = view.truth.bench.sheet.mass_kg, "mass of the assembly"
    if view.model.truth.units is UnitSystem.METRIC:
        return Given(words, f"{mass_kg * 1000:.0f} g")
    return Given(words, f"{float(units.convert(mass_kg, 'kg', 'oz')):.0f} oz")


def _label(view: Any, part: str) -> Given | None:
    label = view.truth.bench.label
    if label is None:
        return None
    if part == "mass":
        return Given("mass of the label", shown(view, label.mass_g, Measure.MASS))
    return Given("distance of the label from the axle", shown(view, label.radius_mm, Measure.LENGTH))


def _total_limit(view: Any) -> Given:
    limit = view.model.truth.vehicle.total_force_limit_n
    return Given("the limit on the total", shown(view, limit, Measure.FORCE))


def _parted(view: Any, part: str, name: str) -> Given:
    """A part's arrow from both measurements; after half a turn the halves of their sum and difference."""

    def arrow(of: str) -> str:
        size, angle = (view.value(f"{of}.{each}") for each in ("first_n", "high_deg"))
        return f"({shown(view, size, Measure.FORCE)} at {shown(view, angle, Measure.ANGLE)})"

    first, second, turn_deg = arrow("force"), arrow("turned"), view.truth.tire.turned_deg
    if angles.wrap(turn_deg) == angles.HALF_TURN_DEG:
        what, sign = ("sum", "+") if part == "wheel" else ("difference", "−")
        return Given(
            f"half of the {what} of the first and the second measurement, as arrows",
            f"half of {first} {sign} {second}, as arrows",
        )
    if part == "wheel":
        return Given(
            "the first measurement − the share of the tire, as arrows",
            f"{first} − {arrow('separated.tire')}, as arrows",
        )
    words, numbers = "the first − the second measurement, as arrows", f"{first} − {second}, as arrows"
    of, half = {
        "first_n": ("size of", "÷ (2 × sin(half of {}))"),
        "high_deg": ("direction of", "+ 90° − half of {}"),
    }[name]
    turn = shown(view, turn_deg, Measure.ANGLE)
    return Given(
        f"{of} {words}, {half.format('the turn in between')}", f"{of} {numbers}, {half.format(turn)}"
    )


def _trial(view: Any, part: str) -> Given:
    trial = trial_of(view)
    if part == "mass":
        return Given("trial weight", shown(view, trial.mass_g, Measure.MASS))
    return Given("angle of the trial weight", shown(view, trial.angle_deg, Measure.ANGLE))


def _mark_angle(view: Any, which: str) -> Given:
    """Where the dot that counts stands, or where it goes."""
    marks = view.truth.marks
    if which == "from":
        is_high = str(view.value("marks.dot")) == HIGH_POINT_DOT
        angle, words = marks.high_point_deg if is_high else marks.light_spot_deg, "angle of the dot"
    else:
        is_low = str(view.value("marks.goal")) == LOW_POINT_MARK
        angle, words = marks.low_point_deg if is_low else VALVE_DEG, "angle of the place where it goes"
    return Given(words, shown(view, angle, Measure.ANGLE))


GIVENS_OF_LESSONS: tuple[tuple[str, Callable[..., Given | None]], ...] = (
    (r"dead_band", _dead_band),
    (r"lip", _lip),
    (r"bore", _bore),
    (r"spoke_step", _spoke_step),
    (r"assembly_mass", _assembly_mass),
    (r"label\.(mass|radius)", _label),
    (r"total_limit", _total_limit),
    (r"parted\.(tire|wheel)\.(first_n|high_deg)", _parted),
    (r"trial\.(mass|angle)", _trial),
    (r"marks\.(from|to)", _mark_angle),
)
