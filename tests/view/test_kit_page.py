"""The Kit page: words arrive whole, everything can be reached by keys, wishes go out."""

from dataclasses import replace

import kit_scenes
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QListView,
    QWidget,
)

from livemon.view.kit_advice import ADVICE
from livemon.view.kit_model import KitModel
from livemon.view.qt.colours import palette
from livemon.view.qt.kit_form import AskFile
from livemon.view.qt.kit_list import KitList
from livemon.view.qt.kit_page import KitPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.theme import DARK, LIGHT, Theme

SIZES = [(1366, 768), (1920, 1080)]
LEAST_TARGET_PX = 24  # WCAG 2.2, success criterion 2.5.8


class Shown:
    """A page on a screen that isn't there."""

    def __init__(
        self,
        application: QApplication,
        model: KitModel,
        *,
        size: tuple[int, int] = (1366, 768),
        theme: Theme = DARK,
        ask: AskFile = lambda parent, chosen: None,
    ) -> None:
        self.asked = kit_scenes.Asked()
        self.page = KitPage(Look(theme, Lettering(), True), self.asked, ask=ask)
        self.page.setPalette(palette(theme))
        self.page.resize(*size)
        self.page.show()
        self.page.activateWindow()
        self.page.show_model(model)
        application.processEvents()
        self.page.grab()
        self.application = application

    def select(self, shown: KitList, row: int) -> None:
        shown.setFocus()
        shown.setCurrentIndex(shown.model().index(row))
        self.application.processEvents()

    def press(self, key: Qt.Key, *, on: QWidget | None = None) -> None:
        QTest.keyClick(on or self.page.focusWidget() or self.page, key)
        self.application.processEvents()

    def type(self, field: QComboBox | QLineEdit, text: str) -> None:
        line = field.lineEdit() if isinstance(field, QComboBox) else field
        assert line is not None
        line.setFocus()
        line.selectAll()
        QTest.keyClicks(line, text)


def cut_short(page: KitPage) -> list[str]:
    """Return what of the page's words can't be read whole."""
    found = []
    for label in page.findChildren(QLabel):
        if label.isVisible() and label.text():
            wide = label.width() if label.wordWrap() else label.sizeHint().width()
            tall = label.heightForWidth(wide) if label.wordWrap() else label.sizeHint().height()
            if wide > label.width() or tall > label.height():
                found.append(label.text())
    for button in page.findChildren(QAbstractButton):
        needed = button.sizeHint()
        small = needed.width() > button.width() or needed.height() > button.height()
        if button.isVisible() and button.text() and small:
            found.append(button.text())
    for shown in (page.nearby, page.worn):
        found += [line.text for line in shown.written if line.shown != line.text]
    return found


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=["dark", "light"])
@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("name", kit_scenes.SCENES)
def test_no_word_is_clipped(
    application: QApplication, name: str, size: tuple[int, int], theme: Theme
) -> None:
    shown = Shown(application, kit_scenes.SCENES[name](), size=size, theme=theme)
    if shown.page.worn.model().rowCount():
        shown.select(shown.page.worn, min(9, shown.page.worn.model().rowCount() - 1))
        shown.page.grab()

    assert cut_short(shown.page) == []


@pytest.mark.parametrize("size", [(800, 480), (1366, 768), (1920, 1080)])
@pytest.mark.parametrize("name", ["six", "long names"])
def test_nothing_lies_beyond_the_page(
    application: QApplication, name: str, size: tuple[int, int]
) -> None:
    shown = Shown(application, kit_scenes.SCENES[name](), size=size)
    page = shown.page
    shown.select(page.worn, 1)
    page.form.rename.click()
    application.processEvents()

    assert (page.width(), page.height()) == size
    inside = page.form.parentWidget()
    assert inside is not None
    assert inside.width() <= page._area.viewport().width()


