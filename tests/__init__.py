"""The tests mirror the program; `published` holds the checks against sources."""

from hypothesis import settings

# machines are shared: an example that was slow once is no failure
settings.register_profile("bench", deadline=None)
settings.load_profile("bench")
