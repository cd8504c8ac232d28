"""What a student works out on paper from a printed table: sines and cosines, nothing of the app's own."""

import math
import re

from playwright.sync_api import Page

from tests.browser import lab_page


def static_unbalance(page: Page) -> tuple[float, float]:
    """Size (in the table's units) and angle (degrees) of the sum of mass times radius."""
    heads, *rows = lab_page.cells(page, "[Hh]eavy spots\\.")
    mass, radius, angle = (
        next(place for place, head in enumerate(heads) if head.startswith(name))
        for name in ("Mass", "From the axle", "Angle")
    )
    along = across = 0.0
    for row in rows:
        size, turn = number(row[mass]) * number(row[radius]), math.radians(number(row[angle]))
        along += size * math.cos(turn)
        across += size * math.sin(turn)
    return math.hypot(along, across), math.degrees(math.atan2(across, along)) % 360


def number(text: str) -> float:
    found = re.search(r"[-−]?\d+(?:\.\d+)?", text)
    assert found, f"no number in “{text}”"
    return float(found[0].replace("−", "-"))


def degrees_apart(one: float, other: float) -> float:
    return abs((one - other + 180) % 360 - 180)