def test_lines_lie_in_their_rows_and_apart(application: QApplication) -> None:
    page = Shown(application, kit_scenes.six()).page
    rows = {line.text: line.rect for line in page.worn.written}

    assert len(rows) > 8
    for index in range(3):
        box = page.worn.visualRect(page.worn.model().index(index))
        lines = [line for line in page.worn.written if box.contains(line.rect.toRect())]
        assert len(lines) == 3
        for one in lines:
            others = [other for other in lines if other is not one]
            assert not any(one.rect.intersects(other.rect) for other in others)


def test_everything_a_person_can_press_is_large_enough(application: QApplication) -> None:
    page = Shown(application, kit_scenes.six()).page
    for kind in (QAbstractButton, QComboBox, QLineEdit):
        for widget in page.findChildren(kind):
            if widget.isVisible() and not isinstance(widget.parent(), QComboBox):
                assert min(widget.width(), widget.height()) >= LEAST_TARGET_PX
    assert page.worn.row_px >= LEAST_TARGET_PX


def test_tab_leads_through_all_of_it_and_everything_has_a_name(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.six())
    page = shown.page
    shown.select(page.worn, 3)
    page.nearby.setFocus()
    reached = []
    for _ in range(40):
        focus = page.focusWidget()
        assert focus is not None
        if focus in reached:
            break
        reached.append(focus)
        page.focusNextChild()
    wanted: list[QWidget] = [
        page.look_around, page.everything, page.next, page.leave, page.nearby, page.worn,
        page.form.who, page.form.band, page.form.adipose, page.form.use, page.form.off,
        page.form.again, page.form.rename,
        page.rest.who, page.rest.toggle,
    ]  # fmt: skip
    proxied = [one.lineEdit() if isinstance(one, QComboBox) and one.isEditable() else one
               for one in wanted]  # fmt: skip

    assert [one for one, also in zip(wanted, proxied, strict=True)
            if one not in reached and also not in reached] == []  # fmt: skip
    for one in wanted:
        assert one.accessibleName() or (isinstance(one, QAbstractButton) and one.text())


def test_a_strap_is_given_to_somebody_new_by_keys_alone(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.found())
    page = shown.page
    page.nearby.setFocus()
    shown.press(Qt.Key.Key_Down, on=page.nearby)
    shown.press(Qt.Key.Key_Up, on=page.nearby)
    assert page.nearby.key == "0A:01"
    shown.type(page.form.who, "Ada")
    shown.type(page.form.band, "142-154")
    shown.press(Qt.Key.Key_Return, on=page.form.band)

    assert shown.asked.list == [
        ("look around", True),
        ("add", "Ada", (142, 154), None),
        ("wear", "0A:01", "", "new", ""),
    ]


def test_an_oximeter_is_given_to_somebody_who_is_there(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.one())
    shown.select(shown.page.nearby, 2)
    shown.type(shown.page.form.who, "ada")
    shown.type(shown.page.form.site, "left calf")
    QTest.mouseClick(shown.page.form.use, Qt.MouseButton.LeftButton)

    assert shown.page.form.reading.currentText() == "oximeter, invented-demo"
    assert shown.asked.list[1:] == [("wear", "0A:03", "invented-demo", "a1", "left calf")]


def test_without_a_name_or_with_a_wrong_band_nothing_goes_out(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.found())
    shown.select(shown.page.nearby, 0)
    shown.page.form.use.click()
    assert seen(shown.page, "Say who wears it")
    shown.type(shown.page.form.who, "Ada")
    shown.type(shown.page.form.band, "200-100")
    shown.page.form.use.click()

    assert seen(shown.page, "expected two numbers")
    assert shown.asked.list == [("look around", True)]


def test_a_worn_sensor_moves_to_another_muscle_or_athlete_and_comes_off(
    application: QApplication,
) -> None:
    shown = Shown(application, kit_scenes.six())
    page = shown.page
    shown.select(page.worn, 1)
    assert (page.form.who.currentText(), page.form.site.currentText()) == ("Ada", "left thigh")
    shown.type(page.form.site, "left calf")
    page.form.use.click()
    shown.type(page.form.who, "Ben")
    page.form.use.click()
    page.form.off.click()

    assert shown.asked.list[1:] == [
        ("assign", "l1", "a1", "left calf"),
        ("assign", "l1", "a2", "left calf"),
        ("take off", "l1"),
    ]


