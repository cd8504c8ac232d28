"""Seeded numbers that are the same on every machine and in every later release.

Each drawn number has a place in the scenario (`assemblies.A.tire.tin.week`). Its value depends on the seed,
the place and the try alone, so adding one range to a scenario changes no other number. The generator is the
SplitMix64 finaliser on 64-bit integers (Steele, Lea and Flood, "Fast splittable pseudorandom number
generators", 2014), which numpy computes exactly for any number of seeds at once; numpy's own generators
promise no such stability.
"""

import hashlib

import numpy as np
from numpy.typing import NDArray

from app.domain.sheets import Between, OneOf, OneOfTexts, texts_of

DRAWING_VERSION = 1
"""Rises when the same seed would give other numbers; attempts keep the version they were drawn with."""

_GOLDEN = np.uint64(0x9E3779B97F4A7C15)
_FIRST = np.uint64(0xBF58476D1CE4E5B9)
_SECOND = np.uint64(0x94D049BB133111EB)

Seeds = NDArray[np.uint64]
Numbers = NDArray[np.float64]
Texts = NDArray[np.str_]


def mixed(word: Seeds) -> Seeds:
    """The finaliser of SplitMix64: 64-bit words (...), well stirred."""
    with np.errstate(over="ignore"):
        word = (word ^ (word >> np.uint64(30))) * _FIRST
        word = (word ^ (word >> np.uint64(27))) * _SECOND
        return word ^ (word >> np.uint64(31))


def seed_of(*parts: str) -> int:
    """A 64-bit seed from texts, such as the scenario version's digest, the assignment and the student."""
    digest = hashlib.sha256("\x1f".join(parts).encode()).digest()
    return int.from_bytes(digest[:8], "big")


class Draw:
    """Draws numbers for seeds of any shape `(...)` at their tries.

    A try counts how often the variant of a seed was refused before.
    """

    def __init__(self, seeds: Seeds, tries: Seeds) -> None:
        with np.errstate(over="ignore"):
            self._state = mixed(mixed(seeds + _GOLDEN) + tries * _GOLDEN)
        self.shape = self._state.shape

    def uniform(self, place: str) -> Numbers:
        """shape (...), 0 <= u < 1, from the top 53 bits."""
        with np.errstate(over="ignore"):
            word = mixed(self._state + np.uint64(seed_of(place)))
        return (word >> np.uint64(11)).astype(np.float64) * 2.0**-53

    def number(self, place: str, drawn: float | Between | OneOf) -> Numbers:
        """shape (...): the value of one authored number."""
        if isinstance(drawn, OneOf):
            values = np.asarray(drawn.one_of, dtype=np.float64)
            return values[(self.uniform(place) * len(values)).astype(np.int64)]
        if isinstance(drawn, Between):
            span = drawn.high - drawn.low
            if drawn.step is None:
                return drawn.low + span * self.uniform(place)
            steps = int(np.floor(span / drawn.step + 1e-9)) + 1
            return drawn.low + drawn.step * np.floor(self.uniform(place) * steps)
        return np.full(self.shape, float(drawn))

    def text(self, place: str, drawn: str | OneOfTexts) -> Texts:
        """shape (...): the value of one authored line."""
        texts = np.asarray(texts_of(drawn))
        if len(texts) == 1:
            return np.full(self.shape, texts[0])
        return texts[(self.uniform(place) * len(texts)).astype(np.int64)]
