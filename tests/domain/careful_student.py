"""A careful student with a calculator: works from what the lab page shows, rounded, and types rounded.

Nothing here asks the model for a quantity that the page doesn't show, and every step is worked by hand in
plain Python, so that the answer key is checked by a second way of reckoning.
"""

import cmath
import itertools
import math
from datetime import date, timedelta

from app.domain.answers import Raw
from app.domain.measures import Measure, read, show, shown_as
from app.domain.model.runout import dial_readings_mm, force_readings_n
from app.domain.variants import Variant

POSITIONS = ("LF", "RF", "LR", "RR")
COMFORT_SHARES = (1.00, 0.85, 0.65, 0.50)  # as the lab's text says, for a driver on the left
PLANES = ("inboard", "outboard")


class Student:
    """One student at one variant. Values are in inside units, each as it reads on the page or was typed."""

    def __init__(self, variant: Variant) -> None:
        self.variant = variant
        self.answers: dict[str, Raw] = {}

    def seen(self, value: float, measure: Measure) -> float:
        """A value as the page shows it."""
        shown = shown_as(measure, self.variant.units)
        return float(f"{float(value) / shown.factor:.{shown.decimals}f}") * shown.factor

    def seen_of(self, letter: str, name: str, measure: Measure) -> float:
        return self.seen(self.variant.model.value(f"assembly[{letter}].{name}"), measure)

    def seen_arrow(self, letter: str, size: str, measure: Measure, angle: str) -> complex:
        return arrow(self.seen_of(letter, size, measure), self.seen_of(letter, angle, Measure.ANGLE))

    def types(self, task_id: str, value: float, measure: Measure) -> float:
        """Writes an answer down, rounded as the class writes it, and goes on with what was written."""
        typed = show(value, measure, self.variant.units)
        self.answers[task_id] = typed
        return read(typed, measure, self.variant.units)

    def types_arrow(self, size_id: str, angle_id: str, vector: complex, measure: Measure) -> complex:
        size = self.types(size_id, abs(vector), measure)
        return arrow(size, self.types(angle_id, degrees(vector), Measure.ANGLE))


def arrow(size: float, angle_deg: float) -> complex:
    return cmath.rect(size, math.radians(angle_deg))


def degrees(vector: complex) -> float:
    return math.degrees(cmath.phase(vector)) % 360


def first_harmonic(readings: list[float]) -> complex:
    """By the recipe of the lab's text: sums of products with cosine and sine, times 4 over the number."""
    count = len(readings)
    cosines = sum(x * math.cos(math.radians(360 * i / count)) for i, x in enumerate(readings))
    sines = sum(x * math.sin(math.radians(360 * i / count)) for i, x in enumerate(readings))
    return complex(cosines, sines) * 4 / count


def nearest_total(needed_g: float, variant: Variant) -> float:
    machine = variant.truth.machine
    choices = itertools.chain.from_iterable(
        itertools.combinations_with_replacement(machine.stock_g, pieces)
        for pieces in range(machine.max_pieces + 1)
    )
    return min((sum(pieces) for pieces in choices), key=lambda total: abs(total - needed_g))


def works_two_plane_balance(variant: Variant) -> dict[str, Raw]:
    student = Student(variant)
    spots = variant.truth.assemblies["A"].heavy_spots
    static = sum(
        arrow(
            student.seen(spots.mass_g[i], Measure.MASS) * student.seen(spots.radius_mm[i], Measure.LENGTH),
            student.seen(spots.angle_deg[i], Measure.ANGLE),
        )
        for i in range(len(spots.names))
    )
    static = student.types_arrow("static-size", "static-angle", static, Measure.UNBALANCE)
    radius = student.seen(variant.truth.assemblies["A"].wheel.plane_radius_mm[0], Measure.LENGTH)
    student.types("single-mass", abs(static) / radius, Measure.MASS)
    student.types("single-angle", degrees(-static), Measure.ANGLE)
    weighs_both_planes(student, "A", "")
    heavy = student.seen_arrow("A", "unbalance.inboard.mass_g", Measure.MASS, "unbalance.inboard.angle_deg")
    fitted = student.seen_arrow(
        "A", "wrong_width.inboard.mass_g", Measure.MASS, "wrong_width.inboard.angle_deg"
    )
    student.types("left-mass", abs(heavy + fitted), Measure.MASS)
    return student.answers | {"why-two": "couple", "left-kind": "couple"}


