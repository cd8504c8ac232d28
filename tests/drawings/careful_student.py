"""A student who works a lab from its drawings' tables alone, and never sees the model.

Everything is read from the cells as they are shown, in the class's units, and worked out by other means than
the program's: numpy's Fourier transform, complex sums, the standard library's calendar, plain enumeration.
"""

import cmath
import math
import re
from datetime import date, timedelta
from itertools import combinations_with_replacement, permutations

import numpy as np

from app.domain.answers import Raw
from app.domain.scenario import Measurement
from app.domain.variants import Variant
from app.drawings.measured import measured
from app.drawings.measured.parts import Table

Row = dict[str, str]


def arrow(size: float, angle_deg: float) -> complex:
    return cmath.rect(size, math.radians(angle_deg))


def direction(vector: complex) -> str:
    return f"{math.degrees(cmath.phase(vector)) % 360:.2f}"


def value(cell: str) -> float:
    """The number that a cell begins with."""
    return float(cell.replace("−", "-").split("°")[0].split(" ")[0])


class Sheet:
    """The tables of a variant's lab, by kind of measurement."""

    def __init__(self, variant: Variant) -> None:
        self.variant = variant

    def table(self, kind: str, number: int = 0, letters: tuple[str, ...] = ()) -> Table:
        return measured(Measurement(kind=kind, assemblies=letters), self.variant).tables[number]

    def rows(self, kind: str, number: int = 0, letters: tuple[str, ...] = ()) -> list[Row]:
        table = self.table(kind, number, letters)
        heads = [head["label"] for head in table.heads]
        return [dict(zip(heads, row, strict=True)) for row in table.rows]

    def by_plane(self, kind: str, number: int) -> dict[str, complex]:
        """Arrows by the last words of their row, `IN inboard` or `Assembly B: OUT outboard`."""
        return {
            row["Plane"]: arrow(value(row["Mass"]), value(row["Angle"])) for row in self.rows(kind, number)
        }

    def nearest_total(self, mass: float) -> float:
        (single, *_) = self.rows("balancer", 1)
        sizes = [float(piece) for piece in single["In stock"].split(", ")]
        totals = [0.0, *(sum(each) for n in (1, 2) for each in combinations_with_replacement(sizes, n))]
        return min(totals, key=lambda total: abs(total - mass))


def two_plane_balance(sheet: Sheet) -> dict[str, Raw]:
    static = sum(
        arrow(value(row["Mass"]) * value(row["From the axle"]), value(row["Angle"]))
        for row in sheet.rows("heavy spots")
    )
    radius = value(sheet.rows("heavy spots", 1)[0]["From the axle"])
    heavy, asked = sheet.by_plane("balancer", 0), sheet.by_plane("entered width", 1)
    answers: dict[str, Raw] = {
        "static-size": f"{abs(static):.3f}",
        "static-angle": direction(static),
        "single-mass": f"{abs(static) / radius:.3f}",
        "single-angle": direction(-static),
        "left-mass": f"{abs(heavy['IN inboard'] + asked['IN inboard']):.3f}",
    }
    for plane in ("inboard", "outboard"):
        spot = heavy[f"{'IN' if plane == 'inboard' else 'OUT'} {plane}"]
        answers[f"{plane}-angle"] = direction(-spot)
        answers[f"{plane}-stock"] = f"{sheet.nearest_total(abs(spot)):.3f}"
    return answers


def first_harmonic(readings: list[float]) -> complex:
    """Peak to peak, toward the high spot, by numpy's Fourier transform (its angles run the other way)."""
    return complex(np.conj(np.fft.rfft(readings)[1])) * 4 / len(readings)


