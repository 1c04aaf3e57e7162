"""Settings of all tests: random data is drawn the same way each time."""

from hypothesis import settings

settings.register_profile("the same each time", derandomize=True, deadline=None)
settings.load_profile("the same each time")
