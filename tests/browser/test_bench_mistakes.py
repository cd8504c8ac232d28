"""Mistakes at the bench, made with its forms in a real browser: what the screen then says.

That each is a mistake is common practice of the trade, no source; what each does to the numbers is checked in
tests/domain/bench/test_mistakes.py.
"""

import re
from dataclasses import dataclass
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.bench_hands import Mouse
from tests.browser.school import Classroom
from tests.browser.watch import Windows

pytestmark = [pytest.mark.browser, pytest.mark.slow]

Body = dict[str, Any]
STAR, ROUND = [1, 3, 5, 2, 4], [1, 2, 3, 4, 5]


def do(name: str, **fields: Any) -> Body:
    return {"do": name, **fields}


@dataclass(frozen=True)
class Mistake:
    """what: is wrong. actions: the last of them is the mistake. seen: what the screen then says.

    caution: the title of the one that stops the work; stopped: whether nothing was done.
    """

    what: str
    actions: tuple[Body, ...]
    seen: str
    caution: str = ""
    stopped: bool = False


TO_THE_STAND = do("bring", assembly="C", to="stand")
DIMENSIONS = do("enter", distance_mm=115, width_in=6.5, diameter_in=16)
FIT = {"plane": "inboard", "angle_deg": 90, "mass_g": 0.0}

