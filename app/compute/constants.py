"""Named constants: value, unit, source."""

import math

# NIST Special Publication 811 (2008), Appendix B: exact by definition.
INCH_MM = 25.4
FOOT_M = 0.3048
MILE_KM = 1.609344
POUND_G = 453.59237
OUNCE_G = POUND_G / 16
STANDARD_GRAVITY_M_PER_S2 = 9.80665
# The same, Appendix B: exact products of the above.
KILOGRAM_FORCE_N = STANDARD_GRAVITY_M_PER_S2
POUND_FORCE_N = POUND_G / 1000 * STANDARD_GRAVITY_M_PER_S2
PSI_KPA = POUND_FORCE_N / (INCH_MM / 1000) ** 2 / 1000
STANDARD_ATMOSPHERE_KPA = 101.325
CELSIUS_ZERO_K = 273.15

# Numbers nearer to each other than this share of the largest are equal: the last binary digits of a sum, such
# as 0.1 + 0.2, must neither order two costs nor put a value above the limit that it meets on paper.
EQUAL_WITHIN = 1e-9

MM_PER_KM = 1e6
SECONDS_PER_MINUTE = 60.0
SECONDS_PER_HOUR = 3600.0
RADIANS_PER_TURN = 2 * math.pi
