"""What the computation core refuses, by name, and the checks that refuse it.

ComputeError
├── NotFiniteError    a number that is not finite
├── OutOfRangeError   a number outside what is allowed
├── WrongCountError   too few or too many of something
├── UnreadableError   a text that can't be read: a unit, a tire size, a date code
└── UnsolvableError   good numbers that have no answer together
"""

import numpy as np
import numpy.typing as npt


class ComputeError(ValueError):
    """An input that has no answer.

    `field` is the argument's name as the function spells it; `message` says what is allowed and reads well on
    its own.
    """

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message


class NotFiniteError(ComputeError):
    """A number is infinite or not a number."""


class OutOfRangeError(ComputeError):
    """A number lies outside what is allowed."""


class WrongCountError(ComputeError):
    """There are too few or too many entries."""


class UnreadableError(ComputeError):
    """A text can't be read."""


class UnsolvableError(ComputeError):
    """Each input is good by itself, but together they have no answer."""


def require_finite(**fields: npt.ArrayLike) -> None:
    """Refuse any named argument (real or complex, any shape) that is not finite throughout.

    Raises NotFiniteError.
    """
    for field, value in fields.items():
        if not np.isfinite(value).all():
            raise NotFiniteError(field, "Give a finite number.")


def require_positive(**fields: npt.ArrayLike) -> None:
    """Refuse any named argument that is not finite and above 0 throughout.

    Raises NotFiniteError and OutOfRangeError.
    """
    require_finite(**fields)
    for field, value in fields.items():
        if not np.greater(value, 0).all():
            raise OutOfRangeError(field, "Give a number above 0.")


def require_not_negative(**fields: npt.ArrayLike) -> None:
    """Refuse any named argument that is not finite and at least 0 throughout.

    Raises NotFiniteError and OutOfRangeError.
    """
    require_finite(**fields)
    for field, value in fields.items():
        if not np.greater_equal(value, 0).all():
            raise OutOfRangeError(field, "Give a number that is not negative.")
