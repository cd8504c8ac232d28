"""Which clip of a clip-on weight fits a rim flange."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from app.compute.errors import require_positive


class Clip(NamedTuple):
    """A clip and the flange lip thickness that it fits, both ends included [mm]."""

    name: str
    thinnest_mm: float
    thickest_mm: float


# SAE J1986:2016, Table 1 (read on a second-hand copy).
CLIPS = (Clip("C", 2.0, 2.7), Clip("P", 2.7, 3.3), Clip("T", 3.4, 4.6), Clip("MC", 5.0, 6.0))
NO_CLIP = -1


def clip_index(flange_mm: npt.ArrayLike) -> npt.NDArray[np.int64]:
    """The place in CLIPS of the clip that fits, NO_CLIP where none does. Any shape [mm], same shape out.

    A lip of 2.7 mm stands in two rows of the table; the first, C, is taken. Raises OutOfRangeError,
    NotFiniteError.
    """
    require_positive(flange_mm=flange_mm)
    thickness = np.asarray(flange_mm, dtype=float)
    fits = [(clip.thinnest_mm <= thickness) & (thickness <= clip.thickest_mm) for clip in CLIPS]
    return np.select(fits, [np.int64(place) for place in range(len(CLIPS))], np.int64(NO_CLIP))


def clip_for(flange_mm: float) -> str | None:
    """The name of the clip that fits a lip of this thickness [mm], None where none does.

    None asks for an adhesive weight or the maker's own part. Raises OutOfRangeError, NotFiniteError.
    """
    place = int(clip_index(flange_mm))
    return None if place == NO_CLIP else CLIPS[place].name
