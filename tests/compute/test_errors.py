"""What the core refuses by name."""

import numpy as np
import pytest

from app.compute import errors


def test_an_error_names_its_field_and_says_what_is_allowed():
    fault = errors.OutOfRangeError("mass_g", "Give a number above 0.")
    assert isinstance(fault, errors.ComputeError)
    assert (fault.field, fault.message, str(fault)) == (
        "mass_g",
        "Give a number above 0.",
        "mass_g: Give a number above 0.",
    )


@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf, [1.0, np.nan], complex(0, np.inf)])
def test_a_number_that_is_not_finite_is_refused(value):
    with pytest.raises(errors.NotFiniteError) as caught:
        errors.require_finite(fine=1.0, mass_g=value)
    assert caught.value.field == "mass_g"


def test_zero_is_not_negative_and_not_positive():
    errors.require_not_negative(mass_g=[0.0, 1.0])
    errors.require_positive(mass_g=[0.5, 1.0])
    with pytest.raises(errors.OutOfRangeError):
        errors.require_positive(mass_g=[0.0, 1.0])
    with pytest.raises(errors.OutOfRangeError):
        errors.require_not_negative(mass_g=[-1e-9, 1.0])
