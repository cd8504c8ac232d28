"""The dangers of wheel service in words. Common practice of the trade, no source.

A lab on a screen hurts nobody, but what it teaches is done on a real car later.
"""

from dataclasses import dataclass

from app.domain.scenario import Caution


@dataclass(frozen=True)
class CautionWords:
    title: str
    text: str


ALWAYS = (
    "Numbers in this lab are for practice. On a real car the data of its maker, the markings on the tire "
    "and the wheel, and the local codes and laws decide; work that needs a license is done or supervised "
    "by somebody who holds one. When in doubt, stop and ask your instructor."
)
"""Stands below the cautions of every lab."""

CAUTION_WORDS: dict[Caution, CautionWords] = {
    Caution.LIFTING: CautionWords(
        "Lifting",
        "Lift only at the points that the vehicle’s maker gives, and set stands or locks before a wheel "
        "comes off. A heavy assembly takes two people or a wheel lift.",
    ),
    Caution.BEAD_SEATING: CautionWords(
        "Seating beads",
        "Use a clip-on chuck and a long hose, stand clear of the sidewall, and never go above the seating"
        " pressure that the tire’s maker allows. If a bead doesn’t seat, let all the air out before you "
        "look again.",
    ),
    Caution.SPINNING: CautionWords(
        "Spinning wheel",
        "Hood down, safety glasses on, and sleeves, hair and fingers away until the wheel stands still.",
    ),
    Caution.TORQUE: CautionWords(
        "Wheel torque",
        "Start every nut by hand, snug them crosswise, then use a torque wrench set to the value of the "
        "vehicle’s maker. Check again after the first drive, as the maker asks.",
    ),
    Caution.DAMAGED_TIRE: CautionWords(
        "Damaged tire",
        "Never inflate a tire that was run flat or shows cords, bulges or deep cuts. Somebody qualified "
        "looks at it first, inside and out.",
    ),
    Caution.PRESSURE: CautionWords(
        "Pressure",
        "Before a bead is broken, the valve core comes out and all the air with it. Set the pressure on the "
        "vehicle’s placard with the tires cold; a warm tire reads high, don’t let air out of it to match.",
    ),
}
