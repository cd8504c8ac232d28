"""The labs on runout and force of the library, worked from their tables alone. See `careful_student`."""

import cmath
import math

from app.domain.answers import Raw
from tests.drawings.careful_student import Row, Sheet, arrow, direction, first_harmonic, value

LETTERS = "ABC"


def wheel_tire_or_mounting(sheet: Sheet) -> dict[str, Raw]:
    by_letter: dict[str, dict[str, complex]] = {}
    for row in sheet.rows("tread on the hub"):
        letter, what = row["Where"].removeprefix("Assembly ").split(": ")
        by_letter.setdefault(letter, {})[what] = _harmonic(row, "First harmonic", "High spot")
    answers: dict[str, Raw] = {}
    for letter, (found, turned, wheel) in ((each, tuple(by_letter[each].values())) for each in LETTERS):
        together, mounting = (found + turned) / 2, (found - turned) / 2
        sizes = {"mounting": abs(mounting), "wheel": abs(wheel), "tire": abs(together - wheel)}
        answers[f"largest-{letter.lower()}"] = max(sizes, key=lambda name: sizes[name])
        if letter == "A":
            answers |= {
                "mounting-size": f"{abs(mounting):.5f}",
                "together-size": f"{abs(together):.5f}",
                "together-high": direction(together),
                "tire-size": f"{sizes['tire']:.5f}",
                "tire-high": direction(together - wheel),
            }
    return answers


def _harmonic(row: Row, size: str, angle: str) -> complex:
    if row[angle] == "no direction":  # both bead seats cancel each other
        return 0j
    return arrow(value(row[size]), value(row[angle]))


def first_harmonic_and_total(sheet: Sheet) -> dict[str, Raw]:
    answers: dict[str, Raw] = {}
    totals, firsts = {}, {}
    for place, letter in enumerate(LETTERS):
        readings = [value(row["Reading"]) for row in sheet.rows("tread", place)]
        totals[letter], first = max(readings) - min(readings), first_harmonic(readings)
        firsts[letter] = abs(first)
        answers[f"total-{letter.lower()}"] = f"{totals[letter]:.4f}"
        answers[f"first-{letter.lower()}"] = f"{firsts[letter]:.5f}"
        if letter == "A":
            answers["high-a"] = direction(first)
    for task, sizes in (("most-total", totals), ("most-first", firsts)):
        answers[task] = [max(sizes, key=lambda letter: sizes[letter])]
    return answers


def force_and_limit(sheet: Sheet) -> dict[str, Raw]:
    most_total, most_first = (110.0, 80.0) if sheet.variant.units == "metric" else (24.7, 18.0)
    readings = [value(row["Force"]) for row in sheet.rows("force trace")]
    first = first_harmonic(readings)
    report = {"A": (max(readings) - min(readings), abs(first))}
    for row in sheet.rows("force report", letters=("B", "C", "D")):
        report[row["What"][-1]] = (value(row["Total"]), value(row["First harmonic"]))
    return {
        "total-a": f"{report['A'][0]:.3f}",
        "first-a": f"{report['A'][1]:.3f}",
        "high-a": direction(first),
        "over": [letter for letter, (total, _) in report.items() if total > most_total] or ["none"],
        **{
            f"verdict-{letter.lower()}": "once-per-turn"
            if once > most_first
            else "more-often"
            if total > most_total
            else "within"
            for letter, (total, once) in report.items()
        },
    }


def match_mount_from_two(sheet: Sheet) -> dict[str, Raw]:
    first, second = (_harmonic(row, "First harmonic", "High point") for row in sheet.rows("two measurements"))
    wheel, tire = (first + second) / 2, (first - second) / 2
    turn = (180 + math.degrees(cmath.phase(wheel) - cmath.phase(tire)) + 180) % 360 - 180
    return {
        "wheel-size": f"{abs(wheel):.3f}",
        "wheel-high": direction(wheel),
        "tire-size": f"{abs(tire):.3f}",
        "tire-high": direction(tire),
        "turn": f"{abs(turn):.1f} {'cw' if turn > 0 else 'ccw'}",
        "left": f"{abs(abs(wheel) - abs(tire)):.3f}",
    }


WORKED_BY = {
    "wheel-tire-or-mounting": wheel_tire_or_mounting,
    "first-harmonic-and-total": first_harmonic_and_total,
    "force-and-limit": force_and_limit,
    "match-mount-from-two": match_mount_from_two,
}
