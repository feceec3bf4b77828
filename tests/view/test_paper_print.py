"""Printing: one page where the text allows it, more where it doesn't, words where it can't be."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from livemon.errors import UsageError
from livemon.view.qt.paper import print_pdf

SQUARE = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">'
    '<rect width="10" height="10" fill="#112233"/></svg>'
)


def test_little_is_one_page_and_much_is_more(application: QApplication, tmp_path: Path) -> None:
    assert print_pdf(tmp_path / "one.pdf", "One", "<p>short</p>", {}) == 1
    assert print_pdf(tmp_path / "more.pdf", "More", "<p>long text</p>" * 200, {}) > 1


def test_type_shrinks_before_a_second_page_is_begun(
    application: QApplication, tmp_path: Path
) -> None:
    """275 mm hold 62 lines of 10.5 pt and 82 of 8 pt, at 1.2 pt of line for each of type."""
    lines = "<p>line</p>" * 66
    assert print_pdf(tmp_path / "full.pdf", "Full", lines, {}) == 1
    assert print_pdf(tmp_path / "over.pdf", "Over", lines * 2, {}) == 2


def test_pictures_take_their_share_of_the_width(application: QApplication, tmp_path: Path) -> None:
    """Four squares as wide as the page are higher than two pages of A4, 1 : 1.41."""
    image = '<p><img src="square" width="1000"></p>'
    assert print_pdf(tmp_path / "one.pdf", "One", image, {"square": SQUARE}) == 1
    assert print_pdf(tmp_path / "four.pdf", "Four", image * 4, {"square": SQUARE}) >= 3


def test_where_nothing_can_be_written_it_says_so(application: QApplication, tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="can't be written"):
        print_pdf(tmp_path / "nowhere" / "a.pdf", "One", "<p>short</p>", {})
