"""What an adapter file says about the link becomes the plan for it."""

import pytest

from livemon.decode.adapter import parse_adapter
from livemon.decode.shipped import shipped_adapters
from livemon.link.doubles import WINDOW_NS
from livemon.link.plan import HEART_RATE_SERVICE, adapter_plan, heart_rate_plan
from livemon.link.radio import Channel
from livemon.link.silence import Patience

ADAPTER = """
livemon_adapter = 1
name = "invented"
service = "7a0c0001-6e1d-4c55-9b7e-10f3c2a94e11"
characteristic = "7a0c0002-6e1d-4c55-9b7e-10f3c2a94e11"
{more}
[[field]]
quantity = "smo2"
offset = 0
format = "uint8"
not_known = [255]
"""


def planned(more: str = ""):
    return adapter_plan("s1", parse_adapter(ADAPTER.format(more=more), where="x").connection)


def test_a_strap_is_read_by_the_heart_rate_profile() -> None:
    plan = heart_rate_plan("s1")

    assert plan.channels == (Channel("00002a37-0000-1000-8000-00805f9b34fb", HEART_RATE_SERVICE),)
    assert plan.writes == ()


def test_only_what_the_file_says_is_done() -> None:
    plan = planned()

    assert (plan.writes, plan.acquire, plan.pair) == ((), False, False)
    assert plan.channels[0].service == "7a0c0001-6e1d-4c55-9b7e-10f3c2a94e11"


def test_the_file_may_ask_for_a_pairing_and_for_a_socket() -> None:
    plan = planned("pair = true\nuse_start_notify = false")

    assert (plan.acquire, plan.pair) == (True, True)


@pytest.mark.parametrize(
    ("rate", "period_s", "doubles_ns"),
    [
        pytest.param("", 1.0, WINDOW_NS, id="not said"),
        pytest.param("rate_hz = 0.1", 10.0, WINDOW_NS, id="one that sends rarely"),
        pytest.param("rate_hz = 4.0", 0.25, WINDOW_NS, id="4 Hz"),
        pytest.param("rate_hz = 100.0", 0.01, 5_000_000, id="a fast one may repeat itself"),
    ],
)
def test_the_rate_says_how_long_silence_is_normal(
    rate: str, period_s: float, doubles_ns: int
) -> None:
    plan = planned(rate)

    assert plan.patience == Patience.for_period(period_s)
    assert plan.doubles_ns == doubles_ns


@pytest.mark.parametrize("name", sorted(shipped_adapters()))
def test_each_shipped_adapter_makes_a_plan(name: str) -> None:
    adapter = parse_adapter(shipped_adapters()[name], where=name)
    plan = adapter_plan("s1", adapter.connection)

    assert plan.channels == (Channel(adapter.characteristic, adapter.service),)
    assert plan.writes == adapter.connection.start_up
