"""A short invented recording whose every value is known, made without livemon's own decoders.

Heart rate packets come from Google's Bumble; oximeter packets are two 16-bit words put together
by hand, as the comment at the top of adapters/invented-plain.toml says.
"""

from pathlib import Path
from struct import pack

from bumble.profiles.heart_rate_service import HeartRateService

from livemon.decode.shipped import shipped_adapters
from livemon.events import Assigned, Athlete, End, Event, Head, Mark, Notification, Sensor
from livemon.record.at_once import write_recording

S = 1_000_000_000
HEART_RATE = "00002a37-0000-1000-8000-00805f9b34fb"
POWER = "00002a63-0000-1000-8000-00805f9b34fb"
OXIMETER = "9424e894-6ab9-455e-9e3b-74472d54392c"
SITE = "-left thigh"  # as a spreadsheet would take for a formula
SECONDS = 120

HEAD = Head(
    "2026-03-02T17:30:00.250+01:00",
    "known",
    (Athlete("a1", "=Zoë; Invented"), Athlete("a2", "Yan Invented")),
    (
        Sensor("belt", "Belt of Zoë"),
        Sensor("oxi", "Oximeter", "invented-plain"),
        Sensor("pedal", "Pedal"),
        Sensor("belt2", "Belt of Yan"),
    ),
    (("invented-plain", shipped_adapters()["invented-plain"]),),
    (
        Assigned(0, "belt", "a1"),
        Assigned(0, "oxi", "a1", (SITE,)),
        Assigned(0, "pedal", "a1"),
        Assigned(0, "belt2", "a2"),
    ),
)


def bpm_at(second: int) -> int:
    """Return the first athlete's heart rate."""
    return 120 + second % 40


def smo2_at(second: int) -> float:
    """Return saturation in %, in tenths."""
    return (650 - second) / 10


def thb_at(second: int) -> float:
    """Return total haemoglobin in g/dL, in hundredths."""
    return (1200 + second) / 100


def oximeter_ns(second: int) -> int:
    """Return when the oximeter's packet came: at an odd nanosecond."""
    return second * S + 333_333_333


def bumble_packet(bpm: int, rr_s: tuple[float, ...] = ()) -> bytes:
    """Encode a Heart Rate Measurement by somebody else's encoder."""
    measured = HeartRateService.HeartRateMeasurement(
        bpm, sensor_contact_detected=True, rr_intervals=rr_s
    )
    return bytes(measured)


def _events() -> list[Event]:
    events: list[Event] = []
    for second in range(SECONDS):
        heard = bumble_packet(bpm_at(second), (0.5, 0.75))
        events.append(Notification(second * S, "belt", HEART_RATE, heard))
        events.append(Notification(second * S + 1, "belt2", HEART_RATE, bumble_packet(99)))
        words = pack("<HH", round(smo2_at(second) * 10), round(thb_at(second) * 100))
        events.append(Notification(oximeter_ns(second), "oxi", OXIMETER, words))
        # Cycling Power Measurement: flags, then W as a signed 16-bit number.
        events.append(Notification(second * S + 2, "pedal", POWER, pack("<Hh", 0, 200 - second)))
    events += [
        Mark(10 * S, "m1", "a1", "bout_start", (("work", "rowing, +5 %"), ("planned_s", 60))),
        Mark(70 * S, "m2", "a1", "recovery_start"),
        Mark(71 * S, "m3", "a1", "load", (("load_w", 180), ("bout", "m1"))),
        Mark(80 * S, "m4", "a1", "rpe", (("rpe_cr10", 7.0), ("bout", "m1"))),
        Mark(90 * S, "m5", "a1", "lactate", (("lactate_mmol_l", 4.2),)),
        Mark(91 * S, "m6", "a1", "note", (("text", "Zoë's knee again"),)),
        Mark(92 * S, "m7", "a1", "load", (("load_w", 185), ("bout", "m1")), 71 * S, "m3"),
    ]
    events.sort(key=lambda event: event.t_ns)
    return [*events, End(SECONDS * S)]


EVENTS = tuple(_events())


def known_recording(folder: Path) -> Path:
    """Write it; return where."""
    path = folder / "known.jsonl"
    write_recording(path, HEAD, EVENTS)
    return path
