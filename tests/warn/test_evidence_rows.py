"""The rows that are weighed hold what their names say, worked out here in another way."""

from collections.abc import Callable
from math import sqrt

import numpy as np
import pytest

from livemon.estimate.bank import KNEES, LINES_S
from livemon.estimate.falling import Fall, best_fall, falls_after_levels
from livemon.estimate.heart import HeartSteadiness
from livemon.estimate.muscle import Muscle
from livemon.estimate.pulse_shapes import LOOKS
from livemon.estimate.rivals import lead_over_onset
from livemon.warn import ending, evidence
from livemon.warn.evidence import UNKNOWN
from tests.warn.invented_muscles import AFRESH, STEADY_BPM, fed, line

#: A bout with a refilling after it, then level work and a fall of 30 s by 5 points.
SMO2 = [
    *line(90, 70, 70), *line(20, 70, 48), *line(60, 48, 48), *line(40, 48, 66), *line(60, 66, 66),
    *line(30, 66, 61),
]  # fmt: skip
#: Heart rate has risen by 20 bpm in the last minute but one, and holds.
BPM = [*line(180, 130, 130), *line(60, 130, 150), *line(60, 150, 150)]
TOLD = Fall(8.0, 1.0, 25, 62, 6.0)


def whole() -> tuple[Muscle, HeartSteadiness]:
    return fed(SMO2, BPM)


def of_fall(muscle: Muscle, heart: HeartSteadiness) -> dict[str, float]:
    """The row of evidence, by name."""
    assert muscle.readings is not None
    best = best_fall(muscle.readings, muscle.seconds.length, 1.0)
    assert best is not None
    row = evidence.evidence(muscle, heart, best)
    return dict(zip(evidence.NAMES, row, strict=True))


def of_end(muscle: Muscle, heart: HeartSteadiness, age_s: int = 200) -> dict[str, float]:
    """The row about the end of TOLD, by name."""
    return dict(zip(ending.NAMES, ending.ending(muscle, heart, TOLD, age_s), strict=True))


def test_bends_are_the_likeliest_of_each_span() -> None:
    muscle, heart = whole()
    assert muscle.readings is not None
    row = of_fall(muscle, heart)

    falls = list(falls_after_levels(muscle.readings, 180, 0.0))

    assert [f.span_s for f in falls] == [32, 62, 120]
    for fall in falls:
        told = [row[f"bend within {fall.span_s} s: {of}"] for of in ("rate", "error", "age")]
        assert told == [fall.rate_pct_per_min, fall.error_pct_per_min, fall.age_s]
        assert row[f"bend within {fall.span_s} s: certainty"] == pytest.approx(
            fall.rate_pct_per_min / fall.error_pct_per_min
        )
        of_rivals = [
            row[f"bend within {fall.span_s} s: {of}"] for of in ("over onset", "load changed")
        ]
        changed = heart.change_log_odds(fall.age_s + 2, fall.age_s + 20)
        assert of_rivals == [lead_over_onset(muscle.readings, fall), changed]


@pytest.mark.parametrize("rising", [line(60, 60, 72), line(60, 60, 60)])
def test_what_does_not_fall_has_no_rival(rising: list[float]) -> None:
    row = of_fall(*fed([*line(120, 60, 60), *rising], [STEADY_BPM] * 180))

    assert row["bend within 62 s: over onset"] == UNKNOWN
    assert row["bend within 62 s: load changed"] == UNKNOWN


@pytest.mark.parametrize(
    ("rate", "error", "asked"),
    [(0.5, 0.25, False), (0.51, 0.25, True), (2.0, 2.0, False), (2.0, 1.99, True)],
)
def test_rivals_are_asked_for_where_a_fall_stands_out(
    rate: float, error: float, asked: bool
) -> None:
    """By more than half a point a minute, and by more than its error."""
    muscle, heart = whole()
    readings = muscle.readings
    assert readings is not None
    readings.bends[:] = [-rate] * len(readings.bends)
    readings.bend_errors[:] = [error] * len(readings.bend_errors)
    row = of_fall(muscle, heart)

    for of in ("over onset", "load changed"):
        assert (row[f"bend within 62 s: {of}"] != UNKNOWN) is asked


def test_lines_and_knees_are_those_of_the_bank() -> None:
    muscle, heart = whole()
    readings, row = muscle.readings, of_fall(muscle, heart)
    assert readings is not None

    for i, s in enumerate(LINES_S):
        assert row[f"line of {s} s: rate"] == -readings.lines[i]
        assert row[f"line of {s} s: certainty"] == -readings.lines[i] / readings.line_errors[i]
    for i, (after_s, before_s) in enumerate(KNEES):
        z = -readings.knees[i] / readings.knee_errors[i]
        assert row[f"bent {after_s} s ago, before it {before_s} s: certainty"] == z


