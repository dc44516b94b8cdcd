"""For all tests: no property has a deadline, because a busy computer is not a fault.

The cases of a property are the same in every run, so that what was green stays green until somebody changes
it; `RANDOM_CASES=600 pytest ...` looks for new ones, and in the tests that name that number for more of them.
"""

import os

from hypothesis import settings

settings.register_profile("house", deadline=None, derandomize=True)
settings.register_profile("exploring", deadline=None, print_blob=True)
settings.load_profile("exploring" if "RANDOM_CASES" in os.environ else "house")
