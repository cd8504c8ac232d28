"""What a student sees after an action."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fact:
    """A line of a table: `value` is text with its unit, in the class's units."""

    label: str
    value: str


@dataclass(frozen=True, slots=True)
class Readings:
    """Numbers for a drawing. name: "dial", "force" or "spin".

    dial, force: values at angles_deg once around [mm, N]. spin: for each plane the weight asked for [g] and
    its angle, None where none is asked for.
    """

    name: str
    angles_deg: tuple[float | None, ...]
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Observation:
    """text: what happened or what was seen, in plain sentences.

    refused: nothing was done; the text says why and what to do. cautions: ids of the cautions that apply
    where unsafe work was stopped. minutes: of shop time that the action took.
    """

    text: str
    facts: tuple[Fact, ...] = ()
    readings: Readings | None = None
    cautions: tuple[str, ...] = ()
    refused: bool = False
    minutes: float = 0.0
