"""Texts are looked up when shown; English needs no catalogue."""

import gettext
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from babel.messages import Catalog
from babel.messages.mofile import write_mo

from livemon.tongue import ENGLISH, said, said_n, speak, spoken_language, wished


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    speak(ENGLISH)


def catalogue(locale: str, fell: str = "{site} fiel") -> bytes:
    made = Catalog(locale=locale)
    made.add("{site} fell", fell)
    made.add(("{n} lane", "{n} lanes"), ("{n} Bahn", "{n} Bahnen"))
    file = BytesIO()
    write_mo(file, made)
    return file.getvalue()


def german(**texts: str) -> bytes:
    return catalogue("de", **texts)


def test_english_is_said_as_it_is_written() -> None:
    assert said("{site} fell", site="Calf") == "Calf fell"
    assert said("100 % {sure}") == "100 % {sure}"
    assert said_n("{n} lane", "{n} lanes", 1) == "1 lane"
    assert said_n("{n} lane", "{n} lanes", 0) == "0 lanes"


def test_another_language_is_said_with_its_own_plural() -> None:
    speak(gettext.GNUTranslations(BytesIO(german())))
    assert said("{site} fell", site="Calf") == "Calf fiel"
    assert said_n("{n} lane", "{n} lanes", 1) == "1 Bahn"
    assert said_n("{n} lane", "{n} lanes", 2) == "2 Bahnen"
    assert said("Not translated") == "Not translated"


def test_the_language_spoken_has_a_tag_as_html_wants_it() -> None:
    """BCP 47 parts a language and its country by a hyphen, gettext by an underscore."""
    assert spoken_language() == "en"
    speak(gettext.GNUTranslations(BytesIO(german())))
    assert spoken_language() == "de"
    speak(gettext.GNUTranslations(BytesIO(catalogue("pt_BR"))))
    assert spoken_language() == "pt-BR"


def test_a_file_that_names_no_language_leaves_it_open() -> None:
    unnamed = german().replace(b"Language: de", b"Wordwise: de")
    speak(gettext.GNUTranslations(BytesIO(unnamed)))
    assert spoken_language() == ""


@pytest.mark.parametrize("broken", ["{ort} fiel", "{} fiel", "{site fiel", "{site.x} fiel"])
def test_a_translation_that_cannot_be_filled_gives_way_to_english(broken: str) -> None:
    speak(gettext.GNUTranslations(BytesIO(german(fell=broken))))
    assert said("{site} fell", site="Calf") == "Calf fell"


def test_the_language_is_the_one_that_the_environment_asks_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    (folder / "livemon.mo").write_bytes(german())

    monkeypatch.setenv("LANGUAGE", "de_AT")
    assert wished(tmp_path).gettext("{site} fell") == "{site} fiel"
    monkeypatch.setenv("LANGUAGE", "fr")
    assert wished(tmp_path).gettext("{site} fell") == "{site} fell"


@pytest.mark.parametrize(
    "content",
    [
        pytest.param(b"", id="empty"),
        pytest.param(b"no catalogue at all, but words", id="something else"),
        pytest.param(german()[:60], id="cut off"),
        pytest.param(german().replace(b"charset=utf-8", b"charset=utf-0"), id="no charset"),
        pytest.param(german().replace(b"plural=(n", b"plural=(("), id="no plural"),
        pytest.param(german().replace(b"fiel", b"f\xffel"), id="no letters"),
    ],
)
def test_a_damaged_file_gives_way_to_the_next_language_and_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, content: bytes
) -> None:
    for language, written in (("de", content), ("nl", german(fell="{site} viel"))):
        folder = tmp_path / language / "LC_MESSAGES"
        folder.mkdir(parents=True)
        (folder / "livemon.mo").write_bytes(written)
    told: list[str] = []

    monkeypatch.setenv("LANGUAGE", "de")
    assert wished(tmp_path, damaged=told.append).gettext("{site} fell") == "{site} fell"
    assert told == ["de"]
    monkeypatch.setenv("LANGUAGE", "de:nl")
    assert wished(tmp_path).gettext("{site} fell") == "{site} viel"
