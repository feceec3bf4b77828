"""Each notification finds its decoder: the sensor's adapter first, then the standard profiles."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.decode.battery import BATTERY_LEVEL
from livemon.decode.cycling import CSC_MEASUREMENT
from livemon.decode.cycling_power import CYCLING_POWER_MEASUREMENT
from livemon.decode.dispatch import Decoders
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.presentation_format import PRESENTATION_FORMAT
from livemon.decode.pulse_oximeter import CONTINUOUS_MEASUREMENT, SPOT_CHECK_MEASUREMENT
from livemon.decode.samples import (
    ArterialSample,
    BatterySample,
    HeartRateSample,
    IntensitySample,
    OxygenationSample,
)
from livemon.decode.shipped import shipped_adapters
from livemon.errors import AdapterError, DecodeError
from livemon.events import Notification, Sensor

DEMO = "aac41a88-f6e3-4dca-a514-e1a92ecef3af"
ADAPTERS = tuple(shipped_adapters().items())
STRAP = Sensor("strap", "invented strap")
OXIMETER = Sensor("ox", "invented oximeter", adapter="invented-demo")

AS_SMO2 = """
livemon_adapter = 1
name = "tissue-over-1822"
about = "Its maker says that the value is a muscle's."
service = "1822"
characteristic = "2A5F"
[[field]]
quantity = "smo2"
offset = 1
format = "medfloat16"
"""


def notified(sensor: str, characteristic: str, payload: str) -> Notification:
    return Notification(2_500_000_000, sensor, characteristic, bytes.fromhex(payload))


@pytest.mark.parametrize(
    ("characteristic", "payload", "expected"),
    [
        (HEART_RATE_MEASUREMENT, "06 48", HeartRateSample(2.5, 72, contact=True)),
        (BATTERY_LEVEL, "22", BatterySample(2.5, "strap", 34)),
        (CONTINUOUS_MEASUREMENT, "00 62 00 48 00", ArterialSample(2.5, "strap", 98.0, 72.0)),
        (SPOT_CHECK_MEASUREMENT, "00 62 00 48 00", ArterialSample(2.5, "strap", 98.0, 72.0)),
    ],
)
def test_standard_profiles_need_no_adapter(
    characteristic: str, payload: str, expected: object
) -> None:
    decoders = Decoders([STRAP], ())

    assert decoders.decode(notified("strap", characteristic, payload)) == (expected,)


def test_an_oximeter_is_read_by_its_adapter_for_the_site_it_is_on_now() -> None:
    decoders = Decoders([STRAP, OXIMETER], ADAPTERS)
    packet = notified("ox", DEMO, "7A 02 B0 04 07 01")

    assert decoders.decode(packet, sites=("calf",)) == (
        OxygenationSample(2.5, "calf", 63.4, 12.0, contact=True, sequence=7),
    )
    assert decoders.decode(packet) == ()


def test_an_adapter_belongs_to_its_sensor_alone() -> None:
    decoders = Decoders([STRAP, OXIMETER], ADAPTERS)

    with pytest.raises(DecodeError, match="no decoder for it"):
        decoders.decode(notified("strap", DEMO, "7A 02 B0 04 07 01"))


def test_arterial_saturation_becomes_smo2_only_where_an_adapter_says_so() -> None:
    tissue = Sensor("ox", "odd one", adapter="tissue-over-1822")
    decoders = Decoders([tissue], [("tissue-over-1822", AS_SMO2)])
    payload = "00 62 00 48 00"

    said = decoders.decode(notified("ox", CONTINUOUS_MEASUREMENT, payload), sites=("calf",))
    unsaid = decoders.decode(notified("other", CONTINUOUS_MEASUREMENT, payload), sites=("calf",))

    assert said == (OxygenationSample(2.5, "calf", 98.0),)
    assert unsaid == (ArterialSample(2.5, "other", 98.0, 72.0),)


def test_a_sensor_that_comes_later_brings_its_adapter_and_may_change_it() -> None:
    decoders = Decoders([], ())
    packet = notified("ox", DEMO, "7A 02 B0 04 07 01")

    decoders.add(OXIMETER, shipped_adapters()["invented-demo"])
    assert len(decoders.decode(packet, sites=("calf",))) == 1

    decoders.add(Sensor("ox", "now a strap"))
    with pytest.raises(DecodeError, match="no decoder for it"):
        decoders.decode(packet, sites=("calf",))


def test_a_restart_forgets_what_a_power_meter_counted() -> None:
    decoders = Decoders([], ())
    first = notified("meter", CYCLING_POWER_MEASUREMENT, "20 00 FA 00 00 00 00 00")
    second = notified("meter", CYCLING_POWER_MEASUREMENT, "20 00 FA 00 02 00 00 04")

    decoders.decode(first)
    (counted,) = decoders.decode(second)
    decoders.restart("meter")
    (afresh,) = decoders.decode(second)

    assert isinstance(counted, IntensitySample)
    assert isinstance(afresh, IntensitySample)
    assert (counted.cadence_per_min, afresh.cadence_per_min) == (120.0, None)


def test_a_wheel_has_a_speed_once_its_way_in_a_revolution_is_said() -> None:
    """4 revolutions in 1024 ticks of 1/1024 s; each 2.1 m makes 8.4 m/s."""
    decoders = Decoders([], ())
    first = notified("wheel", CSC_MEASUREMENT, "01 00 00 00 00 00 00")
    second = notified("wheel", CSC_MEASUREMENT, "01 04 00 00 00 00 04")

    def speed_m_per_s() -> float | None:
        decoders.restart("wheel")
        decoders.decode(first)
        (sample,) = decoders.decode(second)
        assert isinstance(sample, IntensitySample)
        return sample.speed_m_per_s

    unsaid = speed_m_per_s()
    decoders.on_wheel("wheel", 2.1)
    said = speed_m_per_s()
    decoders.on_wheel("wheel", None)

    assert (unsaid, said, speed_m_per_s()) == (None, pytest.approx(8.4), None)


def test_the_same_wheel_said_again_keeps_the_count_and_another_one_does_not() -> None:
    decoders = Decoders([], ())
    decoders.on_wheel("wheel", 2.1)
    decoders.decode(notified("wheel", CSC_MEASUREMENT, "01 00 00 00 00 00 00"))
    second = notified("wheel", CSC_MEASUREMENT, "01 04 00 00 00 00 04")

    decoders.on_wheel("wheel", 2.1)
    (kept,) = decoders.decode(second)
    decoders.on_wheel("wheel", 1.7)
    (afresh,) = decoders.decode(second)

    assert isinstance(kept, IntensitySample)
    assert isinstance(afresh, IntensitySample)
    assert (kept.speed_m_per_s, afresh.speed_m_per_s) == (pytest.approx(8.4), None)


def test_two_sensors_of_a_kind_do_not_share_a_count() -> None:
    decoders = Decoders([], ())

    decoders.decode(notified("one", CYCLING_POWER_MEASUREMENT, "20 00 FA 00 00 00 00 00"))
    (other,) = decoders.decode(
        notified("other", CYCLING_POWER_MEASUREMENT, "20 00 FA 00 02 00 00 04")
    )

    assert isinstance(other, IntensitySample)
    assert other.cadence_per_min is None


def test_a_descriptor_gives_no_sample_and_is_rejected_when_it_is_cut_off() -> None:
    decoders = Decoders([STRAP], ())

    assert decoders.decode(notified("strap", PRESENTATION_FORMAT, "06 FF AD 27 01 0D 01")) == ()
    with pytest.raises(DecodeError):
        decoders.decode(notified("strap", PRESENTATION_FORMAT, "06 FF AD 27 01 0D"))


def test_an_adapter_that_is_not_there_is_named() -> None:
    with pytest.raises(AdapterError) as caught:
        Decoders([Sensor("ox", "left", adapter="gone")], ADAPTERS)

    assert caught.value.path == "adapter"
    assert caught.value.problem == (
        "expected one of invented-demo, invented-plain, invented-rich, found 'gone'"
    )


def test_without_any_adapter_that_is_said() -> None:
    with pytest.raises(AdapterError, match="expected one of none, found 'gone'"):
        Decoders([Sensor("ox", "left", adapter="gone")], ())


@given(
    st.sampled_from(
        [
            HEART_RATE_MEASUREMENT,
            BATTERY_LEVEL,
            CONTINUOUS_MEASUREMENT,
            SPOT_CHECK_MEASUREMENT,
            DEMO,
        ]
    )
    | st.text(max_size=8),
    st.sampled_from(["strap", "ox", "nobody's"]),
    st.binary(max_size=48),
)
def test_any_notification_gives_samples_or_a_rejection(
    characteristic: str, sensor: str, payload: bytes
) -> None:
    decoders = Decoders([STRAP, OXIMETER], ADAPTERS)
    try:
        samples = decoders.decode(Notification(0, sensor, characteristic, payload), sites=("calf",))
    except DecodeError:
        return

    assert isinstance(samples, tuple)
