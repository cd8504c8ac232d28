"""A careful student at the labs on sidewalls, mounting, pressure, pull, vibration and placing.

As in `careful_student`: everything is read from the cells of the tables and worked out in plain Python.
"""

import math
import re
from datetime import date, timedelta
from itertools import permutations

from app.domain.answers import Raw
from app.domain.measures import UnitSystem
from app.drawings.measured.job_card import job_card
from tests.drawings.careful_student import Sheet, value

CORNERS = ("LF", "RF", "LR", "RR")
STOOD = dict(zip(CORNERS, ("left front", "right front", "left rear", "right rear"), strict=True))
LEFT_HAND, RIGHT_HAND = (1.00, 0.85, 0.65, 0.50), (0.85, 1.00, 0.50, 0.65)
SIZE = re.compile(r"(P|LT)?(\d+)/(\d+)R(\d+) (\d+)(?:/\d+)?([A-Z])")
MADE_BEFORE = date(2016, 9, 14)
"""Built on this day or earlier, a tire is ten years old on the day of service of the sidewall lab."""


def facts(sheet: Sheet) -> dict[str, str]:
    return dict(job_card(sheet.variant).facts)


def is_metric(sheet: Sheet) -> bool:
    return sheet.variant.units is UnitSystem.METRIC


def size_of(designation: str) -> tuple[str, int, int, int, int, str]:
    found = SIZE.match(designation)
    assert found
    letters, *numbers, symbol = found.groups()
    width, aspect, rim, index = map(int, numbers)
    return letters or "", width, aspect, rim, index, symbol


def built(number: str) -> date:
    week, year = int(number[-4:-2]), 2000 + int(number[-2:])
    sunday = date(year, 1, 1)
    while sunday.isoweekday() != 7:
        sunday += timedelta(days=1)
    return sunday + timedelta(weeks=week - 1)


def full_years(born: date, today: date) -> int:
    return today.year - born.year - ((today.month, today.day) < (born.month, born.day))


def reading_a_sidewall(sheet: Sheet) -> dict[str, Raw]:
    tires = {row["Assembly"]: row for row in sheet.rows("sidewalls")}
    loads = {row["Load index"]: value(row["Load"]) for row in sheet.rows("load table", 0)}
    speeds = {row["Symbol"]: value(row["Speed"]) for row in sheet.rows("load table", 1)}
    today = sheet.variant.scenario.vehicle.service_date
    letters, width, aspect, rim, index, symbol = size_of(tires["E"]["Size and service description"])
    height = width * aspect / 100
    answers: dict[str, Raw] = {
        "service": {"P": "passenger", "LT": "light-truck", "": "metric"}[letters],
        "height": f"{height:.0f} mm",
        "diameter": f"{rim * 25.4 + 2 * height:.0f} mm",
        "load": f"{loads[str(index)]:.0f}",
        "axle-load": f"{2 * loads[str(index)]:.0f}",
        "speed": f"{speeds[symbol]:.0f}",
    }
    _, *placard_size, placard_index, placard_symbol = size_of(facts(sheet)["Placard, size"])
    for letter, row in tires.items():
        born = built(row["Identification number"])
        answers[f"age-{letter.lower()}"] = str(full_years(born, today))
        _, *size, index, symbol = size_of(row["Size and service description"])
        against = [
            ("wrong-size", size != placard_size),
            ("too-little-load", loads[str(index)] < loads[str(placard_index)]),
            ("too-slow", speeds[symbol] < speeds[placard_symbol]),
            ("too-old", born <= MADE_BEFORE),
        ]
        answers[f"judge-{letter.lower()}"] = next((name for name, is_so in against if is_so), "fits")
    del answers["judge-e"]
    return answers


def short_way(from_deg: float, to_deg: float) -> str:
    turn = (to_deg - from_deg) % 360
    return f"{turn:.0f} cw" if turn <= 180 else f"{360 - turn:.0f} ccw"


def mounting_in_order(sheet: Sheet) -> dict[str, Raw]:
    dots = {row["Mark"]: value(row["Angle"]) for row in sheet.rows("dots")}
    [tire] = sheet.rows("pressures")
    assert tire["Stands"] == "left front"
    too_much = value(tire["Gauge"]) - value(facts(sheet)["Placard, front"])
    return {
        "turn": short_way(dots["Light-spot dot"], dots["Valve"]),
        "let-out": f"{too_much:.1f}",
    }


def dots_and_marks(sheet: Sheet) -> dict[str, Raw]:
    answers: dict[str, Raw] = {}
    for number, letter in enumerate("abcd"):
        at = {row["Mark"]: value(row["Angle"]) for row in sheet.rows("dots", number)}
        high_and_low = {"High-point dot", "Low-point mark"} <= at.keys()
        dot, goal = ("High-point dot", "Low-point mark") if high_and_low else ("Light-spot dot", "Valve")
        answers[f"dot-{letter}"] = dot.removesuffix(" dot").lower()
        answers[f"goal-{letter}"] = goal.lower().replace(" ", "-")
        answers[f"turn-{letter}"] = short_way(at[dot], at[goal])
    return answers


