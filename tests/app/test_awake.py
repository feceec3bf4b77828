"""The screen is kept on while a session is live, or it is said that it isn't."""

import subprocess
import sys

import pytest

from livemon.app.awake import EXTRA, Awake

WITHOUT = """
import sys
sys.modules["wakepy"] = None
from livemon.app.awake import Awake
print(Awake().keep(True))
"""


def test_without_the_extra_it_says_what_to_install() -> None:
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT], capture_output=True, text=True, check=True
    )

    assert EXTRA in done.stdout


def test_a_wish_is_tried_once_and_can_be_taken_back(monkeypatch: pytest.MonkeyPatch) -> None:
    """Wakepy's own switch lets it succeed, or fail, on a machine without a desktop."""
    pytest.importorskip("wakepy")
    monkeypatch.setenv("WAKEPY_FAKE_SUCCESS", "1")
    awake = Awake()
    assert awake.keep(True) == ""
    monkeypatch.setenv("WAKEPY_FORCE_FAILURE", "1")
    monkeypatch.delenv("WAKEPY_FAKE_SUCCESS")
    assert awake.keep(True) == "", "still the same"

    assert awake.keep(False) == ""
    assert "would not let livemon" in awake.keep(True)
    awake.let_go()
    assert awake.trouble == ""
