"""What a person can read on the Pace page, word for word."""

from dataclasses import replace

import pytest
import scenes

from livemon.estimate.balance import Balance
from livemon.estimate.steadiness import Steadiness
from livemon.estimate.trend import Forecast
from livemon.monitor.snapshot import Trust
from livemon.view.model import PaceModel, Tone
from livemon.view.present import present
from livemon.view.settings import ViewSettings
from livemon.warn.priority import Priority


def shown(name: str) -> PaceModel:
    return present(scenes.SCENES[name](), ViewSettings())


def test_a_warning_gives_its_reason_in_one_line() -> None:
    model = shown("warned")

    assert model.watch.sentence == (
        "Left thigh falling 4.1 %/min for 24 s while heart rate holds 158"
    )
    assert model.watch.priority is Priority.DRAIN


def test_a_warning_without_heart_rate_says_so() -> None:
    falling = scenes.falling()
    assert falling.warning is not None
    blind = replace(falling, warning=replace(falling.warning, bpm=None))

    model = present(scenes.lane(blind), ViewSettings())

    assert model.watch.sentence == "Left thigh falling 4.1 %/min for 24 s, heart rate not known"


def test_the_most_urgent_warning_speaks_and_the_others_are_named() -> None:
    model = shown("several warned")

    assert model.watch.priority is Priority.DRAIN
    assert model.watch.sentence.endswith("holds 158; right calf too")


def test_a_falling_site_in_full() -> None:
    site = shown("warned").sites[0]

    assert (site.name, site.text, site.balance) == ("Left thigh", "47", "Demand ahead")
    assert (site.rate, site.interval) == ("−4.1 %/min", "(−5.0 to −3.2)")
    assert site.detail == "19 points of room, low in 3–6 min"


def test_no_forecast_no_time() -> None:
    site = replace(scenes.falling(), forecast=None)

    assert present(scenes.lane(site), ViewSettings()).sites[0].detail == "19 points of room"


def test_one_point_is_singular() -> None:
    site = replace(scenes.falling(), room_pct=1.2, forecast=Forecast(5, 30))

    assert present(scenes.lane(site), ViewSettings()).sites[0].detail == (
        "1 point of room, low within 1 min"
    )


def test_no_room_left_is_said_in_words() -> None:
    site = replace(scenes.falling(), room_pct=0.3, own_low_pct=36.0, forecast=None)

    assert present(scenes.lane(site), ViewSettings()).sites[0].detail == "at own low 36 %"


def test_room_is_no_news_while_the_muscle_holds() -> None:
    site = scenes.site(baseline_pct=None, own_low_pct=65.0, room_pct=1.0)

    assert present(scenes.lane(site), ViewSettings()).sites[0].detail == ""


def test_an_unsure_trend_has_a_wedge_and_no_line() -> None:
    tilt = present(scenes.lane(scenes.site(balance=Balance.UNSURE)), ViewSettings()).sites[0].tilt

    assert tilt is not None
    assert not tilt.sure


def test_level_at_the_own_low_is_never_called_recovered() -> None:
    site = shown("at low").sites[0]

    assert (site.balance, site.detail) == ("At low", "near own low 28 %")


@pytest.mark.parametrize(
    ("bpm", "words"),
    [
        pytest.param(158, "in band, steady for 2:10", id="inside"),
        pytest.param(152, "in band, steady for 2:10", id="lower edge"),
        pytest.param(162.4, "in band, steady for 2:10", id="what is shown counts"),
        pytest.param(148, "4 under band, steady for 2:10", id="under"),
        pytest.param(165, "3 over band, steady for 2:10", id="over"),
    ],
)
def test_place_in_the_band(bpm: float, words: str) -> None:
    lane = scenes.with_heart_rate(scenes.quiet(), scenes.heart_rate(bpm))

    assert present(lane, ViewSettings()).heart_rate.line == words


def test_without_a_band_only_steadiness_is_said() -> None:
    lane = replace(scenes.quiet(), band_bpm=None)

    assert present(lane, ViewSettings()).heart_rate.line == "steady for 2:10"


def test_moving_heart_rate_says_which_way_and_that_warnings_wait() -> None:
    model = shown("recovering")

    assert model.heart_rate.line == "21 under band, falling 21 bpm/min"
    assert model.watch.sentence == "Heart rate is moving. Warnings wait."
    assert model.clock.title == "Recovery after bout 2"


def test_a_stale_strap_is_grey_and_says_its_age() -> None:
    model = shown("stale strap")

    assert model.heart_rate.text == "158"
    assert model.heart_rate.tone is Tone.OLD
    assert model.heart_rate.line == "strap silent 14 s"
    assert model.heart_rate.bpm is None, "nothing may point into the band"
    assert model.watch.sentence == "Strap silent 14 s. Warnings wait."
    assert model.watch.fault
    assert model.remarks == ("Strap: no link",)


