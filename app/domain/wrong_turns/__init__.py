"""Known wrong turns, computed for the student's own numbers and never guessed.

Each rule says which quantities it threatens, what a student gets who takes that turn, and what to tell them.
A variant is only accepted when a turn's value lies outside the tolerance of the right one
(`app.domain.well_posed`), except for turns that may hit the right value by their nature: an angle counted
the other way (at 0 and 180 degrees it is the same), an age by the ISO week or by subtracting years (both are
often right), an order turned upside down (once in one turn it is the same), and a weight from stock for the
other plane, for one plane or always rounded one way (two needs may come to one weight).
"""

from collections.abc import Iterator
from typing import Any

from app.domain.arithmetic import references_in
from app.domain.model import Model, placing
from app.domain.references import is_reference, split_reference
from app.domain.wrong_turns import (
    air_and_speed,
    balance,
    directions,
    real_weights,
    runout_and_force,
    sides,
    telling_apart,
    tires,
)
from app.domain.wrong_turns.rule import WrongTurn

# In the order in which they are tried: where two slips give one value, the first explains it.
_RULES = (
    *balance.RULES,
    *real_weights.RULES,
    *runout_and_force.RULES,
    *telling_apart.RULES,
    *directions.RULES,
    *tires.RULES,
    *air_and_speed.RULES,
    *sides.RULES,
)

_MIRRORED = WrongTurn(
    "drive-side-mirrored",
    "This is right for a car whose driver sits on the other side. Look again at where the driver sits.",
)

_WORDS = {turn.id: turn.words for turn in (*(rule.turn for rule in reversed(_RULES)), _MIRRORED)}
"""A slip has one name for all that it threatens; its first words stand for it in a list."""


def words_of(turn_id: str) -> str:
    """What a wrong turn is, for a list of those that a class took; its id for one of an earlier release."""
    return _WORDS.get(turn_id, turn_id)


def wrong_turns(model: Model, key: str) -> Iterator[tuple[WrongTurn, Any]]:
    """Each known wrong turn of a quantity, and the value (...) it gives in the quantity's inside unit.

    Of arithmetic, the turns of each quantity in it, carried on; they may hit the right value by chance.
    """
    if not is_reference(key):
        for reference in references_in(key):
            for turn, wrong in wrong_turns(model, reference):
                behind = WrongTurn(turn.id, f"In a value behind this one: {turn.words}", always_differs=False)
                yield behind, model.with_given({reference: wrong}).value(key)
        return
    letter, name = split_reference(key)
    view, name = (model, key) if letter is None else (model.assembly(letter), name)
    for rule in _RULES:
        if rule.threatens.fullmatch(name):
            yield rule.turn, rule.value(view, name)


def mirrored_costs(model: Model, reference: str) -> tuple[WrongTurn, Any] | None:
    """Costs (..., 24) of a comfort placement for a driver on the other side.

    None for other quantities, and where arrows fix the sides: then the driver's side changes nothing.
    """
    if split_reference(reference) != (None, "comfort") or placing.arrows_fix_the_sides(model):
        return None
    felt_n = placing.free_comfort(model, placing.side_without_driver(model))
    return _MIRRORED, placing.only_permitted(model, felt_n)
