"""Outlets, read by the library's own inlets over loopback."""

from collections.abc import Iterator

import pytest
from known_session import EVENTS, HEAD, SITE, bpm_at
from lsl_loopback import WAIT_S, inlet_of, loopback_lsl

from livemon.events import Mark
from livemon.exchange.lsl_markers import Markers
from livemon.exchange.lsl_outlets import Outlets
from livemon.exchange.lsl_streams import Origin, ReadingStreams, Sent

ORIGIN = Origin("known", HEAD.started_utc)
ZERO_S = 1000.0  # the session's beginning on the library's clock


@pytest.fixture
def outlets() -> Iterator[Outlets]:
    loopback_lsl()
    made = Outlets()
    yield made
    made.close()


def sent_to(source: str) -> list[Sent]:
    streams = ReadingStreams(HEAD, ORIGIN)
    sent = (one for event in EVENTS for one in streams.samples(event))
    return [one for one in sent if one.stream.source == source]


def test_an_inlet_reads_values_and_raw_stamps(outlets: Outlets) -> None:
    sent = sent_to("livemon/heart_rate/a1/belt")
    outlets.open(sent[0].stream)
    inlet = inlet_of("livemon/heart_rate/a1/belt")

    for one in sent:
        outlets.push(one, ZERO_S + one.t_ns / 1e9)

    for second in range(len(sent)):
        values, stamp_s = inlet.pull_sample(WAIT_S)
        assert stamp_s == ZERO_S + second
        assert values[:2] == [second, bpm_at(second)]


def test_an_inlet_reads_units_and_source_ids(outlets: Outlets) -> None:
    source = f"livemon/oxygenation/a1/{SITE}/oxi"
    outlets.open(sent_to(source)[0].stream)

    info = inlet_of(source).info(WAIT_S)

    channel = info.desc().child("channels").child("channel")
    units = {}
    while not channel.empty():
        units[channel.child_value("label")] = channel.child_value("unit")
        channel = channel.next_sibling("channel")
    assert (units["smo2_pct"], units["thb"], units["quality_pct"]) == ("%", "g/dL", "%")
    facts = info.desc().child("livemon")
    assert facts.child_value("sensor") == "oxi"
    assert facts.child_value("site") == SITE
    assert info.source_id() == source
    assert info.nominal_srate() == 0.0
    assert "Zoë" not in info.as_xml()


def test_an_inlet_reads_marks_as_text(outlets: Outlets) -> None:
    markers = Markers(ORIGIN)
    outlets.open(markers.stream)
    inlet = inlet_of("livemon/marks")

    outlets.push(
        markers.mark(Mark(5, "m1", "a1", "bout_start", (("work", "Rudern über 5′"),))), 7.5
    )

    (text,), stamp_s = inlet.pull_sample(WAIT_S)
    assert stamp_s == 7.5
    assert '"work":"Rudern über 5′"' in text
    assert inlet.info(WAIT_S).type() == "Markers"


def test_a_reader_that_never_reads_loses_the_oldest_and_keeps_the_newest(outlets: Outlets) -> None:
    """Its buffer is 6000 samples; the outlet goes on without it."""
    (first, *_) = sent_to("livemon/heart_rate/a1/belt")
    outlets.open(first.stream)
    inlet = inlet_of("livemon/heart_rate/a1/belt")

    for number in range(50_000):
        outlets.push(first, float(number + 1))

    stamps = [inlet.pull_sample(WAIT_S)[1]]
    while (stamp_s := inlet.pull_sample(1.0)[1]) is not None:
        stamps.append(stamp_s)
    assert stamps[-1] == 50_000.0
    assert stamps == sorted(stamps)
