"""What a tire's size designation says: its dimensions, load and speed.

Sources: P-metric and ISO metric sizes (overall diameter = rim diameter + two section heights); load index
and speed symbol: ISO 4000-1, the same lists in UN Regulations 30 and 54; rolling circumference: the
European tyre and rim standards manual, general section, for radial tires (read as quoted in another
document).
"""

import re
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray
from app.compute.constants import INCH_MM, MM_PER_KM
from app.compute.errors import UnreadableError

Service = Literal["P", "LT", "metric"]
Construction = Literal["R", "B", "D"]

FORM = "P205/65R15 92H, LT245/75R16 120/116S or 225/40ZR18 92Y XL"
LONGEST_DESIGNATION = 60

ROLLING_PER_DIAMETER = 3.05

SECTION_MM = (105, 455)
ASPECT_PERCENT = (20, 95)
RIM_IN = (8, 30)

# fmt: off
_LOADS_KG_FROM_60 = (
    250, 257, 265, 272, 280, 290, 300, 307, 315, 325,  # 60 to 69
    335, 345, 355, 365, 375, 387, 400, 412, 425, 437,  # 70 to 79
    450, 462, 475, 487, 500, 515, 530, 545, 560, 580,  # 80 to 89
    600, 615, 630, 650, 670, 690, 710, 730, 750, 775,  # 90 to 99
    800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030,  # 100 to 109
    1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360,  # 110 to 119
    1400, 1450, 1500, 1550, 1600, 1650, 1700, 1750, 1800, 1850,  # 120 to 129
    1900,
)
LOAD_INDEX_KG = dict(enumerate(_LOADS_KG_FROM_60, start=60))

# H stands after U: the symbols are not alphabetical.
SPEED_SYMBOL_KMH = {
    "A1": 5, "A2": 10, "A3": 15, "A4": 20, "A5": 25, "A6": 30, "A7": 35, "A8": 40,
    "B": 50, "C": 60, "D": 65, "E": 70, "F": 80, "G": 90, "J": 100, "K": 110, "L": 120, "M": 130, "N": 140,
    "P": 150, "Q": 160, "R": 170, "S": 180, "T": 190, "U": 200, "H": 210, "V": 240, "W": 270, "Y": 300,
}
# fmt: on
ZR_ABOVE_KMH = 240

_SERVICES: dict[str, Service] = {"P": "P", "LT": "LT", "": "metric"}
# ZR is an older speed marking on a radial tire; a hyphen stood for diagonal.
_CONSTRUCTIONS: dict[str, Construction] = {"R": "R", "ZR": "R", "B": "B", "D": "D", "-": "D"}

_DESIGNATION = re.compile(
    r"""\s* (?P<service> P | LT )? \s*
    (?P<section> [0-9]+ ) \s* / \s* (?P<aspect> [0-9]+ ) \s*
    (?P<construction> ZR | R | B | D | - ) \s* (?P<rim> [0-9]+ (?: \.[0-9]+ )? )
    (?: \s* /? \s* (?P<load_range> [B-H] ) )?
    (?: \s* (?P<open> \( )? \s* (?<! [0-9.] ) (?P<load> [0-9]+ ) (?: \s* / \s* (?P<dual> [0-9]+ ) )? \s*
        (?P<speed> [A-Z] [1-8]? ) \s* (?P<close> \) )? )?
    (?: \s* (?: (?P<extra> XL | EXTRA \s+ LOAD | REINFORCED ) | SL | (?P<late_load_range> [B-H] ) ) )?
    \s*""",
    re.VERBOSE | re.IGNORECASE | re.ASCII,
)


@dataclass(frozen=True)
class TireSize:
    """A size designation, read. Absent parts are None.

    aspect is the section height as a part of the section width (0.65 for "65"); construction is the letter
    on the sidewall: R radial, B bias belted, D diagonal. load_kg is that of a single fitment. A speed
    symbol in brackets stands for more than its table speed, which is then the least that it vouches for.
    """

    service: Service
    section_mm: int
    aspect: float
    construction: Construction
    rim_in: float
    load_index: int | None
    load_kg: int | None
    speed_symbol: str | None
    speed_kmh: int | None
    extra_load: bool
    section_height_mm: float
    overall_diameter_mm: float
    rolling_circumference_mm: float | None
    revs_per_km: float | None