def test_the_best_fall_is_told_as_it_is() -> None:
    muscle, heart = whole()
    row = dict(
        zip(evidence.NAMES, evidence.evidence(muscle, heart, Fall(9, 2, 33, 120, 4)), strict=True)
    )

    told = [row[f"best: {of}"] for of in ("certainty", "rate", "age", "span")]

    assert told == [4, 9, 33, 120]


@pytest.mark.parametrize("told", [of_fall, of_end])
def test_noise_is_told_as_the_spread_of_differences(
    told: Callable[[Muscle, HeartSteadiness], dict[str, float]],
) -> None:
    muscle, heart = whole()
    row = told(muscle, heart)

    spreads = [row[f"noise: {lag} s"] for lag in (1, 4, 16, 64)]

    assert spreads == [sqrt(muscle.noise.semivariogram[i]) for i in (0, 2, 4, 6)]
    assert row["noise: persistence"] == muscle.persistence


@pytest.mark.parametrize(("looks", "told"), [(3, 3), (12, 12), (13, 12)])
def test_a_dozen_looks_at_the_noise_are_enough(looks: int, told: int) -> None:
    muscle, heart = whole()
    muscle.noise.looks = looks

    assert of_fall(muscle, heart)["looks at the noise"] == told


@pytest.mark.parametrize(("seconds", "told"), [(7, 7), (150, 150), (151, 150)])
def test_what_was_long_ago_makes_no_difference(seconds: int, told: int) -> None:
    muscle, heart = whole()
    muscle.calm_s = muscle.since_told_s = heart.steady_for_s = seconds
    row = of_fall(muscle, heart)

    assert row["seconds since trouble"] == row["seconds since a warning"] == told
    assert row["heart: seconds steady"] == told
    assert of_end(muscle, heart)["seconds since trouble"] == told


def test_lows_before_a_fall_and_the_refilling_before_it() -> None:
    """Against the plain way: every mean of five seconds, of the 90 s before each age."""
    muscle, heart = whole()
    row, window = of_fall(muscle, heart), muscle.seconds.window()
    level = float(np.mean(window[-5:]))

    for age_s in (15, 30, 60):
        before = window[180 - age_s - 90 : 180 - age_s]
        # The first five-second mean is left out: running sums begin after it.
        means = [float(np.mean(before[i : i + 5])) for i in range(1, 86)]
        refilled = max(b - a for i, a in enumerate(means) for b in means[i:])
        assert row[f"at {age_s} s: below the low"] == pytest.approx(min(means) - level)
        assert row[f"at {age_s} s: refilled"] == pytest.approx(refilled)
    assert row["above the lowest lately"] == pytest.approx(level - muscle.lowest_lately_pct)


@pytest.mark.parametrize(("length", "known"), [(20, False), (21, True)])
def test_six_seconds_before_a_fall_are_a_level_to_be_lower_than(length: int, known: bool) -> None:
    row = of_fall(*fed([*AFRESH, *line(length, 60, 57)], [STEADY_BPM] * (132 + length)))

    for name in ("at 15 s: below the low", "at 15 s: refilled"):
        assert (row[name] != UNKNOWN) is known
    assert row["at 30 s: below the low"] == row["at 30 s: refilled"] == UNKNOWN


@pytest.mark.parametrize("length", [31, 32, 59, 60])
def test_what_needs_more_history_is_unknown(length: int) -> None:
    muscle, heart = fed([*AFRESH, *line(length, 60, 55)], [STEADY_BPM] * (132 + length))
    rows = {False: of_fall(muscle, heart), True: of_end(muscle, heart)}

    for is_end, row in rows.items():
        of_line, of_knee = ("milder", "since {} s, after {} s: milder") if is_end else (
            "certainty", "bent {} s ago, before it {} s: certainty")  # fmt: skip
        for s in LINES_S:
            assert (row[f"line of {s} s: {of_line}"] != UNKNOWN) is (s <= length)
        for after_s, before_s in KNEES:
            assert (row[of_knee.format(after_s, before_s)] != UNKNOWN) is (
                after_s + before_s <= length
            )
        for span_s in (32, 62, 120):
            assert (row[f"bend within {span_s} s: age"] != UNKNOWN) is (span_s <= length)


def test_what_heart_rate_did_is_told_by_name() -> None:
    muscle, heart = whole()
    row = of_fall(muscle, heart)

    assert row["heart: drift"] == heart.drift_bpm_per_min == row["heart: longer line"]
    assert row["heart: above 30 s ago"] == pytest.approx(0.0, abs=0.6)
    assert row["heart: above 60 s ago"] == pytest.approx(1.8, abs=0.6)  # a mean of 10 s
    assert row["heart: above 120 s ago"] == pytest.approx(20.0, abs=0.6)
    assert row["heart: silent"] == row["heart: eased"] == 0.0
    assert row["heart: line"] == pytest.approx(0.0, abs=3.0)
    assert row["heart: speed of a tail"] == pytest.approx(0.0, abs=8.0)
    ways = {look: row[f"heart: certainty of a way begun {look[0]} s ago, {look[1]} s level"]
            for look in LOOKS}  # fmt: skip
    assert max(ways, key=lambda look: ways[look])[0] in range(90, 136)
    assert row["heart: certainty of a way"] > 0


