"""Property tests try the same examples on every run and machine, and a slow machine fails none of them."""

from hypothesis import settings

settings.register_profile("same everywhere", derandomize=True, database=None, deadline=None)
settings.load_profile("same everywhere")
