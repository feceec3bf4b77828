"""The terminal view: the same words as the window, in lines of exact width."""

import unicodedata
from dataclasses import replace

import pytest
import scenes
from hypothesis import given
from hypothesis import strategies as st

from livemon.monitor.snapshot import SessionSnapshot
from livemon.view.present import present
from livemon.view.settings import ViewSettings
from livemon.view.terminal.cells import cells, fitted
from livemon.view.terminal.picture import picture, status_line
from livemon.view.terminal.plain import plain
from livemon.view.terminal.run import Terminal, run_terminal, screen


class Paper:
    """A terminal that keeps what was written; time passes only by waiting."""

    def __init__(self, *, draws: bool, turns: int) -> None:
        self.text, self.now_s, self.left = "", 0.0, turns
        self.terminal = Terminal(
            self.write, lambda: (80, 24), lambda: self.now_s, self.wait, draws=draws
        )

    def write(self, text: str) -> None:
        self.text += text

    def wait(self, seconds: float) -> None:
        self.now_s += seconds
        self.left -= 1

    def stop(self) -> bool:
        return self.left <= 0


@given(st.text(), st.integers(0, 120))
def test_fitted_text_has_exactly_the_width(text: str, width: int) -> None:
    assert cells(fitted(text, width)) == width


def test_wide_characters_take_two_cells_and_combining_ones_none() -> None:
    assert cells("肺") == 2
    assert cells(unicodedata.normalize("NFD", "é")) == 1


@pytest.mark.parametrize("width", [60, 80, 120, 200])
@pytest.mark.parametrize("name", scenes.SCENES)
def test_every_line_has_the_terminals_width(name: str, width: int) -> None:
    lines = picture(present(scenes.SCENES[name](), ViewSettings()), width)

    assert {cells(line) for line in lines} == {width}


def test_the_same_words_as_the_window() -> None:
    model = present(scenes.warned(), ViewSettings())
    text = "\n".join(picture(model, 100))

    for words in (model.watch.sentence, model.heart_rate.line, "Demand ahead", "−4.1 %/min"):
        assert words in text
    assert "DRAIN" in text, "the priority is a word, since there is no colour"


def test_the_clock_is_never_cut() -> None:
    head = picture(present(scenes.long_names(), ViewSettings()), 60)[0]

    assert head.endswith("1:19:48 left of 1:30:00")


def test_old_and_faulty_values_say_so() -> None:
    text = "\n".join(picture(present(scenes.stale_strap(), ViewSettings()), 100))
    assert "158 bpm (old)" in text
    assert "strap silent 14 s" in text

    assert "no skin contact" in status_line(present(scenes.no_contact(), ViewSettings()))


def test_nobody_there_yet() -> None:
    assert screen(None, ViewSettings(), (80, 24))[0].startswith("Waiting for the strap…")


def test_no_more_lines_than_fit() -> None:
    ten = scenes.session(scenes.many_sites(10))

    assert len(screen(ten, ViewSettings(), (80, 12))) == 12
    assert len(screen(scenes.class_of(24), ViewSettings(), (80, 20))) == 20


@pytest.mark.parametrize("width", [60, 100, 160])
def test_a_class_has_one_line_an_athlete_most_urgent_on_top(width: int) -> None:
    lines = screen(scenes.class_of(12), ViewSettings(), (width, 40))

    assert {cells(line) for line in lines} == {width}
    assert lines[0].startswith("12 athletes   1 drain · 1 caution · 2 sensor faults")
    assert [line.split()[0] for line in lines[2:6]] == ["3", "7", "1", "10"]
    assert "DRAIN: Left thigh falling" in lines[2]


def test_a_class_that_stands_still_says_so() -> None:
    lines = screen(scenes.class_of(3), ViewSettings(), (160, 40), still_s=4.0)

    assert "Nothing new from the session for 4 s" in lines[0]
    assert all("old" in line for line in lines[2:])


def test_a_session_that_stands_still_does_not_look_steady() -> None:
    lines = screen(scenes.session(scenes.quiet()), ViewSettings(), (100, 30), still_s=5.0)

    assert any("Nothing new from the session for 5 s" in line for line in lines)
    assert any("158 bpm (old)" in line for line in lines)


def test_drawing_restores_the_terminal_even_when_something_breaks() -> None:
    paper = Paper(draws=True, turns=3)

    def broken() -> SessionSnapshot:
        raise OSError("gone")

    with pytest.raises(OSError, match="gone"):
        run_terminal(broken, paper.stop, paper.terminal)
    assert paper.text.endswith("\x1b[?25h\x1b[?1049l")