def weighs_both_planes(student: Student, letter: str, ending: str) -> None:
    for plane in PLANES:
        at = student.seen_of(letter, f"unbalance.{plane}.angle_deg", Measure.ANGLE)
        student.types(f"{plane}-angle{ending}", at + 180, Measure.ANGLE)
        heavy = student.seen_of(letter, f"unbalance.{plane}.mass_g", Measure.MASS)
        student.types(f"{plane}-stock{ending}", nearest_total(heavy, student.variant), Measure.MASS)


def works_runout_and_match_mounting(variant: Variant) -> dict[str, Raw]:
    student = Student(variant)
    view = variant.model.assembly("A")
    seats = []
    for plane in PLANES:
        readings = [student.seen(each, Measure.RUNOUT) for each in dial_readings_mm(view, plane)]
        student.types(f"{plane}-total", max(readings) - min(readings), Measure.RUNOUT)
        first = first_harmonic(readings)
        seats.append(student.types_arrow(f"{plane}-first", f"{plane}-high", first, Measure.RUNOUT))
    average = student.types_arrow("average-first", "average-high", sum(seats) / 2, Measure.RUNOUT)
    readings = [student.seen(each, Measure.FORCE) for each in force_readings_n(view)]
    force = student.types_arrow("force-first", "force-high", first_harmonic(readings), Measure.FORCE)
    wheel_n = student.types("wheel-share", 175 * abs(average), Measure.FORCE)
    wheel = arrow(wheel_n, degrees(average))
    tire = student.types_arrow("tire-share", "tire-high", force - wheel, Measure.FORCE)
    turn = (degrees(wheel) + 180 - degrees(tire) + 180) % 360 - 180
    student.types("match-turn", turn, Measure.TURN)
    left = student.types("match-left", abs(abs(tire) - wheel_n), Measure.FORCE)
    student.answers["decision"] = "fit" if abs(force) <= 80 else "match-mount" if left <= 80 else "replace"
    return student.answers | {"why-first": "once-per-turn"}


def works_four_assemblies(variant: Variant) -> dict[str, Raw]:
    student = Student(variant)
    placed_n: dict[str, float] = {}
    conicity_n: dict[str, float] = {}
    for letter, truth in variant.truth.assemblies.items():
        ending = f"-{letter.lower()}"
        age = full_years(int(truth.tire.week), int(truth.tire.year), variant.truth.vehicle.service_date)
        student.types(f"age{ending}", age, Measure.YEARS)
        first = student.seen_of(letter, "force.first_n", Measure.FORCE)
        left = abs(
            student.seen_of(letter, "tire_force.first_n", Measure.FORCE)
            - student.seen_of(letter, "wheel_force.first_n", Measure.FORCE)
        )
        new_n = student.seen(truth.replacement_first_n, Measure.FORCE)
        if age >= 10 or (first > 80 and left > 80):
            decision, after, pushes = "replace", new_n, truth.replacement_conicity_n
        else:
            decision, after = ("fit", first) if first <= 80 else ("match-mount", left)
            pushes = truth.tire.conicity_n
        student.answers[f"decision{ending}"] = decision
        placed_n[letter] = student.types(f"placed-first{ending}", after, Measure.FORCE)
        conicity_n[letter] = student.seen(pushes, Measure.FORCE)
        weighs_both_planes(student, letter, ending)

    def felt(order: tuple[str, ...]) -> float:
        return sum(share * placed_n[letter] for share, letter in zip(COMFORT_SHARES, order, strict=True))

    def pull(order: tuple[str, ...]) -> float:
        left_front, right_front, left_rear, right_rear = (conicity_n[letter] for letter in order)
        return abs(right_front - left_front) + 0.3 * abs(right_rear - left_rear)

    orders = list(itertools.permutations(placed_n))
    student.answers["comfort"] = dict(zip(POSITIONS, min(orders, key=felt), strict=True))
    student.answers["tracking"] = dict(zip(POSITIONS, min(orders, key=pull), strict=True))
    return student.answers | {"why-comfort": "far-rear", "why-tracking": "cancel"}


def full_years(week: int, year: int, today: date) -> int:
    """By the calendar: week 01 begins on the year’s first Sunday; then the birthdays up to today count."""
    sunday = date(year, 1, 1)
    while sunday.isoweekday() != 7:
        sunday += timedelta(days=1)
    built = sunday + timedelta(weeks=week - 1)
    had_birthday = (today.month, today.day) >= (built.month, built.day)
    return today.year - built.year - (0 if had_birthday else 1)


WORKS = {
    "two-plane-balance": works_two_plane_balance,
    "runout-and-match-mounting": works_runout_and_match_mounting,
    "four-assemblies": works_four_assemblies,
}
