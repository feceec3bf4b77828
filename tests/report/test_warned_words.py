"""Drain warnings on the sheet and in the text: how many, the first, and why."""

from dataclasses import replace

from invented_sheet import THIGH, invented_record

from livemon.analyse.bout import Bout
from livemon.analyse.session import analyse_athlete
from livemon.analyse.warned import Warned, warned_in
from livemon.report.sheet import Heading, sheet_html
from livemon.report.text import analysis_text
from livemon.report.text_warned import warned_line
from livemon.report.warned_words import warned_sentence, warned_short

FOURTH_S = 120 + 3 * 540  # when the fourth bout of the invented session begins
FIRST = Warned(FOURTH_S + 134, THIGH, 4.1, 24.0, 158.0)
LATER = Warned(FOURTH_S + 250, THIGH, 3.0, 30.0, 159.0)
RESTING = Warned(FOURTH_S + 320, THIGH)  # after the bout


def test_a_warning_belongs_to_the_bout_in_which_it_came_on() -> None:
    bout = Bout(4, 100, 400)
    at = [Warned(t, THIGH) for t in (400.0, 399.0, 100.0, 99.9)]

    assert [one.t_s for one in warned_in(at, bout)] == [100.0, 399.0]


def test_the_text_gives_count_first_and_evidence() -> None:
    record = replace(invented_record(), warnings=(LATER, FIRST, RESTING))

    assert (
        "drain warnings: 2, the first 2:14 into the bout (left thigh, falling 4.1 %/min, for 0:24,"
        " heart rate 158 bpm)"
    ) in analysis_text(analyse_athlete(record))


def test_without_warnings_nothing_is_said() -> None:
    assert "warning" not in analysis_text(analyse_athlete(invented_record()))
    assert warned_line((), Bout(1, 0, 10)) == warned_short((), Bout(1, 0, 10)) == ""
    assert warned_sentence(analyse_athlete(invented_record())) == ()


def test_what_is_not_known_of_the_evidence_is_left_out() -> None:
    assert warned_line((Warned(5, THIGH),), Bout(1, 0, 10)).endswith("the bout (left thigh)")


def test_the_sheet_tells_the_athlete() -> None:
    record = replace(invented_record(), warnings=(FIRST, LATER))
    page = sheet_html(Heading("Ada", "today"), record, analyse_athlete(record))

    assert "The screen warned 2 times that the muscle kept draining" in page
    assert "first in bout 4 after 2:14" in page
    assert "drain warning at 2:14, 2 in all" in page