def test_a_new_band_alone_is_a_change_of_the_athlete(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.one())
    shown.select(shown.page.worn, 0)
    assert shown.page.form.band.text() == "152–162"
    shown.type(shown.page.form.band, "120-130")
    shown.page.form.use.click()

    assert shown.asked.list[1:] == [("change", "a1", "Ada", (120, 130), None)]


def test_a_fat_layer_is_typed_kept_and_cautioned_about(application: QApplication) -> None:
    """7 mm: McManus 2018, as cited beside the words."""
    shown = Shown(application, kit_scenes.six())
    shown.select(shown.page.worn, 1)
    assert shown.page.form.adipose.text() == "9"
    assert seen(shown.page, "over more than 7 mm")
    shown.type(shown.page.form.adipose, "7 mm")
    shown.page.form.use.click()
    shown.type(shown.page.form.adipose, "thick")
    shown.page.form.use.click()

    assert shown.asked.list[1:] == [("change", "a1", "Ada", (152, 162), 7.0)]
    assert seen(shown.page, "expected a number above 0")
    shown.select(shown.page.worn, 0)
    assert not seen(shown.page, "over more than 7 mm")  # a strap looks at no muscle
    shown.select(shown.page.worn, 4)
    assert not seen(shown.page, "over more than 7 mm")


def test_a_chosen_sensor_says_what_it_is(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.six())
    shown.select(shown.page.worn, 1)

    assert seen(
        shown.page,
        "Invented Instruments One · firmware 1.4.2 · made for the chest · battery 61 %, read 14:00"
        " ago · signal when linked good, −64 dBm",
    )


def test_sensor_and_athlete_are_renamed(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.six())
    form = shown.page.form
    shown.select(shown.page.worn, 1)
    assert not form.names.isVisible()
    form.rename.click()
    assert (form.names.sensor.text(), form.names.athlete.text()) == ("OXI-1", "Ada")
    shown.type(form.names.sensor, "Thigh 1")
    shown.type(form.names.athlete, "Ada L")
    shown.press(Qt.Key.Key_Return, on=form.names.athlete)

    assert shown.asked.list[1:] == [
        ("rename", "l1", "Thigh 1"),
        ("change", "a1", "Ada L", (152, 162), 9.0),
    ]
    assert not form.names.isVisible()


def test_a_new_name_of_who_wears_it_is_followed(application: QApplication) -> None:
    """Else the next Change would make somebody new of the old name."""
    shown = Shown(application, kit_scenes.one())
    shown.select(shown.page.worn, 1)
    model = kit_scenes.one()
    shown.page.show_model(
        replace(
            model,
            worn=tuple(replace(one, who="Ada L") for one in model.worn),
            athletes=tuple(replace(one, name="Ada L") for one in model.athletes),
        )
    )

    assert shown.page.form.who.currentText() == "Ada L"


def test_a_device_that_does_not_say_what_it_is_is_asked(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.found())
    shown.select(shown.page.nearby, 0)
    assert not shown.page.form.ask.isVisible()
    shown.select(shown.page.nearby, 3)
    shown.page.form.ask.click()
    model = kit_scenes.found()
    told = replace(model.nearby[3], reading="invented-plain", can_ask=False)
    nearby = (*model.nearby[:3], told, model.nearby[4])
    words = "It can be read as oximeter (invented-plain). Say who wears it."
    shown.page.show_model(replace(model, nearby=nearby, outcome=(words,), wishes=1))

    assert shown.asked.list[1:] == [("ask", "0A:04")]
    assert seen(shown.page, words)
    assert not shown.page.form.ask.isVisible()
    assert shown.page.form.reading.currentText() == "oximeter, invented-plain"


def test_where_several_may_be_meant_a_person_chooses(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.six())
    shown.select(shown.page.worn, 9)
    assert seen(shown.page, "nobody gets another person's data")
    buttons = [
        one for one in shown.page.findChildren(QAbstractButton) if one.text().startswith("It is")
    ]
    shown.press(Qt.Key.Key_Return, on=buttons[1])

    assert [one.text() for one in buttons] == [
        "It is …01:01  strong, −48 dBm",
        "It is …01:02  good, −71 dBm",
    ]
    assert shown.asked.list[1:] == [("choose", "s4", "0A:00:00:00:01:02")]


