"""The same settings of property tests as in tests/compute, also when this folder is run alone."""

from tests.compute.conftest import settings

settings.load_profile("same everywhere")