def pressure_and_temperature(sheet: Sheet) -> dict[str, Raw]:
    gauge = {row["Assembly"]: value(row["Gauge"]) for row in sheet.rows("pressures")}
    air = {row["When"]: row["Is"] for row in sheet.rows("pressures", 1)}
    warm, cold = (
        float(found[1])
        for when in ("In the shop, as measured", "Tomorrow morning, outside")
        if (found := re.search(r"\((\d+)", air[when]))
    )
    outside = value(air["Air outside, absolute"])
    placard = {axle: value(facts(sheet)[f"Placard, {axle}"]) for axle in ("front", "rear")}
    then = {letter: (shown + outside) * cold / warm - outside for letter, shown in gauge.items()}
    due = {axle: 0.75 * each for axle, each in placard.items()}
    answers: dict[str, Raw] = {f"cold-{letter.lower()}": f"{each:.1f}" for letter, each in then.items()}
    for axle in placard:
        answers[f"warning-{axle}"] = f"{due[axle]:.1f}"
        answers[f"set-{axle}"] = f"{(placard[axle] + outside) * warm / cold - outside:.1f}"
    answers["warned"] = [
        letter for letter in then if then[letter] <= due["front" if letter in "AB" else "rear"]
    ]
    return answers


def vibration_by_speed(sheet: Sheet) -> dict[str, Raw]:
    drive = {row["What"]: row["Is"] for row in sheet.rows("vibration")}
    found = {row["What"]: row["Is"] for row in sheet.rows("unbalance")}
    [(_, designation, _)] = job_card(sheet.variant).assemblies.rows
    _, width, aspect, rim, *_ = size_of(designation)
    diameter_mm = rim * 25.4 + 2 * width * aspect / 100
    metres_a_second = value(drive["Speed"]) * (1000 if is_metric(sheet) else 1609.344) / 3600
    wheel_hz = metres_a_second / (3.05 * diameter_mm / 1000)
    shaft_hz, engine_hz = wheel_hz * value(drive["Axle ratio"]), value(drive["Engine"]) / 60
    felt_hz = value(drive["Strongest vibration"])
    sources = {f"wheel-{order}": order * wheel_hz for order in (1, 2, 3, 4)}
    sources |= {f"driveline-{order}": order * shaft_hz for order in (1, 2)}
    sources |= {"engine-half": engine_hz / 2, "engine-1": engine_hz, "engine-2": 2 * engine_hz}
    kilograms = value(found["Mass"]) * (0.001 if is_metric(sheet) else 0.0283495)
    metres = value(found["From the axle"]) * (0.001 if is_metric(sheet) else 0.0254)
    return {
        "diameter": f"{diameter_mm:.0f} mm",
        "rolling": f"{3.05 * diameter_mm:.0f} mm",
        "wheel-hz": f"{wheel_hz:.2f}",
        "driveline-hz": f"{shaft_hz:.2f}",
        "engine-hz": f"{engine_hz:.2f}",
        "order": f"{felt_hz / wheel_hz:.2f}",
        "source": min(sources, key=lambda name: abs(felt_hz / sources[name] - 1)),
        "force": f"{kilograms * metres * (2 * math.pi * wheel_hz) ** 2:.1f} N",
    }


def which_way_it_pulls(sheet: Sheet) -> dict[str, Raw]:
    answers: dict[str, Raw] = {}
    push_right = {"as it stood": 0.0, "with sides changed": 0.0}
    conicity, ply_steer = {}, {}
    for row in sheet.rows("lateral forces"):
        letter, way = row["Assembly"], {name: value(row[name]) for name in ("Clockwise", "Counterclockwise")}
        conicity[letter] = (way["Clockwise"] + way["Counterclockwise"]) / 2
        ply_steer[letter] = (way["Clockwise"] - way["Counterclockwise"]) / 2
        answers[f"conicity-{letter.lower()}"] = f"{conicity[letter]:.2f}"
        answers[f"ply-steer-{letter.lower()}"] = f"{ply_steer[letter]:.2f}"
        # By the readings themselves: on the left a wheel turns counterclockwise and outboard is left.
        on_the_left, on_the_right = -way["Counterclockwise"], way["Clockwise"]
        push_right["as it stood"] += on_the_left if letter == "A" else on_the_right
        push_right["with sides changed"] += on_the_right if letter == "A" else on_the_left
    by_conicity = conicity["B"] - conicity["A"]
    by_ply_steer = ply_steer["A"] + ply_steer["B"]
    return answers | {
        "pull-conicity": f"{by_conicity:.2f}",
        "pull-ply": f"{by_ply_steer:.2f}",
        "pull-total": f"{push_right['as it stood']:.2f}",
        "side": "right" if push_right["as it stood"] > 0 else "left",
        "swapped": f"{push_right['with sides changed']:.2f}",
        "swapped-side": "right" if push_right["with sides changed"] > 0 else "left",
        "cause": "conicity" if abs(by_conicity) > abs(by_ply_steer) else "ply-steer",
    }


