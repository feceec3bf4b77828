"""The sheet in an invented language: on screen and on paper nothing is left in English."""

import re
from collections.abc import Iterator
from dataclasses import replace
from html import unescape

import numpy as np
import pytest
from invented_sheet import SHOULDER, THIGH, invented_record

from livemon.analyse.bout import Bout
from livemon.analyse.series import NOTHING, Series
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.analyse.warned import Warned
from livemon.report.paper import sheet_paper
from livemon.report.sheet import Heading, sheet_html
from livemon.tongue import ENGLISH, speak
from translations.invented_language import left_in_english, spoken

HEADING = Heading("Ada Lind", "12 ÿ 2026", "Ride", "Well done.")
NAMES = {THIGH, SHOULDER, "Ada Lind", "ride", "rowing", "step-ups", "Well done.", "mmol/L"}
WARNED = (Warned(254.0, THIGH, 4.1), Warned(2000.0, THIGH, 4.1))
STEADY = Series.of(np.arange(900.0), np.full(900, 55.0))
RECORD = invented_record()


def changed(**values: object) -> AthleteRecord:
    return replace(RECORD, **values)  # type: ignore[arg-type] # each test names its own fields


def of_kinds(*kinds: str) -> AthleteRecord:
    """The same bouts, each of another kind of work."""
    named = zip(RECORD.bouts, kinds, strict=True)
    return changed(bouts=tuple(replace(bout, kind=kind) for bout, kind in named))


RECORDS = {
    "a pace that holds": RECORD,
    "never drained": invented_record(slopes=(4.0, 3.0, 2.0, 1.0)),
    "always drained": invented_record(slopes=(-1.0, -2.0, -3.0, -4.0)),
    "ten bouts": invented_record(slopes=(0.0,) * 10),
    "one bout": invented_record(slopes=(-1.6,)),
    "two kinds": of_kinds("ride", "rowing", "ride", "rowing"),
    "three kinds": of_kinds("ride", "rowing", "step-ups", "ride"),
    "no kind": of_kinds("", "", "", ""),
    "warned once": changed(warnings=WARNED[:1]),
    "warned twice": changed(warnings=WARNED),
    "warned twice in a bout": changed(warnings=(WARNED[0], replace(WARNED[0], t_s=300.0))),
    "of other lengths": changed(
        bouts=(*RECORD.bouts[:3], replace(RECORD.bouts[3], end_s=RECORD.bouts[3].end_s - 60))
    ),
    "no load": changed(bouts=tuple(replace(b, intensity=None) for b in RECORD.bouts)),
    "no resting muscle": changed(idle_sites=frozenset()),
    "only a resting muscle": changed(smo2={SHOULDER: RECORD.smo2[SHOULDER]}),
    "no bouts": changed(bouts=()),
    "nothing worn": changed(smo2={}, heart_rate=NOTHING),
    "all gaps": changed(smo2={THIGH: NOTHING}),
    "too short": changed(bouts=(Bout(1, 100, 130),)),
    "no rest": AthleteRecord("Ada Lind", (Bout(1, 0, 300),), STEADY, {THIGH: STEADY}),
}


@pytest.fixture(autouse=True)
def invented_language() -> Iterator[None]:
    speak(spoken())
    yield
    speak(ENGLISH)


def english(page: str) -> list[str]:
    """Return each text of a page that was never translated; titles of pictures are heard."""
    bare = re.sub(r"<style>.*?</style>", "", page, flags=re.DOTALL)
    texts = (unescape(text).strip() for text in re.split(r"<[^>]*>", bare))
    names = NAMES | {"bpm"}
    return [text for text in texts if text and left_in_english(text, names)]


@pytest.mark.parametrize("record", RECORDS.values(), ids=RECORDS)
def test_the_page_speaks_it_throughout(record: AthleteRecord) -> None:
    page = sheet_html(HEADING, record, analyse_athlete(record))

    assert "ģy" in page
    assert english(page) == []


@pytest.mark.parametrize("record", RECORDS.values(), ids=RECORDS)
def test_paper_speaks_it_throughout(record: AthleteRecord) -> None:
    made = sheet_paper(HEADING, record, analyse_athlete(record))

    assert english(made.html) == []
    assert [text for drawn in made.pictures.values() for text in english(drawn)] == []


def test_what_was_left_in_english_would_be_seen() -> None:
    """The two tests above would go red."""
    assert english("<p>Ada Lind: Bout by bout</p>") == ["Ada Lind: Bout by bout"]
    assert english("<style>p { margin: 0 }</style><svg><title>trend</title></svg>") == ["trend"]


def test_the_page_names_the_language_that_it_speaks() -> None:
    """The invented language calls itself another form of English; see BCP 47."""
    speak(spoken("en_XA"))
    assert '<html lang="en-XA">' in sheet_html(HEADING, RECORD, analyse_athlete(RECORD))
    speak(ENGLISH)
    assert '<html lang="en" class="few">' in sheet_html(HEADING, RECORD, analyse_athlete(RECORD))