def test_a_stale_site_keeps_its_number_but_no_trend() -> None:
    lane = scenes.lane(scenes.site(age_s=12.0, trust=Trust.STALE))
    site = present(lane, ViewSettings()).sites[0]

    assert (site.text, site.tone, site.detail) == ("66", Tone.OLD, "silent 12 s")
    assert (site.tilt, site.rate, site.balance) == (None, "–", "–")


def test_the_chart_holds_what_falls_into_its_window() -> None:
    lane = replace(
        scenes.warned(),
        bouts=((0.0, 100.0, "long ago", False), (240.0, 300.0, "row", False)),
        warnings=(
            (50.0, 90.0, "left thigh", Priority.DRAIN),
            (260.0, 290.0, "left thigh", Priority.CAUTION),
            (595.0, None, "right forearm", Priority.DRAIN),
            (595.0, None, "a site that was taken off", Priority.DRAIN),
        ),
    )
    chart = present(lane, ViewSettings(window_s=360)).chart

    assert [bout.label for bout in chart.bouts] == ["Row"]
    assert [(mark.on_s, mark.place) for mark in chart.warnings] == [(260.0, 0), (595.0, 1)]


@pytest.mark.parametrize(
    ("smo2_pct", "room_pct", "low"), [(37.0, None, None), (51.0, None, 50.0), (49.5, 0.0, 50.0)]
)
def test_a_low_that_the_muscle_has_passed_is_not_drawn(
    smo2_pct: float, room_pct: float | None, low: float | None
) -> None:
    """The next one is not known before it is left; room is unknown until then."""
    site = scenes.site("left thigh", smo2_pct, own_low_pct=50.0, room_pct=room_pct)

    chart = present(scenes.lane(site), ViewSettings()).chart

    assert chart.sites[0].own_low == low


def test_no_contact_hides_the_number_and_the_trend() -> None:
    model = shown("no contact")
    site = model.sites[0]

    assert (site.text, site.rate, site.tilt, site.balance) == ("–", "–", None, "–")
    assert site.detail == "no skin contact"
    assert model.watch.sentence == "Left thigh: no skin contact"
    assert model.remarks == ("Strap battery 12 %",)


def test_before_anything_has_come_dashes_and_what_is_awaited() -> None:
    model = shown("just begun")

    assert model.heart_rate.text == "–"
    assert model.heart_rate.tone is Tone.ABSENT
    assert model.watch.sentence == "Waiting for the strap and the muscle sensors"


def test_a_jumped_reading_is_a_fault_and_no_number() -> None:
    lane = scenes.lane(scenes.site(trust=Trust.SUSPECT))

    assert present(lane, ViewSettings()).sites[0].detail == "reading jumped, look at the sensor"
    assert present(lane, ViewSettings()).sites[0].text == "–"


def test_undecidable_heart_rate_says_why_no_warning_can_come() -> None:
    rate = scenes.heart_rate(158, steadiness=Steadiness.UNDECIDABLE, steady_for_s=None)
    model = present(scenes.with_heart_rate(scenes.quiet(), rate), ViewSettings())

    assert model.heart_rate.line == "in band"
    assert model.watch.sentence.startswith("Too little heart rate yet")


def test_quiet_is_one_quiet_line() -> None:
    assert shown("quiet").watch.sentence == "No warning"


def test_a_long_name_does_not_push_the_reason_out_of_the_sentence() -> None:
    sentence = shown("long names").watch.sentence

    assert sentence.endswith("while heart rate holds 158")
    assert len(sentence) < 90


def test_every_value_stands_in_the_table() -> None:
    model = shown("warned")
    table = dict(model.table)

    assert table["Watch"] == model.watch.sentence
    assert table["Heart rate, bpm"] == "158, in band, steady for 2:10"
    assert table["Left thigh, SmO₂ %"] == "47, 19 points of room, low in 3–6 min"
    assert table["Strap"] == "linked, battery 84 %"


def test_notices_of_the_program_stand_behind_the_sensors_remarks() -> None:
    model = present(scenes.no_contact(), ViewSettings(), ("not recording: disk full",))

    assert model.remarks == ("Strap battery 12 %", "not recording: disk full")


@pytest.mark.parametrize("name", scenes.SCENES)
def test_nothing_reads_nan_none_or_true(name: str) -> None:
    model = shown(name)
    words = [model.name, *model.remarks, model.watch.sentence, model.chart.summary]
    words += [text for row in model.table for text in row]
    words += [site.spoken for site in model.sites]

    for word in " ".join(words).replace(",", " ").split():
        assert word.lower() not in {"nan", "none", "true", "false", "inf"}


def test_unsure_is_a_word_and_not_a_guess() -> None:
    lane = scenes.lane(scenes.site(balance=Balance.UNSURE, trend=None))
    site = present(lane, ViewSettings()).sites[0]

    assert (site.balance, site.rate, site.interval) == ("Unsure", "–", "")
