"""The sheet: plain words, own pictures, nothing from outside, names escaped."""

import re
from dataclasses import replace
from html.parser import HTMLParser
from xml.etree import ElementTree

import numpy as np
import pytest
from invented_sheet import SHOULDER, THIGH, invented_record

from livemon.analyse.bout import Bout
from livemon.analyse.series import NOTHING, Series
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.report.cautions import CAUTIONS
from livemon.report.sheet import Heading, sheet_html

HEADING = Heading("Ada Lind", "12 May 2026, 17:30", "Ride", "Well done.")


def page(record: AthleteRecord, heading: Heading = HEADING) -> str:
    return sheet_html(heading, record, analyse_athlete(record))


class Structure(HTMLParser):
    """Keeps track of what opens and closes, and collects the words."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.words: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes += attrs
        if tag not in {"meta", "br"}:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes += attrs

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] not in {"style", "title"}:
            self.words.append(data.strip())


def words(html: str) -> str:
    structure = Structure(html)
    assert structure.open == []
    return re.sub(r"\s+", " ", " ".join(structure.words))


def test_says_what_was_done_what_it_means_how_sure_and_what_next() -> None:
    said = words(page(invented_record()))

    assert "Ride: your left thigh holds up to about 24" in said
    assert "You did 4 bouts of ride, 210 to 285 W, 5:00 each, heart rate 150 bpm." in said
    assert "refilled in bouts 1 and 2, held in bout 3 and drained in bout 4." in said
    assert "In bout 4 the working muscle lost oxygen while a resting one did not" in said
    assert "nine times in ten" in said
    assert "Long ride: stay at or below" in said
    assert "Well done." in said
    assert all(caution in said for caution in CAUTIONS)


def test_every_bout_has_its_word_and_numbers() -> None:
    html = page(invented_record())
    shown = re.findall(r'<p class="word">([^<]*)</p>', html)

    assert shown == ["Refilling", "Refilling", "Holding", "Draining"]
    assert "lactate 1.9" in words(html)
    assert "150 bpm" in words(html)


def test_needs_nothing_from_outside() -> None:
    html = page(invented_record())
    names = {name for name, _ in Structure(html).attributes}

    assert not names & {"src", "href", "srcset", "onload", "onclick"}
    assert "url(" not in html
    assert "@import" not in html
    assert "<script" not in html
    assert "http" not in html


def test_pictures_are_well_formed_and_say_what_they_show() -> None:
    pictures = re.findall(r"<svg.*?</svg>", page(invented_record()), flags=re.DOTALL)
    drawn = [ElementTree.fromstring(p) for p in pictures]
    titles = [t.text for p in drawn if (t := p.find("title")) is not None]

    assert len(titles) == 1 + 4 + 1  # the session, each bout, the pace
    assert "Bout 4: left thigh demand ahead, right shoulder in balance" in titles


def test_no_coordinate_is_nan_or_far_outside() -> None:
    html = page(invented_record())
    drawn = re.findall(r'(?:points|d|x|y|x1|x2|y1|y2|cx|cy)="([^"]*)"', html)
    numbers = [float(n) for text in drawn for n in re.findall(r"-?[\d.]+|nan|inf", text)]

    assert numbers
    assert all(-400 < n < 1200 for n in numbers)


@pytest.mark.parametrize("planted", ["<b>Eve</b>", '"><script>x()</script>', "A & B", "O'Hara"])
def test_names_and_notes_are_escaped(planted: str) -> None:
    record = invented_record(planted)
    record = replace(
        record,
        bouts=tuple(replace(b, kind=planted) for b in record.bouts),
        smo2={planted: record.smo2[THIGH], SHOULDER: record.smo2[SHOULDER]},
    )
    html = page(record, Heading(planted, planted, planted, planted))

    assert "<b>Eve" not in html
    assert "<script" not in html
    assert planted in words(html)


def test_nothing_analysed_is_said_and_nothing_breaks() -> None:
    said = words(page(AthleteRecord("Ada", ())))

    assert "Nothing to compare yet: no bouts were marked" in said
    assert CAUTIONS[0] in said


STEADY = Series.of(np.arange(900.0), np.full(900, 55.0))


@pytest.mark.parametrize("heart", [NOTHING, Series.of([1], [80]), STEADY])
@pytest.mark.parametrize("smo2", [NOTHING, Series.of([1], [60]), STEADY])
@pytest.mark.parametrize("bout", [Bout(1, 100, 400), Bout(1, 100, 130), Bout(1, 5000, 6000)])
def test_poor_recordings_still_give_a_page(heart: Series, smo2: Series, bout: Bout) -> None:
    said = words(page(AthleteRecord("Ada", (bout,), heart, {"thigh": smo2})))

    assert "You did 1 bout of work" in said
    assert "Three bouts" in said or "three different ones" in said


@pytest.mark.parametrize(("bouts", "few"), [(4, True), (5, False)])
def test_one_row_of_bouts_prints_in_larger_letters(bouts: int, few: bool) -> None:
    assert ('<html lang="en" class="few">' in page(invented_record(slopes=(0.0,) * bouts))) is few


def test_long_words_print_in_smaller_letters() -> None:
    """Many words, in another language or of the coach, would need a second page."""
    said = replace(HEADING, note="Well done. " * 60)
    assert '<html lang="en">' in page(invented_record(), said)


def test_more_than_eight_bouts_say_that_some_are_not_shown() -> None:
    html = page(invented_record(slopes=(0.0,) * 10))

    assert html.count('class="bout"') == 8
    assert re.findall(r'class="title"><b>(\d+)', html) == [str(n) for n in range(3, 11)]
    assert "The first 2 bouts are not shown." in words(html)


def test_a_muscle_that_never_drained_asks_for_harder_work_only_with_consent() -> None:
    said = words(page(invented_record(slopes=(4.0, 3.0, 2.0, 1.0))))

    assert "did not drain. A harder bout of ride, if your coach agrees and you are well" in said


def test_a_muscle_that_always_drained_asks_for_easier_work() -> None:
    said = words(page(invented_record(slopes=(-1.0, -2.0, -3.0, -4.0))))

    assert "Even at 210 W your left thigh drained. Easier bouts" in said