def test_drawing_writes_over_the_same_place() -> None:
    paper = Paper(draws=True, turns=3)
    run_terminal(lambda: scenes.session(scenes.quiet()), paper.stop, paper.terminal)

    assert paper.text.count("\x1b[H") == 3


def test_without_a_terminal_a_line_every_ten_seconds() -> None:
    paper = Paper(draws=False, turns=40)
    run_terminal(lambda: scenes.session(scenes.quiet()), paper.stop, paper.terminal)

    assert paper.text.count("\n") == 2
    assert "\x1b" not in paper.text


def test_without_a_terminal_a_warning_is_written_at_once() -> None:
    paper = Paper(draws=False, turns=10)

    def latest() -> SessionSnapshot:
        return scenes.session(scenes.quiet() if paper.now_s < 2 else scenes.warned())

    run_terminal(latest, paper.stop, paper.terminal)

    assert paper.text.count("DRAIN") == 1


def test_without_a_terminal_an_announcement_is_written_once_and_at_once() -> None:
    paper = Paper(draws=False, turns=10)

    def latest() -> SessionSnapshot:
        return scenes.session(scenes.quiet() if paper.now_s < 2 else scenes.soon_over())

    run_terminal(latest, paper.stop, paper.terminal)

    assert paper.text.count("In 8 s: recovery") == 1


def test_without_a_terminal_the_last_line_tells_how_it_ended() -> None:
    paper = Paper(draws=False, turns=1)

    def latest() -> SessionSnapshot:
        early = scenes.session(scenes.quiet())
        late = scenes.session(scenes.warned())
        return early if paper.now_s == 0 else replace(late, t_s=early.t_s + 600)

    run_terminal(latest, paper.stop, paper.terminal)

    first, last = paper.text.splitlines()
    assert "DRAIN" not in first
    assert "DRAIN" in last


def test_the_end_of_the_session_ends_the_view() -> None:
    paper = Paper(draws=True, turns=1000)
    run_terminal(
        lambda: replace(scenes.session(scenes.quiet()), ended=True), paper.stop, paper.terminal
    )

    assert paper.left == 999
    assert "Session ended" in paper.text


@pytest.mark.parametrize("name", scenes.SCENES)
def test_plain_text_is_ascii_and_as_wide(name: str) -> None:
    for line in picture(present(scenes.SCENES[name](), ViewSettings()), 90):
        assert len(plain(line)) == cells(line)
        assert plain(line).isascii()
        assert "?" not in plain(line), "every character of ours has an ASCII stand-in"


@pytest.mark.parametrize("height", [8, 24, 50])
@pytest.mark.parametrize("width", [40, 80])
def test_what_the_program_says_stands_at_the_foot(width: int, height: int) -> None:
    said = ("relay gym-1: nothing for 9 s", "NOT RECORDING: no space left")
    lines = screen(scenes.session(scenes.warned()), ViewSettings(), (width, height), 0.0, said)

    assert len(lines) <= height
    assert {cells(line) for line in lines} == {width}
    assert [line.rstrip() for line in lines[-2:]] == list(said)


def test_a_crowd_of_notices_leaves_the_numbers_their_room() -> None:
    said = (*(f"relay gym-{number}: {'nothing ' * 30}" for number in range(9)), "NOT RECORDING")
    lines = screen(scenes.session(scenes.warned()), ViewSettings(), (80, 24), 0.0, said)

    assert lines[:-6] == screen(scenes.session(scenes.warned()), ViewSettings(), (80, 18))
    assert lines[-1].rstrip() == "NOT RECORDING"


def test_before_anybody_is_there_notices_are_drawn_too() -> None:
    lines = screen(None, ViewSettings(), (80, 24), 0.0, ("no relay yet",))

    assert lines[-1].rstrip() == "no relay yet"


def test_notices_are_asked_for_at_each_drawing() -> None:
    paper = Paper(draws=True, turns=2)
    said = iter([("recording",), ("NOT RECORDING: no space left",)])
    run_terminal(
        lambda: scenes.session(scenes.quiet()), paper.stop, paper.terminal,
        notices=lambda: next(said),
    )  # fmt: skip

    first, second = paper.text.split("\x1b[H")[1:]
    assert "recording" in first
    assert "NOT RECORDING: no space left" in second
