"""A few whole pages look as they did when somebody last looked at them."""

from dataclasses import replace

import golden_pictures as golden
import numpy as np
import pytest
import scenes
from PySide6.QtWidgets import QApplication

from livemon.view.theme import DARK, LIGHT

#: Letters are drawn a little differently by each version of Qt and its font engine.
LEVELS_APART = 2
MOST_CELLS = 0.01


def differing(one: np.ndarray, other: np.ndarray) -> float:
    """Return the share of cells that differ by more than drawing may."""
    return float((np.abs(one - other).max(axis=2) > LEVELS_APART).mean())


def kept(name: str) -> np.ndarray:
    return golden.from_text((golden.FOLDER / f"{name}.txt").read_text("ascii"))


@pytest.fixture(autouse=True)
def font(application: QApplication) -> None:
    if not golden.same_font():
        pytest.skip(f"the pictures are drawn with {golden.FONT}, which this machine has not")


@pytest.mark.parametrize("name", golden.PAGES)
def test_the_page_looks_as_it_did(name: str) -> None:
    """Where this is meant: draw anew with golden_pictures.py and look at what changes."""
    assert differing(golden.picture(golden.PAGES[name]()), kept(name)) <= MOST_CELLS


def test_the_pictures_can_fail() -> None:
    """Another theme, a card too few, another state: each is beyond the limit."""
    right, warned = kept("pace-warned-dark"), scenes.warned()
    assert differing(golden.picture(golden.pace(warned, LIGHT)), right) > 0.9
    first, *_ = warned.state.sites
    alone = replace(warned, state=replace(warned.state, sites=(first,)))
    assert differing(golden.picture(golden.pace(alone, DARK)), right) > 3 * MOST_CELLS
    assert differing(kept("pace-no-contact-dark"), right) > MOST_CELLS
