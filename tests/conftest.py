"""Settings that must hold before any test module is imported."""

import os

from hypothesis import settings

# Without a screen Qt would abort the whole of pytest, not just the test that asked for it.
os.environ["QT_QPA_PLATFORM"] = "offscreen"

# The same examples on every run; boundaries are pinned by @example beside the tests.
settings.register_profile("repeatable", derandomize=True, deadline=None, print_blob=True)
settings.load_profile("repeatable")
