"""The Bouts page's widgets: they show what the model says, whole, in both themes, to everybody."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import bouts_scenes as scenes
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QColor, QFontMetrics, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QLabel, QPushButton, QWidget

from livemon.errors import UsageError
from livemon.view.bouts_commands import BoutEntry, BoutsState
from livemon.view.bouts_source import BoutKey
from livemon.view.numbers import DASH
from livemon.view.qt.bouts_run import run_bouts
from livemon.view.qt.bouts_table import BoutsTable
from livemon.view.qt.bouts_window import BoutsWindow
from livemon.view.settings import ThemeChoice, ViewSettings
from livemon.view.theme import DARK, LIGHT

SIZES = [(1366, 768), (1920, 1080)]
THEMES = [ThemeChoice.DARK, ThemeChoice.LIGHT]
FIGURES, BESIDE, SINGLE, LIMITS, PACE, HISTORY = range(6)


class Opened:
    """Opens windows and closes them again."""

    def __init__(self) -> None:
        self.windows: list[BoutsWindow] = []

    def __call__(
        self,
        name: str,
        size: tuple[int, int] = SIZES[0],
        theme: ThemeChoice = ThemeChoice.DARK,
        tab: int = FIGURES,
    ) -> tuple[BoutsWindow, scenes.Desk]:
        desk = scenes.Desk(*scenes.SCENES[name]())
        window = BoutsWindow(desk, ViewSettings(theme=theme))
        self.windows.append(window)
        window.resize(*size)
        window.show()
        window.refresh()
        window.page.tabs.setCurrentIndex(tab)
        QApplication.processEvents()
        QApplication.processEvents()
        return window, desk


@pytest.fixture
def opened(application: QApplication) -> Iterator[Opened]:
    made = Opened()
    yield made
    for window in made.windows:
        window.close()
        window.deleteLater()
    application.processEvents()
    application.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # else they pile up


def in_window(part: QWidget) -> QRect:
    return QRect(part.mapTo(part.window(), QPoint(0, 0)), part.size())


def clipped(window: BoutsWindow) -> list[str]:
    """Return the words of labels and buttons that have too little room, or stand outside."""
    found = []
    for part in window.findChildren(QWidget):
        if not part.isVisible() or not isinstance(part, QLabel | QPushButton | QCheckBox):
            continue
        if not window.rect().contains(in_window(part)):
            found.append(f"{part.text()!r} stands outside the window")
        if isinstance(part, QLabel) and part.wordWrap():
            needed = part.heightForWidth(part.width())
            if needed > part.height():
                found.append(f"{part.text()!r} needs {needed} px of height")
        elif QFontMetrics(part.font()).horizontalAdvance(part.text()) > part.width():
            found.append(f"{part.text()!r} is too wide")
    return found


def strips_cut(window: BoutsWindow) -> list[str]:
    page = window.page
    strips = [*page.overlay.strips, *page.single._names]
    return [w.text for strip in strips for w in strip.written if w.shown != w.text]


def cells(table: BoutsTable) -> list[list[str]]:
    return [
        [item.text() if (item := table.item(r, c)) else "" for c in range(table.columnCount())]
        for r in range(table.rowCount())
    ]


@pytest.mark.parametrize(
    ("name", "size", "theme"),
    [
        ("three", SIZES[0], ThemeChoice.DARK),
        ("three", SIZES[1], ThemeChoice.LIGHT),
        ("one", SIZES[0], ThemeChoice.LIGHT),
        ("no bouts", SIZES[0], ThemeChoice.DARK),
        ("all gaps", SIZES[1], ThemeChoice.DARK),
    ],
)
def test_nothing_is_clipped(
    opened: Opened, name: str, size: tuple[int, int], theme: ThemeChoice
) -> None:
    window, _ = opened(name, size, theme)

    for tab in range(window.page.tabs.count()):
        window.page.tabs.setCurrentIndex(tab)
        QApplication.processEvents()
        window.grab()
        assert clipped(window) == []
        assert strips_cut(window) == []


@pytest.mark.parametrize("name", scenes.SCENES)
def test_every_scene_can_be_seen_and_walked_through(opened: Opened, name: str) -> None:
    """Bad input gives words, never a traceback."""
    window, _ = opened(name)

    for tab in range(window.page.tabs.count()):
        window.page.tabs.setCurrentIndex(tab)
        window.page.relative.toggle()
        QApplication.processEvents()
        window.grab()
    QTest.keyClick(window.page.overlay, Qt.Key.Key_Right)
    assert window.page.read_out_time.text()


def test_without_bouts_there_are_words_and_no_empty_plots(opened: Opened) -> None:
    window, _ = opened("no bouts")

    assert window.page.nothing.text().startswith("No bouts were marked")
    assert not window.page.overlay.isVisible()
    assert not window.page.correct.isEnabled()


def test_panels_share_the_room_they_have(opened: Opened) -> None:
    window, _ = opened("one")

    view = window.page.overlay.canvas.view
    heights = [p.item.vb.sceneBoundingRect().height() for p in window.page.overlay.panels[:3]]
    assert sum(heights) > view.height() * 0.6
    assert min(heights) > 50


def test_the_table_shows_the_model_and_tells_reasons_to_eye_and_ear(opened: Opened) -> None:
    window, _ = opened("no baseline")
    table, model = window.page.figures, window.page.model.figures

    shown = cells(table)
    assert [row[0] for row in shown] == [row.name for row in model.rows]
    dashes = [i for i, row in enumerate(model.rows) if row.cells and row.cells[0].text == DASH]
    assert dashes
    for row in dashes:
        item = table.item(row, 1)
        assert item is not None
        reason = model.rows[row].cells[0].tip
        assert item.toolTip() == reason
        heard = item.data(Qt.ItemDataRole.AccessibleTextRole)
        assert heard == f"{model.rows[row].name}, 1 ride: {DASH}: {reason}"


def test_differences_stand_in_the_table(opened: Opened) -> None:
    window, _ = opened("one", tab=BESIDE)
    model = window.page.model.differences

    assert [row[4] for row in cells(window.page.beside)] == [row.verdict for row in model.rows]
    assert window.page.beside_note.text() == model.note


def test_unpicking_with_the_space_bar_takes_a_bout_out_of_the_picture(opened: Opened) -> None:
    window, _ = opened("one")
    page = window.page
    page.bouts.setCurrentRow(1)

    QTest.keyClick(page.bouts, Qt.Key.Key_Space)

    assert [k.number for k in page.model.picks.bouts] == [1, 3, 4]
    assert page.figures.columnCount() == 4
    assert [c.place for c in page.model.overlay.panes[0].curves] == [0, 2, 3]
    visible = [line.isVisible() for line, _ in page.overlay.panels[0]._lines]
    assert visible == [True, True, True, False]


def test_unpicking_a_site_takes_its_pane_away(opened: Opened) -> None:
    window, _ = opened("one")
    page = window.page
    page.sites.setCurrentRow(1)

    QTest.keyClick(page.sites, Qt.Key.Key_Space)

    assert [p.title for p in page.model.overlay.panes] == [
        "Left thigh, SmO₂ %", "Heart rate, bpm"
    ]  # fmt: skip


def test_what_nobody_picked_is_picked_anew_when_more_is_read(opened: Opened) -> None:
    """A first bout is shown while the rest is read; then all are to be seen."""
    window, desk = opened("no recording")
    desk.state = BoutsState((scenes.session(scenes.record(scenes.POWERS_W[:1])),), "Reading", 0, 1)
    window.refresh()
    assert [k.number for k in window.page.model.picks.bouts] == [1]
    desk.state = BoutsState(scenes.one(), "", 1, 1)
    window.refresh()

    assert [k.number for k in window.page.model.picks.bouts] == [1, 2, 3, 4]


def test_an_athlete_can_be_chosen_where_there_are_several(opened: Opened) -> None:
    window, desk = opened("one")
    assert window.athlete.isHidden()
    desk.state = BoutsState(scenes.one(), "", 1, 1, athletes=("Lane 2", "Lane 3"), athlete="Lane 3")
    window.refresh()

    assert window.athlete.isVisible()
    assert window.athlete.currentText() == "Lane 3"
    QApplication.processEvents()
    assert in_window(window.athlete).right() < in_window(window.page.whole).left()
    assert window.athlete.width() > 100
    window.athlete.textActivated.emit("Lane 2")
    assert desk.chosen == ["Lane 2"]


def test_another_athletes_bouts_are_not_picked_by_number(opened: Opened) -> None:
    window, desk = opened("one")
    window.page.bouts.setCurrentRow(0)
    QTest.keyClick(window.page.bouts, Qt.Key.Key_Space)
    other = scenes.session(replace(scenes.record(), athlete="Lane 2"))
    desk.state = BoutsState((other,), "", 1, 1)
    window.refresh()

    assert [k.number for k in window.page.model.picks.bouts] == [1, 2, 3, 4]


def test_picks_survive_new_results(opened: Opened) -> None:
    window, desk = opened("one")
    window.page.bouts.setCurrentRow(0)
    QTest.keyClick(window.page.bouts, Qt.Key.Key_Space)
    desk.state = BoutsState(scenes.one(), "", 1, 1)

    window.refresh()

    assert [k.number for k in window.page.model.picks.bouts] == [2, 3, 4]


def test_arrows_move_the_cross_hair_and_the_values_follow(opened: Opened) -> None:
    window, _ = opened("one")
    page = window.page

    for _ in range(3):  # 0, then 5 s a press
        QTest.keyClick(page.overlay, Qt.Key.Key_Right)

    assert page.read_out_time.text() == "0:10 after the start"
    assert page.read_out.rowCount() == 4
    assert float(cells(page.read_out)[0][1]) == pytest.approx(57.8, abs=2)  # 50 + 18 e^(-10/12)
    assert page.overlay.accessibleDescription().startswith("0:10 after the start. 1 ride, ")


def test_the_pointer_reads_the_curves(opened: Opened) -> None:
    window, _ = opened("one")
    page = window.page
    box = page.overlay.panels[0].item.vb.sceneBoundingRect()

    page.overlay.canvas.view.scene().sigMouseMoved.emit(box.center())

    assert page.read_out_time.text() == "3:00 after the start"
    page.overlay.canvas.view.scene().sigMouseMoved.emit(QPointF(0, 0))
    assert page.read_out_time.text() == "Point at the curves to read them"


def test_plus_zooms_shift_and_arrow_pans_and_nought_shows_all(opened: Opened) -> None:
    window, _ = opened("one")
    overlay = window.page.overlay
    whole = overlay.panels[0].shown

    QTest.keyClick(overlay, Qt.Key.Key_Plus)
    nearer = overlay.panels[0].shown
    assert [panel.shown for panel in overlay.panels[1:3]] == [nearer, nearer]
    QTest.keyClick(overlay, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    moved = overlay.panels[0].shown
    assert [panel.shown for panel in overlay.panels[1:3]] == [moved, moved]
    QTest.keyClick(overlay, Qt.Key.Key_0)

    assert nearer[1] - nearer[0] == pytest.approx((whole[1] - whole[0]) / 1.4)
    assert moved[0] > nearer[0]
    assert overlay.panels[0].shown == pytest.approx(whole)
    assert overlay.panels[2].shown == pytest.approx(whole)  # the panes move together


def test_the_zoom_stays_when_another_bout_is_unpicked(opened: Opened) -> None:
    window, _ = opened("one")
    overlay = window.page.overlay
    QTest.keyClick(overlay, Qt.Key.Key_Plus)
    nearer = overlay.panels[0].shown

    QTest.keyClick(window.page.bouts, Qt.Key.Key_Space)

    assert overlay.panels[0].shown == pytest.approx(nearer)


def test_times_are_minutes_and_seconds_without_prefixes(opened: Opened) -> None:
    window, _ = opened("one")

    axis = window.page.overlay.panels[2].item.getAxis("bottom")
    labels = [label for level in axis._tickLevels for _, label in level]
    assert "1:00" in labels
    assert not any("k" in label for label in labels)


def test_items_are_made_once(opened: Opened) -> None:
    window, _ = opened("one")
    page = window.page
    before = len(page.overlay.canvas.view.scene().items())

    for _ in range(20):
        page.refresh()

    assert len(page.overlay.canvas.view.scene().items()) == before


@pytest.mark.parametrize(
    ("tab", "theme"),
    [(FIGURES, THEMES[0]), (SINGLE, THEMES[1]), (PACE, THEMES[0]), (HISTORY, THEMES[1])],
)
def test_any_picture_is_saved_as_png_and_svg(
    opened: Opened, tmp_path: Path, tab: int, theme: ThemeChoice
) -> None:
    window, _ = opened("one", theme=theme, tab=tab)
    window.save(tmp_path / "bouts.png")
    window.save(tmp_path / "bouts.svg")

    image = QImage(str(tmp_path / "bouts.png"))
    ground = QColor((DARK if theme is ThemeChoice.DARK else LIGHT).ground)
    colours = {
        image.pixelColor(x, y).name()
        for x in range(0, image.width(), 3)
        for y in range(0, image.height(), 3)
    }
    assert ground.name() in colours
    assert len(colours) > 10
    drawing = (tmp_path / "bouts.svg").read_text(encoding="utf-8")
    assert drawing.count("<path") + drawing.count("<polyline") > 10
    assert "<text" in drawing  # text stays text
    ET.fromstring(drawing)


def test_names_are_no_markup_in_the_picture(opened: Opened, tmp_path: Path) -> None:
    window, _ = opened("long names")
    window.save(tmp_path / "bouts.svg")

    ET.fromstring((tmp_path / "bouts.svg").read_text(encoding="utf-8"))
    assert window.title.textFormat() is Qt.TextFormat.PlainText
    assert "<b>" in window.title.text()


def test_a_picture_that_can_not_be_saved_says_why(opened: Opened, tmp_path: Path) -> None:
    window, _ = opened("one")

    window.save(tmp_path / "bouts.gif")
    assert "ends in .png or .svg" in window.trouble.text()
    window.save(tmp_path / "nowhere" / "bouts.svg")
    assert "can't be written" in window.trouble.text()


def test_the_form_shows_what_is_known_and_sends_only_what_was_changed(opened: Opened) -> None:
    window, desk = opened("one")
    form = window.correction_form(BoutKey("r1", 2))
    assert form is not None
    assert (form.kind.text(), form.load.text(), form.rpe.text()) == ("ride", "235", "5")

    form.rpe.setText("7,5")
    form.save.click()

    assert desk.corrected == [(BoutKey("r1", 2), BoutEntry(load_unit="W", rpe="7,5"))]
    assert form.result() == 1


def test_the_form_stays_open_while_something_can_not_be_used(opened: Opened) -> None:
    window, desk = opened("one")

    def refuse(key: BoutKey, entry: BoutEntry) -> None:
        raise UsageError("RPE (Borg CR10): expected 0 to 10, got 15")

    desk.correct = refuse  # type: ignore[method-assign] # this desk refuses
    form = window.correction_form(BoutKey("r1", 1))
    assert form is not None
    form.rpe.setText("15")
    form.save.click()

    assert "expected 0 to 10" in form.trouble.text()
    assert form.result() == 0


def test_a_bout_that_is_gone_has_no_form(opened: Opened) -> None:
    window, _ = opened("one")

    assert window.correction_form(BoutKey("gone", 1)) is None


def test_progress_is_shown_while_recordings_are_read(opened: Opened) -> None:
    window, desk = opened("no recording")
    desk.state = BoutsState((), "Reading b.jsonl", 3, 12, ("a.jsonl can't be read",), share=0.5)
    window.refresh()

    assert window.doing.text() == "Reading b.jsonl"
    assert (window.progress.value(), window.progress.maximum()) == (350, 1200)
    assert window.progress.isVisible()
    assert window.trouble.text() == "a.jsonl can't be read"

    desk.state = BoutsState(scenes.one(), "", 12, 12)
    window.refresh()
    assert not window.progress.isVisible()
    assert window.title.text() == "Lane 3"


def test_closing_stops_the_reading(opened: Opened) -> None:
    window, desk = opened("one")
    window.close()

    assert desk.stopped


def test_the_pace_view_chooses_among_sites(opened: Opened) -> None:
    window, _ = opened("three", tab=PACE)
    choice = window.page.pace.choice

    assert choice.count() == len(window.page.model.paces) == 3
    choice.setCurrentIndex(2)
    assert "2 Sep 2026" in window.page.pace.text.toPlainText()


def test_the_history_follows_its_choices(opened: Opened) -> None:
    window, _ = opened("three", tab=HISTORY)
    history = window.page.history

    assert [row[3] for row in cells(history.table)][-1] == "higher"
    history.quantity.setCurrentIndex(2)
    assert {row[3] for row in cells(history.table)} == {"no limit of change is published"}


def test_whatever_can_be_worked_with_has_a_name(opened: Opened) -> None:
    window, _ = opened("one")

    parts = [
        part for part in window.findChildren(QWidget)
        if part.focusPolicy() & Qt.FocusPolicy.TabFocus and part.isVisible()
    ]  # fmt: skip
    nameless = [
        f"{type(part).__name__} in {type(part.parent()).__name__}"
        for part in parts
        if not part.accessibleName()
        and not (isinstance(part, QPushButton | QCheckBox) and part.text())
        and type(part).__name__ not in {"QTabBar"}  # its tabs are named
    ]
    assert len(parts) > 8
    assert nameless == []
    assert all(c.accessibleName() for c in window.findChildren(QComboBox))


def test_the_theme_can_be_changed(opened: Opened) -> None:
    window, _ = opened("one", theme=ThemeChoice.DARK)
    window.theme.click()

    pixel = window.grab().toImage().pixelColor(3, 3)
    assert pixel.name().upper() == LIGHT.ground.upper()


def test_an_error_in_a_slot_ends_the_window_and_is_raised(application: QApplication) -> None:
    def break_it(window: BoutsWindow) -> None:
        desk.state = object()  # type: ignore[assignment] # nothing can be done with this

    desk = scenes.Desk(*scenes.one())
    with pytest.raises(AttributeError):
        run_bouts(desk, ViewSettings(), shown=break_it)
    assert desk.stopped


def test_the_bout_on_which_the_list_stands_is_exported(opened: Opened, tmp_path: Path) -> None:
    window, desk = opened("one")
    asked: list[BoutKey] = []
    window.page.exporting.disconnect()
    window.page.exporting.connect(asked.append)
    window.page.export.click()
    window.export(asked[0], tmp_path / "ada.csv")
    desk.state = replace(desk.state, said="Wrote ada.csv")
    window.refresh()

    assert asked == [window.page.model.rows[0].key]
    assert desk.exported == [(asked[0], tmp_path / "ada.csv")]
    assert window.trouble.text() == "Wrote ada.csv"


def test_an_export_over_a_file_says_why_not(opened: Opened, tmp_path: Path) -> None:
    window, desk = opened("one")
    (tmp_path / "ada.csv").write_text("mine")
    window.export(window.page.model.rows[0].key, tmp_path / "ada.csv")

    assert desk.exported == []
    assert window.trouble.text() == "ada.csv is there already"