MISTAKES = (
    Mistake(
        "beads broken with the valve core in",
        (TO_THE_STAND, do("break-beads", shoe_deg=180)),
        "the valve core is in and the tire may hold air",
        caution="Pressure",
        stopped=True,
    ),
    Mistake(
        "more air than a bead may be seated with",
        (do("inflate", kpa=400),),
        "never more than 39.9 psi to seat a bead",
        caution="Seating beads",
        stopped=True,
    ),
    Mistake(
        "tire turned while its beads hold it",
        (do("turn-tire", turn_deg=60),),
        "The beads hold the tire. Break them first",
        stopped=True,
    ),
    Mistake(
        "shoe of the bead breaker at the valve with its sensor",
        (do("core-out"), do("break-beads", shoe_deg=10)),
        "Something cracked: the pressure sensor sits behind the valve",
    ),
    Mistake(
        "tire taken off without a chalk line, its weights still on",
        (do("demount"),),
        "nobody knows any more how it stood. The weights that were still on were dragged along",
    ),
    Mistake("tire mounted dry", (do("mount", turned_over=False),), "It went on hard: there was no lubricant"),
    Mistake("dry bead inflated", (do("inflate", kpa=200),), "the beads stick on the dry rim"),
    Mistake(
        "hands in a tire that holds air off its seats",
        (do("core-in"), do("inflate", kpa=200), do("lubricate")),
        "a bead isn’t seated and there is air in the tire",
        caution="Seating beads",
        stopped=True,
    ),
    Mistake(
        "second assembly to a stand that is taken",
        (do("bring", assembly="A", to="stand"),),
        "Assembly C stands on the mounting stand",
        stopped=True,
    ),
    Mistake(
        "spun with the hood up",
        (do("bring", assembly="A", to="balancer"), do("spin", hood_down=False)),
        "the hood is up",
        caution="Spinning wheel",
        stopped=True,
    ),
    Mistake(
        "spun without a clamp",
        (do("spin", hood_down=True),),
        "nothing holds the wheel on the shaft",
        caution="Spinning wheel",
        stopped=True,
    ),
    Mistake(
        "cone too small",
        (do("cone", cone="small"), do("clamp", grip="firm")),
        "The cone goes right through the bore",
    ),
    Mistake(
        "face cleaned while the nut is on",
        (do("clean", what="face"),),
        "Take the nut off first",
        stopped=True,
    ),
    Mistake("spun without dimensions", (do("spin", hood_down=True),), "Type them in first", stopped=True),
    Mistake(
        "cone too large",
        (do("clamp", grip="off"), do("cone", cone="large"), do("clamp", grip="firm")),
        "The cone does not go into the bore",
    ),
    Mistake(
        "nut on by hand only",
        (DIMENSIONS, do("clamp", grip="light"), do("spin", hood_down=True)),
        "inboard 0.00 oz; outboard 0.00 oz",
    ),
    Mistake(
        "clip that doesn’t fit the flange",
        (
            do("clamp", grip="firm"),
            do("fit-weight", kind="clip", clip="MC", **FIT),
            do("spin", hood_down=True),
        ),
        "A weight flew off against the hood",
    ),
    Mistake(
        "strip on a dusty rim",
        (do("fit-weight", kind="adhesive", clip=None, **FIT), do("spin", hood_down=True)),
        "A weight flew off against the hood",
    ),
    Mistake(
        "tire with a bead off its seat on the load roller",
        (do("bring", assembly="C", to="roller"), do("roll")),
        "doesn’t stand on its seat and the tire wobbles",
        stopped=True,
    ),
    Mistake(
        "indicator at a bead seat under the tire",
        (do("bring", assembly="A", to="gauge"), do("place-gauge", place="inboard seat")),
        "The tire covers the bead seats",
        stopped=True,
    ),
    Mistake(
        "number where the customer sees it",
        (do("write-number", assembly="A", number=1, side="outboard"),),
        "The customer will see it there",
    ),
    Mistake(
        "car lifted at its sill",
        (do("raise-car", at="sill"),),
        "a sill bends and the car slips",
        caution="Lifting",
        stopped=True,
    ),
    Mistake(
        "wheel put on a car that stands on the floor",
        (do("place", assembly="A", corner="LF"),),
        "Raise it at its lift points first",
        stopped=True,
    ),
    Mistake(
        "car lowered onto a hub",
        (do("raise-car", at="lift points"), do("place", assembly="A", corner="LF"), do("lower-car")),
        "The car would come down on its hub",
        caution="Lifting",
        stopped=True,
    ),
    Mistake(
        "lugs tightened in turn",
        (do("tighten", corner="LF", order=ROUND, torque_nm=50),),
        "Going round in turn pulls the wheel on crooked",
    ),
    Mistake(
        "full torque in the air",
        (do("tighten", corner="LF", order=STAR, torque_nm=110),),
        "The wheel hung in the air and turned along",
    ),
    Mistake(
        "past the maker’s torque",
        (do("tighten", corner="LF", order=STAR, torque_nm=130),),
        "That is past the maker’s 81 lbf·ft",
    ),
    Mistake(
        "torque that breaks studs",
        (do("tighten", corner="LF", order=STAR, torque_nm=300),),
        "would break the studs",
        caution="Wheel torque",
        stopped=True,
    ),
)


def test_28_mistakes_have_the_consequence_of_a_shop_on_the_screen(
    classroom: Classroom, windows: Windows
) -> None:
    attempt_id = classroom.start(classroom.assign("bench-four-assemblies"))
    least_g = float(min(classroom.lab(attempt_id).variant.truth.machine.stock_g))
    page = windows.open(classroom.card)
    page.goto(f"/labs/attempts/{attempt_id}/bench")
    mouse, seen = Mouse(page), page.locator("#seen")
    stopped = 0
    for mistake in MISTAKES:
        for body in mistake.actions:
            mouse.do(body | ({"mass_g": least_g} if "mass_g" in body else {}))
        expect(seen, mistake.what).to_contain_text(mistake.seen)
        expect(seen.locator(".stamp", has_text="Not done"), mistake.what).to_have_count(int(mistake.stopped))
        if mistake.caution:
            stopped += 1
            expect(seen, mistake.what).to_contain_text(f"Caution: {mistake.caution}")
        expect(page.locator("[data-bench-said]"), mistake.what).to_contain_text(mistake.seen)
    assert len(MISTAKES) == 28
    expect(page.locator(".bench-clock")).to_contain_text(
        re.compile(rf"Work stopped\s*{stopped}\b", re.IGNORECASE)
    )
