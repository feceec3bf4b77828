"""The sheet for paper says what the sheet says, and stands on pictures it brings along."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from invented_sheet import THIGH, invented_record

from livemon.analyse.series import NOTHING
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.report.cautions import CAUTIONS
from livemon.report.paper import Paper, sheet_paper
from livemon.report.sheet import Heading

HEADING = Heading("Ada <b>Lind</b>", "12 May 2026", note="Well & good")


def paper(record: AthleteRecord) -> Paper:
    return sheet_paper(HEADING, record, analyse_athlete(record))


def test_every_picture_that_is_named_is_there_and_is_xml() -> None:
    made = paper(invented_record())

    named = re.findall(r'<img src="([^"]+)"', made.html)
    assert sorted(named) == sorted(made.pictures)
    assert len([name for name in named if name.startswith("bout")]) == 4
    for drawn in made.pictures.values():
        root = ElementTree.fromstring(drawn)
        assert root.tag == "{http://www.w3.org/2000/svg}svg"
        assert root.get("viewBox")


def test_names_and_notes_are_escaped() -> None:
    made = paper(replace(invented_record(), athlete="Ada <b>Lind</b>"))

    assert "<b>Lind" not in made.html
    assert "Ada &lt;b&gt;Lind" in made.html
    assert "Well &amp; good" in made.html


def test_words_findings_and_cautions_stand_on_it() -> None:
    said = re.sub(r"<[^>]+>", " ", paper(invented_record()).html)

    for words in (
        "Bout by bout",
        "What next",
        "How sure",
        "Draining",
        "Refilling",
        CAUTIONS[0][:40],
    ):
        assert words in said


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"bouts": ()}, id="no bouts"),
        pytest.param({"smo2": {}, "heart_rate": NOTHING}, id="nothing worn"),
        pytest.param({"smo2": {THIGH: NOTHING}}, id="all gaps"),
    ],
)
def test_bad_input_gives_words(change: dict[str, object]) -> None:
    made = paper(replace(invented_record(), **change))

    assert CAUTIONS[1] in made.html.replace("&#x27;", "'")
