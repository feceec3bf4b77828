"""Ten minutes of a class with all faults at once; `benchmarks/soak.py` does the same for hours."""

import asyncio
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from benchmarks.soak_class import Outcome, Soak, TurnsLoop


@pytest.fixture
def outcome(tmp_path: Path) -> Iterator[Outcome]:
    application = QApplication.instance() or QApplication([])
    soak = Soak(tmp_path, athletes=4, seconds=600.0, draw_every=8)
    with asyncio.Runner(loop_factory=TurnsLoop) as runner:
        yield runner.run(soak.run())
    application.processEvents()


def test_a_class_under_all_faults_loses_nothing_and_mixes_nobody_up(outcome: Outcome) -> None:
    assert outcome.delivered > 7_000
    assert outcome.refused_writes  # the disk was full
    assert outcome.gaps == 2  # the computer slept, and its clock was set
    assert (outcome.lost, outcome.sensors_differ) == (0, 0)
    assert outcome.copy_differs == 0
    assert outcome.strangers == 0
    begun, ended = outcome.held[0], outcome.held[-1]
    assert ended.t_s > begun.t_s
    assert ended.widgets == begun.widgets
    assert ended.files <= begun.files
    assert ended.tasks <= begun.tasks + 2  # one that reads details, one that connects
