"""Settings that must hold before any test module is imported."""

import os

import pytest
from hypothesis import settings

from livemon.view.qt.availability import why_no_window

# Without a screen Qt would abort the whole of pytest, not just the test that asked for it.
os.environ["QT_QPA_PLATFORM"] = "offscreen"

# The same examples on every run; boundaries are pinned by @example beside the tests.
settings.register_profile("repeatable", derandomize=True, deadline=None, print_blob=True)
settings.load_profile("repeatable")


def pytest_configure() -> None:
    """Say in one line which system packages Qt lacks, before it aborts everything."""
    obstacle = why_no_window(os.environ)
    if obstacle is not None:
        pytest.exit(obstacle, returncode=pytest.ExitCode.USAGE_ERROR)
