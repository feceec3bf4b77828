"""The registry and the roster as files: what is written is read back, what is wrong is named."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.errors import ConfigError
from livemon.events import Athlete
from livemon.link.identity import HostAddress, Remembered
from livemon.link.registry_file import format_registry, parse_registry
from livemon.link.roster import Entry, Wears, format_roster, parse_roster

texts = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Cf", "Zs", "Zl", "Zp", "Cn", "Co")),
    min_size=1,
    max_size=80,
)
remembered = st.builds(
    Remembered,
    sensor=texts,
    name=texts,
    advertised_name=st.none() | texts,
    adapter=st.none() | texts,
    serial=st.none() | texts,
    battery_pct=st.none() | st.integers(0, 100),
    addresses=st.lists(st.builds(HostAddress, texts, texts), max_size=3).map(tuple),
)
percents = st.floats(0, 100)
lows = st.dictionaries(texts, st.none() | percents, max_size=3)


@st.composite
def entries(draw: st.DrawFn) -> Entry:
    by_site = draw(lows)
    athlete = Athlete(
        athlete=draw(texts),
        name=draw(st.just("") | texts),
        band_bpm=draw(st.none() | st.tuples(st.integers(20, 120), st.integers(121, 250))),
        adipose_mm=draw(st.none() | percents),
        own_low_pct=tuple((site, low) for site, low in by_site.items() if low is not None),
    )
    some_sites = st.lists(st.sampled_from(sorted(by_site)), max_size=2) if by_site else st.just([])
    wears = draw(st.lists(st.builds(Wears, texts, some_sites.map(tuple)), max_size=2))
    return Entry(athlete, tuple(by_site), tuple(wears))


@example([Remembered('a"\\b', "Ähre \U0001f600", addresses=(HostAddress("h", "AA"),))])
@given(st.lists(remembered, max_size=4, unique_by=lambda one: one.sensor))
def test_a_registry_comes_back_as_it_was(registry: list[Remembered]) -> None:
    text = format_registry(tuple(registry))

    assert parse_registry(text, where="sensors.toml") == tuple(registry)


@given(st.lists(entries(), max_size=4, unique_by=lambda one: one.athlete.athlete))
def test_a_roster_comes_back_as_it_was(roster: list[Entry]) -> None:
    assert parse_roster(format_roster(roster), where="roster.toml") == tuple(roster)


SENSOR = 'livemon_sensors = 1\n[[sensor]]\nid = "s1"\nname = "Anna\'s strap"\n'
ATHLETE = 'livemon_roster = 1\n[[athlete]]\nid = "a1"\n'


@pytest.mark.parametrize(
    ("text", "path", "problem"),
    [
        pytest.param("livemon_sensors = 2", "livemon_sensors", "from 1 to 1", id="version"),
        pytest.param("sensor = [", "", "not TOML", id="not TOML"),
        pytest.param(SENSOR + "batery_pct = 5", "sensor[0].batery_pct", "did you mean", id="typo"),
        pytest.param(SENSOR + "battery_pct = 101", "sensor[0].battery_pct", "0 to 100", id="range"),
        pytest.param(
            SENSOR + '[[sensor]]\nid = "s1"\nname = "x"', "sensor[1].id", "twice", id="twice"
        ),
        pytest.param(
            SENSOR + '[[sensor.address]]\nhost = "h"',
            "sensor[0].address[0].address",
            "missing",
            id="half an address",
        ),
    ],
)
def test_what_is_wrong_in_a_registry_is_named(text: str, path: str, problem: str) -> None:
    with pytest.raises(ConfigError) as caught:
        parse_registry(text, where="sensors.toml")

    assert caught.value.where == "sensors.toml"
    assert caught.value.path == path
    assert problem in caught.value.problem


@pytest.mark.parametrize(
    ("text", "path", "problem"),
    [
        pytest.param(
            ATHLETE + "band_bpm = [160, 150]", "athlete[0].band_bpm", "smaller", id="band"
        ),
        pytest.param(ATHLETE + "band_bpm = [15, 150]", "athlete[0].band_bpm[0]", "20", id="slow"),
        pytest.param(
            ATHLETE + "adipose_mm = -1", "athlete[0].adipose_mm", "0 to 100", id="below 0"
        ),
        pytest.param(ATHLETE + "adipose_mm = nan", "athlete[0].adipose_mm", "number", id="nan"),
        pytest.param(
            ATHLETE + '[[athlete.wears]]\nsensor = "s1"\nsites = ["calf"]',
            "athlete[0].wears[0].sites",
            "sites of this athlete (none), found 'calf'",
            id="a site that is not theirs",
        ),
        pytest.param(
            ATHLETE + ('[[athlete.site]]\nname = "thigh"\nown_low_pct = 30\n' * 2),
            "athlete[0].site[1].name",
            "twice",
            id="site twice",
        ),
    ],
)
def test_what_is_wrong_in_a_roster_is_named(text: str, path: str, problem: str) -> None:
    with pytest.raises(ConfigError) as caught:
        parse_roster(text, where="roster.toml")

    assert caught.value.path == path
    assert problem in caught.value.problem


@given(st.text(max_size=200))
def test_any_text_is_a_file_or_an_error_of_ours(text: str) -> None:
    for parse in (parse_registry, parse_roster):
        with pytest.raises(ConfigError):
            parse(text, where="x")
