"""The dangers of wheel service in words. Common practice of the trade, no source."""

from dataclasses import dataclass

from app.domain.scenario import Caution


@dataclass(frozen=True)
class CautionWords:
    title: str
    text: str


CAUTION_WORDS: dict[Caution, CautionWords] = {
    Caution.LIFTING: CautionWords(
        "Lifting",
        "Lift only at the maker’s lifting points and set stands or locks before a wheel comes off. "
        "Two people, or a lift, for a heavy assembly.",
    ),
    Caution.BEAD_SEATING: CautionWords(
        "Seating beads",
        "Use a clip-on chuck and a long hose, stand clear of the sidewall, and never go above the pressure "
        "marked for seating. If the beads don’t seat, let the air out and look again.",
    ),
    Caution.SPINNING: CautionWords(
        "Spinning wheel",
        "Hood down before it turns, safety glasses on, sleeves and fingers away until it stands still.",
    ),
    Caution.TORQUE: CautionWords(
        "Wheel torque",
        "Tighten crosswise by hand, then with a torque wrench to the maker’s value, wheel on the ground. "
        "Check again after a short drive.",
    ),
    Caution.DAMAGED_TIRE: CautionWords(
        "Damaged tire",
        "Never inflate a tire that ran flat or shows cords, bulges or cuts. Have it looked at first.",
    ),
    Caution.PRESSURE: CautionWords(
        "Pressure",
        "Set the placard pressure with the tire cold. A hot tire reads high; don’t bleed it down.",
    ),
}
