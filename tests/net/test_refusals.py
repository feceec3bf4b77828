"""Refusals are counted by relay and reason, and logged without letting anybody flood the log."""

import logging

import pytest

from livemon.net.refusals import Refusals


def test_they_are_counted_by_relay() -> None:
    refusals = Refusals()
    for relay in ("r1", "r1", "r2"):
        refusals.refuse(relay, "no batch")
    refusals.refuse("", "no topic")

    assert (refusals.of("r1"), refusals.of("r2"), refusals.of("r3")) == (2, 1, 0)
    assert refusals.total == 4
    assert refusals.reasons == ("no batch", "no batch", "no topic")
    assert refusals.newest == "refused no topic"


def test_a_flood_leaves_a_handful_of_log_lines(caplog: pytest.LogCaptureFixture) -> None:
    refusals = Refusals()
    with caplog.at_level(logging.WARNING):
        for _ in range(5000):
            refusals.refuse("r1", "no batch")

    assert [record.getMessage() for record in caplog.records] == [
        f"relay r1: no batch ({count} so far)" for count in (1, 10, 100, 1000)
    ]


def test_invented_reasons_do_not_fill_the_memory() -> None:
    refusals = Refusals()
    for number in range(10_000):
        refusals.refuse("r1", f"a batch of version {number}")

    assert refusals.total == 10_000
    assert len(refusals.reasons) <= 201
