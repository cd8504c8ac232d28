"""The balance labs of the library, worked from their tables alone. See `careful_student`."""

import cmath
import math
from itertools import combinations_with_replacement

from app.domain.answers import Raw
from tests.drawings.careful_student import Sheet, arrow, direction, value

OUNCE_G = 28.349523125  # NIST SP 811
IN_MM = 25.4
CLIPS_MM = {"c": (2.0, 2.7), "p": (2.7, 3.3), "t": (3.4, 4.6), "mc": (5.0, 6.0)}  # SAE J1986, Table 1
PLANES = {"inboard": "IN", "outboard": "OUT"}


def is_metric(sheet: Sheet) -> bool:
    return sheet.variant.units == "metric"


def least_shown(sheet: Sheet) -> float:
    """What the balancer shows at least, as the labs' texts say."""
    return 5 if is_metric(sheet) else 0.25


def cone_and_dimensions(sheet: Sheet) -> dict[str, Raw]:
    bore = value(sheet.rows("cones")[0]["Bore"])
    cone = next(
        row["Cone"]
        for row in sheet.rows("cones", 1)
        if value(row["Thin end"]) < bore < value(row["Thick end"])
    )
    heavy, asked = sheet.by_plane("balancer", 0), sheet.by_plane("entered diameter", 1)
    typed = sheet.rows("entered diameter")[0]
    return {
        "cone": cone,
        "too-wide": f"{2 * value(sheet.rows('rim')[0]['Thickness of a lip']):.4f}",
        "effect": "too-little" if value(typed["As typed"]) > value(typed["True"]) else "too-much",
        "left-inboard": f"{abs(heavy['IN inboard'] + asked['IN inboard']):.3f}",
        "left-outboard": f"{abs(heavy['OUT outboard'] + asked['OUT outboard']):.3f}",
    }


def one_plane(sheet: Sheet) -> dict[str, Raw]:
    static = sum(
        arrow(value(row["Mass"]) * value(row["From the axle"]), value(row["Angle"]))
        for row in sheet.rows("heavy spots", 0)
    )
    radius = value(sheet.rows("heavy spots", 1)[0]["From the axle"])
    heavy = sheet.by_plane("balancer", 0)
    fitted = -static / radius
    after = {
        "inboard": heavy["Assembly A: IN inboard"] + fitted,
        "outboard": heavy["Assembly A: OUT outboard"],
    }
    return {
        "static-size": f"{abs(static):.3f}",
        "static-angle": direction(static),
        "single-mass": f"{abs(fitted):.3f}",
        "single-angle": direction(fitted),
        "after-outboard": f"{abs(after['outboard']):.3f}",
        "after-inboard": f"{abs(after['inboard']):.3f}",
        "after-angle": direction(after["inboard"]),
        **{
            f"enough-{letter.lower()}": "yes"
            if abs(heavy[f"Assembly {letter}: OUT outboard"]) < least_shown(sheet)
            else "no"
            for letter in "ABC"
        },
    }


def pieces_for(sheet: Sheet, total: float) -> int:
    (single, *_) = sheet.rows("balancer", 1)
    sizes = [float(piece) for piece in single["In stock"].split(", ")]
    return next(
        count
        for count in (0, 1, 2)
        if any(abs(sum(each) - total) < 1e-9 for each in combinations_with_replacement(sizes, count))
    )


def ounces_and_grams(sheet: Sheet) -> dict[str, Raw]:
    heavy = {name: abs(spot) for name, spot in sheet.by_plane("balancer", 0).items()}
    factor = 1 / OUNCE_G if is_metric(sheet) else OUNCE_G
    answers: dict[str, Raw] = {
        f"other-{plane}": f"{heavy[f'Assembly A: {tag} {plane}'] * factor:.4f}"
        for plane, tag in PLANES.items()
    }
    for letter in "AB":
        small = letter.lower()
        for plane, tag in PLANES.items():
            total = sheet.nearest_total(heavy[f"Assembly {letter}: {tag} {plane}"])
            answers[f"{plane}-stock-{small}"] = f"{total:.4f}"
            if plane == "inboard":
                answers[f"inboard-pieces-{small}"] = str(pieces_for(sheet, total))
                if letter == "A":
                    answers["left"] = f"{abs(heavy['Assembly A: IN inboard'] - total):.4f}"
    for row in sheet.rows("flange"):
        lip_mm = value(row["Lip"]) * (1 if is_metric(sheet) else IN_MM)
        fits = [clip for clip, (thin, thick) in CLIPS_MM.items() if thin - 0.02 <= lip_mm <= thick + 0.02]
        answers[f"clip-{row['Rim'][-1].lower()}"] = fits[0] if fits else "none"
    return answers


