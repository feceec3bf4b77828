"""The same structure on screens of any scale; Qt takes the factor only at its start."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

CHECK = """
import sys
sys.path.insert(0, sys.argv[1])
import scenes
from PySide6.QtWidgets import QApplication
from seen_text import misplaced, written

application = QApplication([])
from livemon.view.class_view import ClassView
from livemon.view.present import present
from livemon.view.qt.lanes import LanesPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.qt.pace import PacePage
from livemon.view.settings import ViewSettings
from livemon.view.theme import LIGHT

look = Look(LIGHT, Lettering(), True)
pace, lanes = PacePage(look), LanesPage(look)
assert pace.devicePixelRatioF() == float(sys.argv[2]), pace.devicePixelRatioF()
for name in ("warned", "long names", "ten sites", "no contact"):
    pace.resize(1366, 768)
    pace.show_model(present(scenes.SCENES[name](), ViewSettings()), lit=True)
    pace.grab()
    assert written(pace)
    print(*misplaced(pace), sep="\\n", end="")
for count in (8, 24):
    lanes.resize(1366, 768)
    lanes.show_model(ClassView(ViewSettings()).model(scenes.class_of(count), ()), "a3", 0.0)
    lanes.grab()
    assert written(lanes)
    print(*misplaced(lanes), sep="\\n", end="")
"""


@pytest.mark.parametrize("factor", ["1.25", "1.5", "2.0"])
def test_nothing_is_clipped_or_overlaps(factor: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", CHECK, str(Path(__file__).parent), factor],
        env={**os.environ, "QT_SCALE_FACTOR": factor, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode == 0, done.stderr
    assert done.stdout == ""
