"""A translation that can't be filled is refused before anybody sees it."""

from pathlib import Path

import pytest
from babel.messages import Catalog

from translations.__main__ import compiled
from translations.places import complaints
from translations.texts import template, texts


def catalogue(text: str | tuple[str, str], translated: str | tuple[str, str]) -> Catalog:
    made = Catalog(locale="de")
    made.add(text, translated)
    return made


@pytest.mark.parametrize(
    ("text", "translated", "complaint"),
    [
        ("{site} fell", "gefallen", "'gefallen' has no {site}"),
        ("{site} fell", "{site} {ort} fiel", "'{site} {ort} fiel' has an unknown {ort}"),
        (("{n} lane", "{n} lanes"), ("{n} Bahn", "Bahnen"), "'Bahnen' has no {n}"),
    ],
)
def test_a_wrong_place_is_named(
    text: str | tuple[str, str], translated: str | tuple[str, str], complaint: str
) -> None:
    assert complaints(catalogue(text, translated)) == [complaint]


def test_an_open_brace_is_named() -> None:
    (complaint,) = complaints(catalogue("{site} fell", "{site fiel"))
    assert complaint.startswith("'{site fiel': ")


@pytest.mark.parametrize(
    ("text", "translated"),
    [
        ("{site} fell for {time}", "seit {time} fiel {site}"),
        ("{site} fell", ""),
        (("{n} lane", "{n} lanes"), ("{n} Bahn", "{n} Bahnen")),
    ],
)
def test_moved_and_missing_translations_are_fine(
    text: str | tuple[str, str], translated: str | tuple[str, str]
) -> None:
    assert complaints(catalogue(text, translated)) == []


def test_every_text_of_ours_can_be_translated_place_by_place() -> None:
    """A one that goes without the {n} of its many could be translated by nobody."""
    ours = Catalog()
    for message in template():
        if message.id:
            ours.add(message.id, message.id)
    assert complaints(ours) == []


_WRONG = 'msgid "{site} fell"\nmsgstr "gefallen"\n'
_RIGHT = 'msgid "{site} fell"\nmsgstr "{site} fiel"\n'


def test_only_what_can_be_filled_is_compiled(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    head = 'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\n"\n\n'
    path = tmp_path / "livemon.po"

    path.write_text(head + _WRONG, encoding="utf-8")
    assert not compiled(path)
    assert "has no {site}" in capsys.readouterr().err
    assert not path.with_suffix(".mo").exists()

    path.write_text(head + _RIGHT, encoding="utf-8")
    assert compiled(path)
    assert path.with_suffix(".mo").exists()


def test_the_template_has_what_the_screens_say() -> None:
    found = {message.id for message in template()}
    assert {"In balance", "No warning", "in band", ("{n} athlete", "{n} athletes")} <= found


def test_texts_are_found_where_they_are_marked() -> None:
    source = 'a = marked("One")\nsaid("Two {x}", x=1)\nsaid(a)\nsaid_n("{n} a", "{n} b", 3)'
    assert list(texts(source)) == [(1, "One"), (2, "Two {x}"), (4, ("{n} a", "{n} b"))]