def behind_the_spokes(sheet: Sheet) -> dict[str, Raw]:
    answers: dict[str, Raw] = {}
    for row in sheet.rows("spokes"):
        letter = row["Weight"].split(":")[0][-1].lower()
        mass, at = value(row["Mass"]), value(row["Angle"])
        count = int(row["Spokes"])
        stand = [(i + 0.5) * 360 / count for i in range(-1, count)]
        before = max(each for each in stand if each <= at)
        after = before + 360 / count
        # The parallelogram by Cramer's rule on plain coordinates.
        one, two, weight = (arrow(1, before), arrow(1, after), arrow(mass, at))
        shares = {
            "before": _cross(weight, two) / _cross(one, two),
            "after": _cross(one, weight) / _cross(one, two),
        }
        answers |= {f"before-{letter}": f"{before % 360:.2f}", f"after-{letter}": f"{after % 360:.2f}"}
        for side, share in shares.items():
            answers[f"share-{side}-{letter}"] = f"{share:.4f}"
            if letter == "a":
                answers[f"stock-{side}"] = f"{_nearest(sheet, share):.4f}"
                nearest = min((one, two), key=lambda spoke: abs(spoke * mass - weight))
                answers["nearest"] = f"{abs(nearest * mass - weight):.4f}"
    return answers


def _nearest(sheet: Sheet, mass: float) -> float:
    (single, *_) = sheet.rows("spokes", 1)
    sizes = [float(piece) for piece in single["In stock"].split(", ")]
    totals = [0.0, *(sum(each) for n in (1, 2) for each in combinations_with_replacement(sizes, n))]
    return min(totals, key=lambda total: abs(total - mass))


def _cross(one: complex, other: complex) -> float:
    return (one.conjugate() * other).imag


def half_turn_test(sheet: Sheet) -> dict[str, Raw]:
    first, second = sheet.by_plane("half turn", 0), sheet.by_plane("half turn", 1)
    scales = {row["What"][-1]: row["Mass"] for row in sheet.rows("half turn", 2)}
    own = (first["Assembly A: IN inboard"] + second["Assembly A: IN inboard"]) / 2
    mounting = {name: (first[name] - second[name]) / 2 for name in first}
    # 1 lb is 16 oz; with grams the assembly's kilograms make grams.
    assembly = value(scales["A"]) * (1000 if is_metric(sheet) else 16)
    radius = 206 if is_metric(sheet) else 206 / IN_MM
    together = abs(mounting["Assembly A: IN inboard"] + mounting["Assembly A: OUT outboard"])
    label = sheet.rows("shelf label", letters=("A",))[0]
    return {
        "own-mass": f"{abs(own):.3f}",
        "own-angle": direction(own),
        "mounting-mass": f"{abs(mounting['Assembly A: IN inboard']):.3f}",
        "mounting-angle": direction(mounting["Assembly A: IN inboard"]),
        "off-centre": f"{together * radius / assembly:.5f}",
        **{
            f"cause-{letter.lower()}": "mounting"
            if abs(mounting[f"Assembly {letter}: IN inboard"]) >= least_shown(sheet)
            else "assembly"
            for letter in "ABC"
        },
        "label": f"{value(label['Mass']) * value(label['From the axle']) / _clip_radius(label):.3f}",
    }


def _clip_radius(label: dict[str, str]) -> float:
    return value(label["Clip weights from the axle"])


def zero_reading(sheet: Sheet) -> dict[str, Raw]:
    heavy = sheet.by_plane("balancer", 0)
    return {"hidden": f"{abs(heavy['Assembly B: IN inboard'] + heavy['Assembly B: OUT outboard']):.3f}"}


def trial_weight(sheet: Sheet) -> dict[str, Raw]:
    rows = sheet.rows("trial run")
    first, second, weight = (arrow(value(row["Amount"]), value(row["Angle"])) for row in rows)
    effect = second - first
    turn = math.degrees(cmath.phase(-first) - cmath.phase(effect))
    return {
        "effect-size": f"{abs(effect):.3f}",
        "effect-angle": direction(effect),
        "mass": f"{abs(weight) * abs(first) / abs(effect):.3f}",
        "angle": f"{(math.degrees(cmath.phase(weight)) + turn) % 360:.2f}",
    }


WORKED_BY = {
    "cone-and-dimensions": cone_and_dimensions,
    "one-plane": one_plane,
    "ounces-and-grams": ounces_and_grams,
    "behind-the-spokes": behind_the_spokes,
    "half-turn-test": half_turn_test,
    "zero-reading": zero_reading,
    "trial-weight": trial_weight,
}
