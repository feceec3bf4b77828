"""Moments as texts, against Python's calendar."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.exchange.stamps import Stamps, epoch_ns

BERLIN = ZoneInfo("Europe/Berlin")
#: 90 minutes before Central European Summer Time ends.
BEFORE_THE_CHANGE = "2026-10-25T02:30:00.250+02:00"


@example(999_500_000)  # rounds into the next second
@example(5400 * 1_000_000_000)  # the clock goes back
@given(st.integers(0, 12 * 3600 * 1_000_000_000))
def test_times_agree_with_the_calendar_to_a_millisecond(t_ns: int) -> None:
    since, utc, local = Stamps(BEFORE_THE_CHANGE, BERLIN).write(t_ns)

    true = datetime.fromisoformat(BEFORE_THE_CHANGE).astimezone(UTC) + timedelta(
        microseconds=t_ns / 1000
    )
    half_ms = timedelta(microseconds=501)
    assert abs(float(since) - t_ns / 1e9) <= 0.000501
    assert abs(datetime.fromisoformat(utc) - true) <= half_ms
    here = datetime.fromisoformat(utc).astimezone(BERLIN)
    assert local == here.strftime("%Y-%m-%d %H:%M:%S.") + f"{here.microsecond // 1000:03d}"


def test_a_decimal_comma_is_for_seconds_and_local_time() -> None:
    assert Stamps("2026-03-02T17:30:00+00:00", UTC, ",").write(1_500_000_000) == (
        "1,500",
        "2026-03-02T17:30:01.500Z",
        "2026-03-02 17:30:01,500",
    )


@pytest.mark.parametrize("label", ["", "yesterday", "2026-03-02T17:30:00", "9999-12-31T23:59:59Z"])
def test_an_unknown_start_leaves_the_calendar_empty(label: str) -> None:
    assert Stamps(label, UTC).write(2_000_000_000) == ("2.000", "", "")


def test_nanoseconds_since_1970_lose_nothing() -> None:
    when = datetime(2026, 3, 2, 17, 30, 0, 123456, tzinfo=UTC)

    assert epoch_ns(when) == 1_772_472_600_123_456_000