def test_a_heart_that_was_high_has_eased() -> None:
    bpm = [*line(120, 160, 160), *line(60, 160, 110), *line(120, 110, 110)]

    assert of_fall(*fed(SMO2, bpm))["heart: eased"] == 1.0


def test_a_heart_heard_for_half_a_minute_has_little_to_tell() -> None:
    row = of_fall(*fed(SMO2, [*([None] * 265), *line(33, 150, 150), None, None]))

    assert row["heart: silent"] == 2
    assert row["heart: longer line"] == row["heart: above 30 s ago"] == UNKNOWN
    assert row["heart: speed of a tail"] == row["heart: certainty of a tail"] == UNKNOWN
    assert row["heart: certainty of a way begun 16 s ago, 15 s level"] != UNKNOWN
    assert row["heart: certainty of a way begun 20 s ago, 15 s level"] == UNKNOWN


@pytest.mark.parametrize(
    ("length", "back_s"), [(40, None), (41, None), (70, 30), (130, 60), (150, 120)]
)
def test_heart_rate_is_compared_with_what_is_known(length: int, back_s: int | None) -> None:
    row = of_fall(*fed(SMO2, [*([None] * (300 - length)), *line(length, 150, 150)]))

    known = [s for s in (30, 60, 120) if row[f"heart: above {s} s ago"] != UNKNOWN]

    assert known == [s for s in (30, 60, 120) if s + 10 <= length]
    assert back_s is None or back_s in known


def test_an_end_is_measured_by_the_rate_that_was_told() -> None:
    muscle, heart = whole()
    row, readings = of_end(muscle, heart, age_s=170), muscle.readings
    assert readings is not None

    assert (row["told: rate"], row["told: age"]) == (8.0, 170)
    assert row["line of 20 s: part of the told rate"] == -readings.lines[5] / 8.0
    assert row["line of 20 s: milder"] == (readings.lines[5] + 8.0) / readings.line_errors[5]
    assert row["since 6 s, after 44 s: part of the told rate"] == -readings.knees[6] / 8.0
    z = (readings.knees[6] + 8.0) / readings.knee_errors[6]
    assert row["since 6 s, after 44 s: milder"] == z
    bend = list(falls_after_levels(readings, 180, 0.0))[1]
    told = [row[f"bend within 62 s: {of}"] for of in ("certainty", "part of the told rate", "age")]
    assert told == [bend.certainty, bend.rate_pct_per_min / 8.0, bend.age_s]


@pytest.mark.parametrize(("age_s", "told"), [(5, 5), (180, 180), (181, 180)])
def test_a_told_fall_is_not_older_than_the_history(age_s: int, told: int) -> None:
    assert of_end(*whole(), age_s=age_s)["told: age"] == told


@pytest.mark.parametrize("age_s", [3, 4, 5, 6, 19, 20, 31, 32])
def test_nothing_older_than_the_fall_is_asked_whether_it_is_over(age_s: int) -> None:
    """A knee may take 12 s of the level before the fall for part of it, a line none."""
    row = of_end(*whole(), age_s=age_s)

    for s in LINES_S:
        assert (row[f"line of {s} s: milder"] != UNKNOWN) is (s <= age_s)
    for after_s, before_s in KNEES:
        name = f"since {after_s} s, after {before_s} s: milder"
        assert (row[name] != UNKNOWN) is (before_s <= age_s + 12)


def test_a_heart_that_is_not_heard_has_nothing_to_tell_of_an_end() -> None:
    muscle, _ = whole()
    row = of_end(muscle, HeartSteadiness())

    assert {row[name] for name in row if name.startswith("heart: ")} == {UNKNOWN}


@pytest.mark.parametrize(
    ("line_10_s", "line_20_s", "asked"),
    [
        (-6.5, -6.5, False),
        (-6.4, -6.4, False),
        (-6.3, -6.5, True),
        (-6.5, -6.3, True),
        (2.0, 2.0, True),
    ],
)
def test_only_what_is_milder_than_four_fifths_is_worth_asking(
    line_10_s: float,
    line_20_s: float,
    asked: bool,
) -> None:
    """They are 6.4 %/min of the 8 that were told."""
    muscle, _ = whole()
    assert muscle.readings is not None
    muscle.readings.lines[2], muscle.readings.lines[5] = line_10_s, line_20_s

    assert ending.worth_asking(muscle.readings, TOLD, 180) is asked


@pytest.mark.parametrize(("length", "asked"), [(9, False), (10, True)])
def test_a_line_needs_its_history_to_be_asked(length: int, asked: bool) -> None:
    muscle, _ = whole()
    assert muscle.readings is not None
    muscle.readings.lines[2] = muscle.readings.lines[5] = 0.0

    assert ending.worth_asking(muscle.readings, TOLD, length) is asked
