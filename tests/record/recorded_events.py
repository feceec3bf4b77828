"""Any event, for property tests; and one of each kind, to read."""

from hypothesis import strategies as st

from livemon.events import (
    Assigned,
    Athlete,
    AthleteChanged,
    End,
    Event,
    Gap,
    Head,
    LinkDown,
    LinkUp,
    Mark,
    Notification,
    Sensor,
    SensorAdded,
)

HEART_RATE = "00002a37-0000-1000-8000-00805f9b34fb"
VENDOR = "5a1e0001-7c1f-4e6b-9d55-2f0a6c3b1e00"  # invented

EACH_KIND: tuple[tuple[Event, str], ...] = (
    (
        Notification(1_200_000_000, "belt", HEART_RATE, b"\x06\x3c"),
        '{"t_ns":1200000000,"type":"data","sensor":"belt","char":"2a37","hex":"063c"}',
    ),
    (
        Notification(1, 'a "b"', VENDOR, b""),
        '{"t_ns":1,"type":"data","sensor":"a \\"b\\"",'
        '"char":"5a1e0001-7c1f-4e6b-9d55-2f0a6c3b1e00","hex":""}',
    ),
    (LinkUp(0, "belt"), '{"t_ns":0,"type":"link_up","sensor":"belt"}'),
    (
        LinkDown(5, "belt", "out of reach"),
        '{"t_ns":5,"type":"link_down","sensor":"belt","reason":"out of reach"}',
    ),
    (
        SensorAdded(6, Sensor("oxi-2", "Oximeter 2", "plain"), "name = 1\n"),
        '{"t_ns":6,"type":"sensor","sensor":"oxi-2","name":"Oximeter 2","adapter":"plain",'
        '"adapter_text":"name = 1\\n"}',
    ),
    (
        AthleteChanged(7, Athlete("a1", "Zoë", (150, 158), 4.5, (("left thigh", 31.5),))),
        '{"t_ns":7,"type":"athlete","athlete":"a1","name":"Zo\\u00eb","band_bpm":[150,158],'
        '"adipose_mm":4.5,"own_low_pct":{"left thigh":31.5}}',
    ),
    (
        Assigned(8, "oxi-2", "a1", ("left thigh", "right calf")),
        '{"t_ns":8,"type":"assigned","sensor":"oxi-2","athlete":"a1",'
        '"sites":["left thigh","right calf"]}',
    ),
    (
        Assigned(8, "wheel", "a1", (), 2.1),
        '{"t_ns":8,"type":"assigned","sensor":"wheel","athlete":"a1","sites":[],"wheel_m":2.1}',
    ),
    (
        Mark(9, "m2", None, "lactate", (("lactate_mmol_l", 4.2),), 3, "m1"),
        '{"t_ns":9,"type":"mark","mark":"m2","athlete":null,"kind":"lactate",'
        '"details":{"lactate_mmol_l":4.2},"at_ns":3,"replaces":"m1"}',
    ),
    (
        Gap(10, 1_200_000_000_000, "asleep"),
        '{"t_ns":10,"type":"gap","missed_ns":1200000000000,"reason":"asleep"}',
    ),
    (End(11), '{"t_ns":11,"type":"end"}'),
)

times_ns = st.integers(0, 2**63 - 1)
ids = st.text(min_size=1, max_size=12)
numbers = st.floats(allow_nan=False, allow_infinity=False)
mark_values = st.none() | st.text(max_size=20) | st.integers(-(2**63), 2**63) | numbers
uuids = st.uuids().map(str) | st.integers(0, 0xFFFF).map(
    lambda number: f"0000{number:04x}-0000-1000-8000-00805f9b34fb"
)
sensors = st.builds(Sensor, ids, st.text(max_size=8), st.none() | ids)
bands = st.tuples(st.integers(30, 250), st.integers(30, 250))
lows = st.dictionaries(ids, numbers, max_size=3).map(lambda lows: tuple(lows.items()))
athletes = st.builds(
    Athlete, ids, st.text(max_size=8), st.none() | bands, st.none() | numbers, lows
)
sites = st.lists(st.text(max_size=8), max_size=3).map(tuple)
wheels = st.none() | st.floats(0, exclude_min=True, allow_nan=False, allow_infinity=False)
assignments = st.builds(Assigned, times_ns, ids, st.none() | ids, sites, wheels)
details = st.dictionaries(st.text(max_size=8), mark_values, max_size=4).map(
    lambda details: tuple(details.items())
)

json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=6,
)
events: st.SearchStrategy[Event] = st.one_of(
    st.builds(Notification, times_ns, ids, uuids, st.binary(max_size=40)),
    st.builds(LinkUp, times_ns, ids),
    st.builds(LinkDown, times_ns, ids, st.text(max_size=20)),
    st.builds(SensorAdded, times_ns, sensors, st.none() | st.text(max_size=20)),
    st.builds(AthleteChanged, times_ns, athletes),
    assignments,
    st.builds(
        Mark, times_ns, ids, st.none() | ids, ids, details, st.none() | times_ns, st.none() | ids
    ),
    st.builds(Gap, times_ns, times_ns, st.text(max_size=20)),
    st.builds(End, times_ns),
)

adapter_texts = st.dictionaries(ids, st.text(max_size=40), max_size=2).map(
    lambda texts: tuple(texts.items())
)
heads = st.builds(
    Head,
    ids,
    ids,
    st.lists(athletes, max_size=2).map(tuple),
    st.lists(sensors, max_size=2).map(tuple),
    adapter_texts,
    st.lists(assignments, max_size=2).map(tuple),
)

A_HEAD = Head(
    "2026-11-25T10:00:00+00:00",
    "k3f9",
    (Athlete("a1", "Zoë"),),
    (Sensor("belt", "Belt"), Sensor("oxi", "Oximeter", "plain")),
    (("plain", "# µ\n"),),
    (Assigned(0, "belt", "a1"), Assigned(0, "oxi", "a1", ("left thigh",))),
)


def beat(number: int) -> Notification:
    """Return the notification of that number: any two differ, and the number can be read back."""
    return Notification(number * 1_000_000, "belt", HEART_RATE, number.to_bytes(4, "big"))