class Placing:
    """Forces by letter, and what an arrangement of letters, read LF, RF, LR, RR, costs."""

    def __init__(self, sheet: Sheet, kind: str, shares: tuple[float, ...], rear_share: float) -> None:
        rows = sheet.rows(kind)
        self.first = {row["Assembly"]: value(row["First harmonic"]) for row in rows}
        self.conicity = {row["Assembly"]: value(row["Conicity"]) for row in rows}
        self.shares, self.rear_share = shares, rear_share

    def felt(self, order: tuple[str, ...]) -> float:
        return sum(share * self.first[letter] for share, letter in zip(self.shares, order, strict=True))

    def pull(self, order: tuple[str, ...]) -> float:
        left_front, right_front, left_rear, right_rear = (self.conicity[letter] for letter in order)
        return abs(right_front - left_front) + self.rear_share * abs(right_rear - left_rear)


def comfort_and_tracking(sheet: Sheet) -> dict[str, Raw]:
    car = Placing(sheet, "as it came", LEFT_HAND, 0.3)
    came = tuple(
        next(r["Assembly"] for r in sheet.rows("as it came") if r["Stood"] == STOOD[c]) for c in CORNERS
    )
    orders = list(permutations("ABCD"))
    comfort, tracking = min(orders, key=car.felt), min(orders, key=car.pull)
    return {
        "felt": f"{car.felt(came):.2f}",
        "pull": f"{car.pull(came):.2f}",
        "comfort": dict(zip(CORNERS, comfort, strict=True)),
        "best-felt": f"{car.felt(comfort):.2f}",
        "tracking": dict(zip(CORNERS, tracking, strict=True)),
        "comfort-pull": f"{car.pull(comfort):.2f}",
    }


def mail_van_on_the_right(sheet: Sheet) -> dict[str, Raw]:
    car = Placing(sheet, "as it came", RIGHT_HAND, 0.4)
    index = {letter: size_of(size)[4] for letter, size, _ in job_card(sheet.variant).assemblies.rows}
    orders = [order for order in permutations("ABCD") if min(index[letter] for letter in order[2:]) >= 120]
    comfort = min(orders, key=car.felt)
    return {
        "rear": [letter for letter in index if index[letter] >= 120],
        "felt": f"{car.felt(tuple('ABCD')):.2f}",
        "comfort": dict(zip(CORNERS, comfort, strict=True)),
        "best-felt": f"{car.felt(comfort):.2f}",
        "comfort-pull": f"{car.pull(comfort):.2f}",
    }


def directional_tires(sheet: Sheet) -> dict[str, Raw]:
    car = Placing(sheet, "force and conicity", LEFT_HAND, 0.3)
    arrows = {row["Assembly"]: row["Arrow, seen from outboard"] for row in sheet.rows("sidewalls")}
    side = {letter: "right" if arrow == "clockwise" else "left" for letter, arrow in arrows.items()}
    orders = [
        order
        for order in permutations("ABCD")
        if [side[letter] for letter in order] == ["left", "right", "left", "right"]
    ]
    comfort = min(orders, key=car.felt)
    answers: dict[str, Raw] = {f"side-{letter.lower()}": side[letter] for letter in side}
    return answers | {
        "comfort": dict(zip(CORNERS, comfort, strict=True)),
        "felt": f"{car.felt(comfort):.2f}",
    }


def staggered_set(sheet: Sheet) -> dict[str, Raw]:
    car = Placing(sheet, "force and conicity", LEFT_HAND, 0.3)
    rows = sheet.rows("sidewalls")
    wide = {row["Assembly"] for row in rows if row["Size and service description"].startswith("255/40R18")}
    orders = [order for order in permutations("ABCD") if set(order[2:]) == wide]
    comfort = min(orders, key=car.felt)
    return {
        "rear": sorted(wide),
        "wrong-way": [row["Assembly"] for row in rows if row["Word on the side you see"] == "inside"],
        "comfort": dict(zip(CORNERS, comfort, strict=True)),
        "felt": f"{car.felt(comfort):.2f}",
    }


WORKED_BY = {
    "reading-a-sidewall": reading_a_sidewall,
    "mounting-in-order": mounting_in_order,
    "dots-and-marks": dots_and_marks,
    "pressure-and-temperature": pressure_and_temperature,
    "vibration-by-speed": vibration_by_speed,
    "which-way-it-pulls": which_way_it_pulls,
    "comfort-and-tracking": comfort_and_tracking,
    "mail-van-on-the-right": mail_van_on_the_right,
    "directional-tires": directional_tires,
    "staggered-set": staggered_set,
}
