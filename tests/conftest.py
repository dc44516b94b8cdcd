"""For all tests: no property has a deadline, because a busy computer is not a fault."""

from hypothesis import settings

settings.register_profile("house", deadline=None)
settings.load_profile("house")
