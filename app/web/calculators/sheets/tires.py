"""What a tire's sidewall says: its size and when it was built."""

from app.domain.measures import UnitSystem
from app.domain.scenario import Caution
from app.drawings.calculator_tire_size import Size, tire_size
from app.web.calculators.calculator import Calculator, Entered, Entry, Outcome, Result, ask, result
from app.web.calculators.kinds import (
    FINE_LENGTH,
    LENGTH,
    LOAD,
    RATIO,
    SPEED,
    TURNS_PER_DISTANCE,
    Day,
    Kind,
    Words,
)

METRIC, US = UnitSystem.METRIC, UnitSystem.US
SERVICES = {"P": "passenger car (P)", "LT": "light truck (LT)", "metric": "metric, no letter"}
CONSTRUCTIONS = {"R": "radial (R)", "B": "bias belted (B)", "D": "diagonal (D)"}
NOT_GIVEN = "not in the designation"


def _size(entered: Entered) -> Outcome:
    system = entered.system
    answer = ask("tire-size", entered, {"designation": "designation"})
    lengths = {
        name: FINE_LENGTH.show(answer[name], system) for name in ("section_height_mm", "overall_diameter_mm")
    }
    rim_mm = LENGTH.read(f"{answer['rim_in']} in", METRIC)
    rolling = answer["rolling_circumference_mm"]
    tail = f", rolling circumference {FINE_LENGTH.show(rolling, system)}" if rolling else ""
    return Outcome(
        headline=f"Overall diameter {lengths['overall_diameter_mm']}{tail}.",
        results=(
            Result("Service", SERVICES[answer["service"]]),
            Result("Construction", CONSTRUCTIONS[answer["construction"]]),
            result("Section width", answer["section_mm"], FINE_LENGTH),
            result("Aspect ratio", answer["aspect"], RATIO),
            result("Rim diameter", rim_mm, FINE_LENGTH),
            result("Section height", answer["section_height_mm"], FINE_LENGTH),
            result("Overall diameter", answer["overall_diameter_mm"], FINE_LENGTH),
            _perhaps("Rolling circumference", rolling, FINE_LENGTH, "for radial tires only"),
            _perhaps(
                "Turns over a distance", answer["revs_per_km"], TURNS_PER_DISTANCE, "for radial tires only"
            ),
            _perhaps(f"Load of index {answer['load_index']}", answer["load_kg"], LOAD),
            _perhaps(f"Speed of symbol {answer['speed_symbol']}", answer["speed_kmh"], SPEED),
            Result("Extra load", "yes" if answer["extra_load"] else "no"),
        ),
        worked=(
            f"section height = {answer['section_mm']} mm · {answer['aspect']:g} = "
            f"{lengths['section_height_mm']}",
            f"overall diameter = {FINE_LENGTH.show(rim_mm, system)} + 2 · {lengths['section_height_mm']} = "
            f"{lengths['overall_diameter_mm']}",
        ),
        drawings=(
            tire_size(
                overall=_drawn("⌀", answer["overall_diameter_mm"], system),
                rim=_drawn("⌀", rim_mm, system),
                height=_drawn("", answer["section_height_mm"], system),
                width=_drawn("", answer["section_mm"], system),
                title=f"{entered['designation']} to its sizes",
            ),
        ),
        remarks=(
            "These are the sizes of the designation. A mounted and loaded tire differs by the rim’s width, "
            "its pressure, load and wear; the maker’s data decide.",
        ),
    )


def _perhaps(label: str, value: float | None, kind: Kind, otherwise: str = NOT_GIVEN) -> Result:
    if value is None:
        return Result(label.replace(" of index None", "").replace(" of symbol None", ""), otherwise)
    return result(label, value, kind)


def _drawn(sign: str, length_mm: float, system: UnitSystem) -> Size:
    return Size(length_mm, f"{sign} {FINE_LENGTH.show(length_mm, system)}".strip())


TIRE_SIZE = Calculator(
    slug="tire-size",
    title="Tire size",
    lead="What a size designation on a sidewall stands for.",
    calculations=("tire-size",),
    entries=(
        Entry(
            "designation",
            "Size designation",
            Words(),
            "P205/65R15 92H",
            hint="Like P205/65R15 92H, LT245/75R16 120/116S or 225/40ZR18 92Y XL.",
        ),
    ),
    formula=(
        "section height = section width · aspect ratio",
        "overall diameter = rim diameter + 2 · section height; rolling circumference = 3.05 · overall "
        "diameter",
    ),
    source="P-metric and ISO metric sizes; load index and speed symbol: ISO 4000-1, the same lists in UN "
    "Regulations 30 and 54; rolling circumference of radial tires: the European tyre and rim standards "
    "manual (as quoted elsewhere).",
    work=_size,
    cautions=(Caution.DAMAGED_TIRE,),
)


def _date(entered: Entered) -> Outcome:
    answer = ask("tire-date", entered, {"tin": "tin", "service_date": "service_date"})
    years = answer["age_years"]
    age = f"{years} full year" + ("" if years == 1 else "s")
    if not answer["decade_sure"]:
        age = f"at least {age}"
    week = f"week {answer['week']:02d} of {answer['year']}"
    return Outcome(
        headline=f"Built in {week}, {answer['built_from']} to {answer['built_to']}: {age} old.",
        results=(
            Result("Week of manufacture", week),
            Result("First day of that week", f"{answer['built_from']}, a Sunday"),
            Result("Last day of that week", f"{answer['built_to']}, a Saturday"),
            Result("Age on the day of service", age),
            Result(
                "Decade",
                "certain" if answer["decade_sure"] else "not marked: three digits name the year only",
            ),
        ),
        remarks=(
            "This is not the ISO 8601 week, which runs from Monday and may differ by one.",
            "Age alone condemns no tire: the rule of the tire’s and the car’s maker, and what the tire "
            "looks like, decide.",
        ),
    )


TIRE_DATE = Calculator(
    slug="tire-date",
    title="Tire date",
    lead="Week of manufacture and age from the identification number on a sidewall.",
    calculations=("tire-date",),
    entries=(
        Entry(
            "tin",
            "Identification number, or its date code",
            Words(),
            "DOT XXX ABCDEF 5107",
            hint="The whole number, or its last four digits; three on a tire made before July 2000.",
        ),
        Entry("service_date", "Day of service", Day(10), ""),
    ),
    formula=(
        "The code’s first two digits are the week, the others the year.",
        "Week 01 is the year’s first full week; a week runs from Sunday to Saturday.",
    ),
    source="49 CFR 574.5(b). Four digits are required from 2 July 2000 (64 FR 36807).",
    work=_date,
    cautions=(Caution.DAMAGED_TIRE,),
)