def runout_and_match_mounting(sheet: Sheet) -> dict[str, Raw]:
    answers: dict[str, Raw] = {}
    seats = {}
    rows = sheet.rows("bead seats")
    for plane in ("Inboard", "Outboard"):
        readings = [value(row[plane]) for row in rows]
        seats[plane] = first_harmonic(readings)
        name = plane.lower()
        answers[f"{name}-total"] = f"{max(readings) - min(readings):.4f}"
        answers[f"{name}-first"] = f"{abs(seats[plane]):.5f}"
        answers[f"{name}-high"] = direction(seats[plane])
    average = sum(seats.values()) / 2
    force = first_harmonic([value(row["Force"]) for row in sheet.rows("force trace")])
    part = sheet.variant.scenario.lab_parts[3].text
    metric, us = (float(found) for found in re.search(r"(\d+) N per mm \((\d+) lbf", part).groups())
    wheel = average * (metric if sheet.variant.units == "metric" else us)
    tire = force - wheel
    turn = (180 + math.degrees(cmath.phase(wheel) - cmath.phase(tire)) + 180) % 360 - 180
    limit = 80 if sheet.variant.units == "metric" else 18
    left = abs(abs(tire) - abs(wheel))
    return answers | {
        "average-first": f"{abs(average):.5f}",
        "average-high": direction(average),
        "force-first": f"{abs(force):.3f}",
        "force-high": direction(force),
        "wheel-share": f"{abs(wheel):.3f}",
        "tire-share": f"{abs(tire):.3f}",
        "tire-high": direction(tire),
        "match-turn": f"{abs(turn):.1f} {'cw' if turn > 0 else 'ccw'}",
        "match-left": f"{left:.3f}",
        "decision": "fit" if abs(force) <= limit else "match-mount" if left <= limit else "replace",
    }


def full_years(identification: str, today: date) -> int:
    """49 CFR 574.5: week 01 is the first full week of the year, Sunday to Saturday."""
    week, year = int(identification[-4:-2]), 2000 + int(identification[-2:])
    sunday = next(
        day for day in (date(year, 1, 1) + timedelta(n) for n in range(7)) if day.isoweekday() == 7
    ) + timedelta(weeks=week - 1)
    return today.year - sunday.year - ((today.month, today.day) < (sunday.month, sunday.day))


def four_assemblies(sheet: Sheet) -> dict[str, Raw]:
    letters = "ABCD"
    limit = 80 if sheet.variant.units == "metric" else 18
    today = sheet.variant.scenario.vehicle.service_date
    report = {row["Measured"].split(", ")[0] + _unitless(row): row for row in sheet.rows("uniformity")}
    heavy = sheet.by_plane("balancer", 0)
    answers: dict[str, Raw] = {}
    first, conicity = {}, {}
    for row in sheet.rows("sidewalls"):
        letter, age = row["Assembly"], full_years(row["Identification number"], today)
        force = value(report["Assembly first harmonic"][letter])
        left = abs(
            value(report["Tire’s share of the force"][letter])
            - value(report["Wheel’s share of the force"][letter])
        )
        if age >= 10 or (force > limit and left > limit):
            decision = "replace"
            first[letter] = value(report["With a new tire: first harmonic"][letter])
            conicity[letter] = value(report["With a new tire: conicity"][letter])
        else:
            decision = "fit" if force <= limit else "match-mount"
            first[letter] = force if force <= limit else left
            conicity[letter] = value(report["Conicity"][letter])
        small = letter.lower()
        answers |= {
            f"age-{small}": str(age),
            f"decision-{small}": decision,
            f"placed-first-{small}": f"{first[letter]:.3f}",
        }
        for plane, tag in (("inboard", "IN"), ("outboard", "OUT")):
            spot = heavy[f"Assembly {letter}: {tag} {plane}"]
            answers[f"{plane}-angle-{small}"] = direction(-spot)
            answers[f"{plane}-stock-{small}"] = f"{sheet.nearest_total(abs(spot)):.3f}"

    def shake(order: tuple[str, ...]) -> float:
        return sum(share * first[each] for share, each in zip((1.0, 0.85, 0.65, 0.5), order, strict=True))

    def pull(order: tuple[str, ...]) -> float:
        lf, rf, lr, rr = (conicity[each] for each in order)
        return abs(rf - lf) + 0.3 * abs(rr - lr)

    for task, cost in (("comfort", shake), ("tracking", pull)):
        best = min(permutations(letters), key=cost)
        answers[task] = dict(zip(("LF", "RF", "LR", "RR"), best, strict=True))
    return answers


def _unitless(row: Row) -> str:
    """The second word of a row's name unless it is only the unit: ` first harmonic`, ` high point`."""
    rest = row["Measured"].split(", ")[1:]
    words = [word for word in rest if word not in ("N", "lbf", "mm", "in")]
    return f" {words[0]}" if words else ""


WORKED_BY = {
    "two-plane-balance": two_plane_balance,
    "runout-and-match-mounting": runout_and_match_mounting,
    "four-assemblies": four_assemblies,
}
