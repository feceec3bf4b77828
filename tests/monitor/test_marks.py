"""Marks are checked when they are entered, in words, and with the unit shown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.errors import UsageError
from livemon.events import Mark, MarkValue
from livemon.monitor.mark_fields import ABSOLUTE_MAXIMUM, FIELDS, MarkKind, NumberField
from livemon.monitor.marks import (
    checked_details,
    correction,
    happened_ns,
    number_in,
    text_in,
    withdrawal,
)


@pytest.mark.parametrize(
    ("kind", "entered", "details"),
    [
        pytest.param(
            MarkKind.LACTATE,
            {"lactate_mmol_l": "4,2", "sampling_site": "earlobe"},
            (("lactate_mmol_l", 4.2), ("sampling_site", "earlobe")),
            id="decimal comma",
        ),
        pytest.param(
            MarkKind.LACTATE, {"lactate_mmol_l": " 4.2 mmol/L "}, (("lactate_mmol_l", 4.2),),
            id="unit typed along",
        ),
        pytest.param(
            MarkKind.LACTATE, {"lactate_mmol_l": 0.1}, (("lactate_mmol_l", 0.1),), id="lowest"
        ),
        pytest.param(
            MarkKind.LACTATE, {"lactate_mmol_l": 30}, (("lactate_mmol_l", 30.0),), id="highest"
        ),
        pytest.param(MarkKind.RPE, {"rpe_cr10": "0,3"}, (("rpe_cr10", 0.3),), id="just noticeable"),
        pytest.param(MarkKind.RPE, {"rpe_cr10": 10}, (("rpe_cr10", 10.0),), id="extremely strong"),
        pytest.param(MarkKind.RPE, {"rpe_cr10": "*"}, (("rpe_cr10", ABSOLUTE_MAXIMUM),), id="•"),
        pytest.param(
            MarkKind.REPETITIONS, {"repetitions": "12"}, (("repetitions", 12),), id="a count"
        ),
        pytest.param(MarkKind.LOAD, {"load_kg": ",5"}, (("load_kg", 0.5),), id="half a kilogram"),
        pytest.param(MarkKind.BOUT_START, {}, (), id="nothing need be said of a bout"),
        pytest.param(
            MarkKind.BOUT_START,
            {"work": "  sled \n push ", "planned_s": "240", "low_bpm": 150, "high_bpm": "158"},
            (("work", "sled push"), ("planned_s", 240.0), ("low_bpm", 150), ("high_bpm", 158)),
            id="all of a bout",
        ),
        pytest.param(MarkKind.BAND, {"low_bpm": "", "high_bpm": None}, (), id="no band"),
    ],
)  # fmt: skip
def test_takes_what_people_type(
    kind: MarkKind, entered: dict[str, MarkValue], details: tuple[tuple[str, MarkValue], ...]
) -> None:
    assert checked_details(kind, entered) == details


@pytest.mark.parametrize(
    ("kind", "entered", "message"),
    [
        pytest.param(
            MarkKind.LACTATE, {"lactate_mmol_l": "42"},
            "lactate: expected 0.1 to 30 mmol/L, got 42 mmol/L", id="a slipped point",
        ),
        pytest.param(
            MarkKind.LACTATE, {"lactate_mmol_l": 0.09},
            "lactate: expected 0.1 to 30 mmol/L, got 0.09 mmol/L", id="too low",
        ),
        pytest.param(
            MarkKind.LACTATE, {"lactate_mmol_l": "four"},
            "lactate: 'four' is not a number; expected 0.1 to 30 mmol/L", id="no number",
        ),
        pytest.param(
            MarkKind.LACTATE, {"lactate_mmol_l": "nan"},
            "lactate: 'nan' is not a number; expected 0.1 to 30 mmol/L", id="NaN",
        ),
        pytest.param(
            MarkKind.LACTATE, {"lactate_mmol_l": "1.234,5"},
            "lactate: '1.234,5' is not a number; expected 0.1 to 30 mmol/L", id="thousands",
        ),
        pytest.param(
            MarkKind.LACTATE, {}, "lactate: missing; expected 0.1 to 30 mmol/L", id="missing"
        ),
        pytest.param(
            MarkKind.LACTATE, {"lactate_mmol_l": 4, "sampling_site": "elbow"},
            "sampling site: expected one of earlobe, fingertip, toe, vein, got 'elbow'",
            id="a place where nobody samples",
        ),
        pytest.param(
            MarkKind.RPE, {"rpe_cr10": 13}, "RPE (Borg CR10): expected 0 to 10, got 13",
            id="the other scale",
        ),
        pytest.param(
            MarkKind.REPETITIONS, {"repetitions": "8,5"},
            "repetitions: expected a whole number, got 8.5", id="half a repetition",
        ),
        pytest.param(
            MarkKind.BAND, {"low_bpm": 158, "high_bpm": 150},
            "heart-rate band: 158 to 150 bpm is none: the upper edge has to be higher",
            id="backwards",
        ),
        pytest.param(
            MarkKind.BAND, {"low_bpm": 150, "high_bpm": 150},
            "heart-rate band: 150 to 150 bpm is none: the upper edge has to be higher",
            id="no width",
        ),
        pytest.param(
            MarkKind.BAND, {"low_bpm": 150},
            "heart-rate band: give both edges, or neither for no band", id="one edge",
        ),
        pytest.param(
            MarkKind.LOAD, {}, "load: give one number, in one of kg, W, km/h, m/s", id="no load"
        ),
        pytest.param(
            MarkKind.LOAD, {"load_kg": 1, "load_w": 1},
            "load: give one number, in one of kg, W, km/h, m/s", id="two loads",
        ),
        pytest.param(
            MarkKind.NOTE, {"text": "x" * 501}, "note: at most 500 characters, got 501",
            id="an essay",
        ),
        pytest.param(MarkKind.NOTE, {"text": "  "}, "note: missing; expected text", id="blank"),
        pytest.param(
            MarkKind.BOUT_END, {"work": "run"},
            "bout_end: unknown value 'work'; it takes nothing", id="a stray value",
        ),
    ],
)  # fmt: skip
def test_refuses_in_words_with_unit_and_limits(
    kind: MarkKind, entered: dict[str, MarkValue], message: str
) -> None:
    with pytest.raises(UsageError) as caught:
        checked_details(kind, entered)

    assert str(caught.value) == message


keys = st.sampled_from(sorted({field.key for fields in FIELDS.values() for field in fields}))
typed = (
    st.none() | st.text(max_size=8) | st.integers() | st.floats() | st.sampled_from(["4,2", "•"])
)


@given(st.sampled_from(MarkKind), st.dictionaries(keys, typed, max_size=4))
def test_whatever_is_entered_is_taken_whole_or_refused(
    kind: MarkKind, entered: dict[str, MarkValue]
) -> None:
    try:
        details = checked_details(kind, entered)
    except UsageError:
        return
    assert checked_details(kind, dict(details)) == details
    limits = {f.key: (f.low, f.high) for f in FIELDS[kind] if isinstance(f, NumberField)}
    for key, value in details:
        if isinstance(value, (int, float)):
            assert limits[key][0] <= value <= limits[key][1]


def test_every_kind_is_in_the_table() -> None:
    assert set(FIELDS) == set(MarkKind)


def test_a_correction_keeps_the_moment_and_the_athlete() -> None:
    original = Mark(100, "m1", "a1", "rpe", (("rpe_cr10", 7.0),))
    corrected = correction(original, mark="m2", t_ns=900, details=(("rpe_cr10", 8.0),))

    assert corrected == Mark(900, "m2", "a1", "rpe", (("rpe_cr10", 8.0),), 100, "m1")
    moved = correction(corrected, mark="m3", t_ns=950, details=corrected.details, at_ns=50)
    assert happened_ns(moved) == 50
    assert withdrawal(moved, mark="m4", t_ns=960) == Mark(
        960, "m4", "a1", "withdrawn", (), 50, "m3"
    )


@pytest.mark.parametrize("value", ["7", None, float("nan"), float("inf"), 10**400])
def test_what_is_no_usable_number_is_not_known(value: MarkValue) -> None:
    """Marks of a damaged or foreign recording have not been through the checks."""
    assert number_in(Mark(0, "m", None, "rpe", (("rpe_cr10", value),)), "rpe_cr10") is None


def test_a_detail_of_another_type_is_not_text() -> None:
    assert text_in(Mark(0, "m", None, "note", (("text", 7),)), "text") == ""
    assert text_in(Mark(0, "m", None, "note"), "text") == ""
