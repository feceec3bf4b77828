"""Samples and markers for LSL, against the invented session whose values are known."""

import json
from collections import defaultdict
from math import isnan

import pytest
from known_session import EVENTS, HEAD, SECONDS, SITE, S, bpm_at, oximeter_ns, smo2_at, thb_at

from livemon.events import Mark, Notification
from livemon.exchange.lsl_markers import Markers
from livemon.exchange.lsl_streams import Origin, ReadingStreams, Sent, Stream
from livemon.monitor.changes import WarningOn
from livemon.warn.priority import Priority

LIVE = Origin("known", HEAD.started_utc)
WITH_NAMES = Origin("known", HEAD.started_utc, names=True)


def sent_by_source(origin: Origin) -> dict[str, list[Sent]]:
    streams = ReadingStreams(HEAD, origin)
    found: dict[str, list[Sent]] = defaultdict(list)
    for event in EVENTS:
        for sent in streams.samples(event):
            found[sent.stream.source].append(sent)
    return found


@pytest.fixture(scope="module")
def known() -> dict[str, list[Sent]]:
    return sent_by_source(LIVE)


def column(sent: list[Sent], label: str) -> list[float]:
    (stream,) = {one.stream for one in sent}
    place = [channel.label for channel in stream.channels].index(label)
    return [float(one.values[place]) for one in sent]


def test_there_is_one_stream_for_each_athlete_sensor_site_and_kind_of_reading(
    known: dict[str, list[Sent]],
) -> None:
    assert set(known) == {
        "livemon/heart_rate/a1/belt",
        "livemon/rr_intervals/a1/belt",
        f"livemon/oxygenation/a1/{SITE}/oxi",
        "livemon/intensity/a1/pedal",
        "livemon/heart_rate/a2/belt2",
    }


def test_heart_rate_comes_as_it_was_sent(known: dict[str, list[Sent]]) -> None:
    sent = known["livemon/heart_rate/a1/belt"]

    assert column(sent, "bpm") == [bpm_at(second) for second in range(SECONDS)]
    assert [one.t_ns for one in sent] == [second * S for second in range(SECONDS)]
    assert column(sent, "session_s") == list(range(SECONDS))
    assert set(column(sent, "used")) == {1.0}


def test_oxygenation_has_the_units_of_its_adapter(known: dict[str, list[Sent]]) -> None:
    sent = known[f"livemon/oxygenation/a1/{SITE}/oxi"]
    units = {channel.label: channel.unit for channel in sent[0].stream.channels}

    assert column(sent, "smo2_pct") == pytest.approx([smo2_at(s) for s in range(SECONDS)])
    assert column(sent, "thb") == pytest.approx([thb_at(s) for s in range(SECONDS)])
    assert [one.t_ns for one in sent] == [oximeter_ns(second) for second in range(SECONDS)]
    assert (units["smo2_pct"], units["thb"], units["session_s"]) == ("%", "g/dL", "s")


def test_what_is_not_known_is_nan(known: dict[str, list[Sent]]) -> None:
    sent = known["livemon/intensity/a1/pedal"]

    assert column(sent, "power_w") == [200 - second for second in range(SECONDS)]
    assert all(isnan(value) for value in column(sent, "speed_m_per_s"))


def test_a_reading_that_the_session_refuses_is_sent_and_marked() -> None:
    streams = ReadingStreams(HEAD, LIVE)
    heard = Notification(0, "belt", "00002a37-0000-1000-8000-00805f9b34fb", b"\x06\xff")
    sent = list(streams.samples(heard))

    assert [one.values[-1] for one in sent] == [0.0]  # 255 bpm


def test_a_stream_says_where_it_comes_from(known: dict[str, list[Sent]]) -> None:
    facts = dict(known[f"livemon/oxygenation/a1/{SITE}/oxi"][0].stream.facts)

    assert facts["athlete"] == "a1"
    assert facts["sensor"] == "oxi"
    assert facts["site"] == SITE
    assert facts["session"] == "known"
    assert facts["replayed"] == "no"


def all_words(stream: Stream) -> str:
    return json.dumps([stream.name, stream.source, stream.facts], ensure_ascii=False)


def test_names_are_told_only_where_they_are_asked_for() -> None:
    silent, told = sent_by_source(LIVE), sent_by_source(WITH_NAMES)

    assert not any("Zoë" in all_words(sent[0].stream) for sent in silent.values())
    assert all("Invented" in all_words(sent[0].stream) for sent in told.values())
    assert set(silent) == set(told)


def test_a_replay_is_never_taken_for_the_live_session() -> None:
    replayed = sent_by_source(Origin("known", HEAD.started_utc, replayed=True))

    assert all(source.startswith("livemon/replay/known/") for source in replayed)
    assert all(sent[0].stream.name.startswith("livemon replay") for sent in replayed.values())


def mark_text(origin: Origin, mark: Mark) -> dict[str, object]:
    (text,) = Markers(origin).mark(mark).values
    return dict(json.loads(str(text)))


def test_a_mark_is_stamped_with_when_it_happened() -> None:
    late = Mark(90 * S, "m7", "a1", "load", (("load_w", 185),), 71 * S, "m3")

    assert Markers(LIVE).mark(late).t_ns == 71 * S
    assert mark_text(LIVE, late) == {
        "type": "mark", "athlete": "a1", "t_s": 71.0, "mark": "m7", "kind": "load",
        "replaces": "m3", "details": {"load_w": 185},
    }  # fmt: skip


def test_free_text_of_a_mark_needs_asking() -> None:
    note = Mark(S, "m1", "a1", "note", (("text", "Zoë's knee again"),))

    assert mark_text(LIVE, note)["details"] == {}
    assert mark_text(WITH_NAMES, note)["details"] == {"text": "Zoë's knee again"}


def test_a_warning_is_a_marker_at_its_own_time() -> None:
    began = WarningOn("thigh", 12.5, Priority.CAUTION, 9.0, 20.0, 150.0)
    sent = Markers(LIVE).change("a1", began)

    assert sent.t_ns == 12_500_000_000
    assert json.loads(str(sent.values[0]))["type"] == "warning_on"