def parse_designation(text: str) -> TireSize:
    """Read a designation such as "P205/65R15 92H"; capitals and spaces don't matter.

    An LT tire may carry two load indices, single and dual fitment, and a load range letter.
    Raises UnreadableError "designation", which names the part at fault and shows the form that is expected.
    """
    match = _DESIGNATION.fullmatch(text) if len(text) <= LONGEST_DESIGNATION else None
    if match is None:
        raise _fault("This isn't a tire size")
    service: Service = _SERVICES[(match["service"] or "").upper()]
    construction = match["construction"].upper()
    section_mm = int(_within("section width", match["section"], SECTION_MM, "mm"))
    aspect_percent = int(_within("aspect ratio", match["aspect"], ASPECT_PERCENT, "percent"))
    rim_in = _within("rim diameter", match["rim"], RIM_IN, "inches")
    if rim_in % 0.5:
        raise _fault(f"The rim diameter is {match['rim']} inches; it must be whole or half inches")
    if service != "LT" and (match["load_range"] or match["late_load_range"]):
        raise _fault(
            "The size has a load range letter, which only an LT tire has; a speed symbol follows a load index"
        )
    load_index = None
    speed_symbol = None
    if match["load"]:
        load_index = _read_load(match, service)
        speed_symbol = _read_speed(match, zr=construction == "ZR")

    section_height_mm = section_mm * aspect_percent / 100
    overall_diameter_mm = float(overall_diameter(rim_in, section_height_mm))
    radial = construction in ("R", "ZR")
    rolling_mm = float(rolling_circumference(overall_diameter_mm)) if radial else None
    return TireSize(
        service=service,
        section_mm=section_mm,
        aspect=aspect_percent / 100,
        construction=_CONSTRUCTIONS[construction],
        rim_in=rim_in,
        load_index=load_index,
        load_kg=None if load_index is None else LOAD_INDEX_KG[load_index],
        speed_symbol=speed_symbol,
        speed_kmh=None if speed_symbol is None else SPEED_SYMBOL_KMH[speed_symbol],
        extra_load=match["extra"] is not None,
        section_height_mm=section_height_mm,
        overall_diameter_mm=overall_diameter_mm,
        rolling_circumference_mm=rolling_mm,
        revs_per_km=None if rolling_mm is None else MM_PER_KM / rolling_mm,
    )


def overall_diameter(rim_in: npt.ArrayLike, section_height_mm: npt.ArrayLike) -> FloatArray:
    """From tread to tread [mm]: the rim and two section heights. Shapes broadcast."""
    diameter_mm: FloatArray = np.multiply(rim_in, INCH_MM) + np.multiply(section_height_mm, 2)
    return diameter_mm


def rolling_circumference(overall_diameter_mm: npt.ArrayLike) -> FloatArray:
    """How far a radial tire rolls in one turn [mm]. Any shape, same shape out."""
    rolling_mm: FloatArray = np.multiply(overall_diameter_mm, ROLLING_PER_DIAMETER)
    return rolling_mm


def _read_load(match: re.Match[str], service: Service) -> int:
    """The load index of a single fitment, its partner for dual fitment checked."""
    single, dual = int(match["load"]), int(match["dual"] or match["load"])
    for index in (single, dual):
        if index not in LOAD_INDEX_KG:
            raise _fault(
                f"The load index is {index}; it must be from {min(LOAD_INDEX_KG)} to {max(LOAD_INDEX_KG)}"
            )
    if match["dual"] and service != "LT":
        raise _fault("The size has two load indices, which only an LT tire has")
    if dual > single:
        raise _fault(
            f"The load indices are {single}/{dual}; the second, for dual fitment, can't be the greater"
        )
    return single


def _read_speed(match: re.Match[str], *, zr: bool) -> str:
    symbol = match["speed"].upper()
    if symbol not in SPEED_SYMBOL_KMH:
        raise _fault(f"The speed symbol {symbol} is not in the table")
    if zr and SPEED_SYMBOL_KMH[symbol] <= ZR_ABOVE_KMH:
        raise _fault(f"The size has ZR, for more than {ZR_ABOVE_KMH} km/h, but the speed symbol {symbol}")
    brackets = (match["open"] is not None, match["close"] is not None)
    if any(brackets) and not (all(brackets) and symbol == "Y"):
        raise _fault("The size has brackets that don't stand around a service description with Y, like (92Y)")
    return symbol


def _within(part: str, text: str, limits: tuple[int, int], unit: str) -> float:
    value = float(text)
    if not limits[0] <= value <= limits[1]:
        raise _fault(f"The {part} is {text} {unit}; it must be from {limits[0]} to {limits[1]} {unit}")
    return value


def _fault(what: str) -> UnreadableError:
    return UnreadableError("designation", f"{what}. Write it like {FORM}.")