def test_the_next_that_needs_somebody_is_found_round_and_round(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.six())
    model = kit_scenes.six()
    needing = [one.sensor for one in model.worn if one.needs]
    found = []
    for _ in range(len(needing) + 1):
        shown.page.next.click()
        found.append(shown.page.worn.key)

    assert found == [*needing, needing[0]]
    assert not Shown(application, kit_scenes.one()).page.next.isVisible()


def test_hints_troubles_and_outcomes_are_said(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.six())
    assert seen(shown.page, "no rate_hz")
    shown.select(shown.page.worn, 3)
    assert seen(shown.page, kit_scenes.HELD)
    assert not seen(shown.page, "no rate_hz")  # it was about another wish
    shown.page.show_model(replace(kit_scenes.six(), outcome=("Ada is there.",), wishes=2))
    assert seen(shown.page, "Ada is there.")
    off = Shown(application, kit_scenes.off())
    assert seen(off.page, "Bluetooth is switched off")
    assert kit_scenes.off().searching == (
        "Nothing can be heard while Bluetooth can't be used. Why stands above."
    )


def test_every_piece_of_advice_names_its_source(application: QApplication) -> None:
    page = Shown(application, kit_scenes.six()).page
    lines = {one.text(): one.toolTip() for one in page.findChildren(QLabel)}
    for advice in ADVICE:
        assert lines[advice.words] == f"Source: {advice.source}"


def test_an_adapter_file_is_asked_for_and_handed_on(application: QApplication) -> None:
    shown = Shown(
        application, kit_scenes.empty(), ask=lambda _, chosen: chosen("/somewhere/mine.toml")
    )
    button = next(
        one for one in shown.page.findChildren(QAbstractButton) if "adapter file" in one.text()
    )
    button.click()

    assert shown.asked.list[-1] == ("adapter", "/somewhere/mine.toml")


def test_what_is_typed_stays_while_words_change(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.found())
    shown.select(shown.page.nearby, 0)
    shown.type(shown.page.form.who, "Ad")
    facts, at = kit_scenes.kit(0)
    louder = (replace(kit_scenes.nearby()[0], rssi_dbm=-70), *kit_scenes.nearby()[1:])
    shown.page.show_model(kit_scenes.model(replace(facts, nearby=tuple(reversed(louder))), at))

    assert shown.page.form.who.currentText() == "Ad"
    assert shown.page.nearby.key == "0A:01"
    assert shown.page.nearby.currentIndex().row() == 4


def test_the_baseline_of_one_and_of_everybody(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.one())
    assert seen(shown.page, "0:36 left")
    shown.page.rest.toggle.click()
    assert shown.asked.list[1:] == [("stop baseline", "a1")]

    many = Shown(application, kit_scenes.six())
    assert many.page.rest.who.currentText() == "everybody"
    many.page.rest.toggle.click()
    assert many.asked.list[1:] == [("start baseline", f"a{at}") for at in range(1, 7)]


def test_looking_around_ends_when_the_page_is_left(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.found())
    shown.page.hide()

    assert shown.asked.list == [("look around", True), ("look around", False)]


def test_a_list_keeps_its_place_among_seventy_two(application: QApplication) -> None:
    shown = Shown(application, kit_scenes.many())
    shown.select(shown.page.worn, 60)
    before = shown.page.worn.verticalScrollBar().value()
    shown.page.show_model(replace(kit_scenes.many(), summary="x"))
    shown.application.processEvents()

    assert before > 0
    assert shown.page.worn.verticalScrollBar().value() == before
    assert isinstance(shown.page.worn, QListView)


def seen(page: KitPage, words: str) -> bool:
    """Return whether these words stand on the page."""
    return any(label.isVisible() and words in label.text() for label in page.findChildren(QLabel))
