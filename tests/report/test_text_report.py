"""The analysis as text for a terminal."""

from dataclasses import replace

from invented_sheet import invented_record

from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.report.text import analysis_text


def test_tells_every_bout_and_what_differs() -> None:
    text = analysis_text(analyse_athlete(invented_record()))

    assert text.startswith(
        "Ada Lind\n\nBout 1, ride, 5:00, 210\N{NO-BREAK SPACE}W (entered)\n  heart rate 150"
    )
    assert text.count("left thigh (working)") == 4
    assert "limit: local" in text
    assert "clear differences of 48 looked at" in text
    assert "bout 1 → 4  left thigh" in text
    assert "no clear difference" not in text
    assert "Pace that holds, left thigh, ride: 24" in text
    assert "Breakpoint, left thigh, ride: needs 6 different loads at least" in text
    assert "not a diagnosis" in text


def test_columns_line_up() -> None:
    lines = analysis_text(analyse_athlete(invented_record())).splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("  site"))

    assert lines[at].index("slope") == lines[at + 1].index("+1.6") == lines[at + 2].index("0.0")


def test_a_terminal_of_120_columns_holds_every_line_but_sentences() -> None:
    lines = analysis_text(analyse_athlete(invented_record())).splitlines()

    assert all(len(line) <= 120 for line in lines if "(" in line and "Intervals" not in line)


def test_a_word_that_can_not_be_told_says_why() -> None:
    record = invented_record()
    short = replace(record, bouts=(replace(record.bouts[0], end_s=200.0),))

    text = analysis_text(analyse_athlete(short))

    assert "    left thigh: the bout is too short: two minutes at least" in text


def test_no_bouts_is_one_sentence() -> None:
    text = analysis_text(analyse_athlete(AthleteRecord("Ada", ())))

    assert text == "Ada: no bouts were marked: mark the start and end of work to have it analysed\n"
