"""Choosing a plan on the screen, with the keyboard alone."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
import scenes
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from test_window import Bench

from livemon.view.plan_choice import choice_words, list_words
from livemon.view.plan_commands import PlanChoice
from livemon.view.qt.plan_panel import PlanPanel

SHIFT = Qt.KeyboardModifier.ShiftModifier
TUESDAY = PlanChoice(
    "tuesday", "Tuesday", True, "Ours.", ("row, 1 min", "recovery, 2 min"), "2 steps"
)
BROKEN = PlanChoice("broken", "broken", True, "", (), "", "broken.toml: step 1: expected a name")
READY = PlanChoice("steps", "Steps", False, "Six steps.", ("row, 4 min",), "1 step, 4 min")


class Shelf:
    """Plans that are only written down."""

    def __init__(self) -> None:
        self.there = (TUESDAY, BROKEN, READY)
        self.chosen: list[tuple[str | None, str | None]] = []
        self.read = 0

    def choices(self) -> tuple[PlanChoice, ...]:
        self.read += 1
        return self.there

    def folder(self) -> str:
        return "/own/plans"

    def choose(self, athlete: str | None, key: str | None) -> None:
        self.chosen.append((athlete, key))

    def standing(self) -> tuple[str, ...]:
        return tuple(f"{whom or 'Everybody'}: {key}" for whom, key in self.chosen if key)


@pytest.fixture
def shelf() -> Shelf:
    return Shelf()


@pytest.fixture
def shown(application: QApplication, shelf: Shelf) -> Iterator[Bench]:
    other = replace(scenes.quiet(), athlete="a4", name="Lane 4")
    bench = Bench(scenes.session(scenes.quiet(), other), plans=shelf)
    yield bench
    bench.asked.done = True
    bench.window.close()
    bench.window.deleteLater()
    application.processEvents()


def panel(shown: Bench) -> PlanPanel:
    (found,) = shown.window.findChildren(PlanPanel)
    return found


def press(shown: Bench, key: Qt.Key, modifier: Qt.KeyboardModifier | None = None) -> None:
    focus = QApplication.focusWidget()
    QTest.keyClick(focus, key, modifier or Qt.KeyboardModifier.NoModifier)
    shown.look()


def labels(shown: Bench) -> str:
    return "\n".join(label.text() for label in panel(shown).findChildren(QLabel))


def test_words_of_a_plan_and_of_one_that_is_wrong() -> None:
    assert list_words(TUESDAY) == "Tuesday (own)"
    assert list_words(READY) == "Steps"
    assert list_words(BROKEN) == "broken (can't be used)"
    assert choice_words(TUESDAY) == "Ours.\n\n1.  row, 1 min\n2.  recovery, 2 min\n\n2 steps"
    assert choice_words(BROKEN).endswith("broken.toml: step 1: expected a name")


def test_a_plan_for_everybody_with_the_keyboard(shown: Bench, shelf: Shelf) -> None:
    shown.press(Qt.Key.Key_P)
    assert panel(shown).isVisible()
    assert "row, 1 min" in labels(shown)
    assert "No plan is chosen." in labels(shown)
    assert "/own/plans" in labels(shown)
    press(shown, Qt.Key.Key_Down)
    press(shown, Qt.Key.Key_Down)
    press(shown, Qt.Key.Key_Return)

    assert shelf.chosen == [(None, "steps")]
    assert "Everybody: steps" in labels(shown)
    assert shown.asked.list == [], "no key went through to the page below"
    press(shown, Qt.Key.Key_Escape)
    assert not panel(shown).isVisible()


def test_a_plan_for_the_chosen_athlete_alone(shown: Bench, shelf: Shelf) -> None:
    shown.press(Qt.Key.Key_Down)
    shown.press(Qt.Key.Key_P)
    assert [b.text() for b in panel(shown).findChildren(QPushButton)] == [
        "For everybody", "For Lane 4", "No plan"
    ]  # fmt: skip
    press(shown, Qt.Key.Key_Return, SHIFT)
    press(shown, Qt.Key.Key_Delete)

    assert shelf.chosen == [("a4", "tuesday"), (None, None), ("a4", None)]


def test_a_plan_that_is_wrong_says_why_and_cannot_be_chosen(shown: Bench, shelf: Shelf) -> None:
    shown.press(Qt.Key.Key_P)
    press(shown, Qt.Key.Key_Down)
    assert "expected a name" in labels(shown)
    press(shown, Qt.Key.Key_Return)
    for button in panel(shown).findChildren(QPushButton)[:2]:
        assert not button.isEnabled()

    assert shelf.chosen == []


def test_buttons_do_the_same_also_with_space(shown: Bench, shelf: Shelf) -> None:
    shown.press(Qt.Key.Key_P)
    everybody, one, none = panel(shown).findChildren(QPushButton)
    everybody.setFocus()
    press(shown, Qt.Key.Key_Space)
    one.click()
    none.click()

    assert shelf.chosen == [(None, "tuesday"), ("a3", "tuesday"), (None, None), ("a3", None)]
    assert shown.asked.list == []


def test_plans_are_read_afresh_each_time(shown: Bench, shelf: Shelf) -> None:
    shown.press(Qt.Key.Key_P)
    press(shown, Qt.Key.Key_P)
    shelf.there = (READY,)
    shown.press(Qt.Key.Key_P)

    assert shelf.read == 2
    assert "Six steps." in labels(shown)


def test_alone_there_is_nobody_else_to_choose_for(shown: Bench, shelf: Shelf) -> None:
    shown.snapshot = scenes.session(scenes.quiet())
    shown.look()
    shown.press(Qt.Key.Key_P)
    press(shown, Qt.Key.Key_Return, SHIFT)

    assert not panel(shown).findChildren(QPushButton)[1].isVisible()
    assert shelf.chosen == [(None, "tuesday")]
