"""Tire pressure: the gas law, and the pressure at which a warning is due."""

import numpy as np
import numpy.typing as npt

from app.compute.angles import FloatArray
from app.compute.constants import CELSIUS_ZERO_K, STANDARD_ATMOSPHERE_KPA
from app.compute.errors import OutOfRangeError, require_finite, require_not_negative, require_positive

# 49 CFR 571.138 S4.2(a): 25 % below the placard, or the minimum of its Table 1 where that is higher. The
# minimum is that of a standard-load passenger tire, 20 psi (from memory).
WARNING_SHARE = 0.75
TABLE_MINIMUM_KPA = 137.9


def pressure_at_temperature(
    set_kpa: npt.ArrayLike,
    set_c: npt.ArrayLike,
    at_c: npt.ArrayLike,
    ambient_kpa: npt.ArrayLike = STANDARD_ATMOSPHERE_KPA,
) -> FloatArray:
    """Gauge pressure at another temperature, the volume and the outside pressure unchanged.

    Any shape, broadcast. set_kpa: gauge [kPa] at set_c [°C]. Returns gauge [kPa] at at_c [°C]. Gas law on
    absolute pressure and temperature. Raises OutOfRangeError for a negative pressure or a temperature not
    above absolute zero, NotFiniteError.
    """
    require_not_negative(set_kpa=set_kpa)
    require_positive(ambient_kpa=ambient_kpa)
    ratio = _kelvin(at_c, "at_c") / _kelvin(set_c, "set_c")
    gauge_kpa: FloatArray = np.subtract(np.add(set_kpa, ambient_kpa) * ratio, ambient_kpa)
    return gauge_kpa


def pressure_warning(
    placard_kpa: npt.ArrayLike, table_minimum_kpa: npt.ArrayLike = TABLE_MINIMUM_KPA
) -> FloatArray:
    """The gauge pressure [kPa] at or below which a warning is due. Any shape, broadcast.

    Raises OutOfRangeError, NotFiniteError. Source: 49 CFR 571.138 S4.2(a).
    """
    require_positive(placard_kpa=placard_kpa, table_minimum_kpa=table_minimum_kpa)
    warning_kpa: FloatArray = np.maximum(np.multiply(placard_kpa, WARNING_SHARE), table_minimum_kpa)
    return warning_kpa


def _kelvin(celsius: npt.ArrayLike, field: str) -> FloatArray:
    require_finite(**{field: celsius})
    kelvin: FloatArray = np.add(celsius, CELSIUS_ZERO_K)
    if np.any(kelvin <= 0):
        raise OutOfRangeError(field, f"Give a temperature above {-CELSIUS_ZERO_K} °C.")
    return kelvin
