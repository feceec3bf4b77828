"""The words of the Kit page: signal, links, contact, what to do, the baseline, what is typed."""

from dataclasses import replace

import kit_scenes
import pytest
import scenes

from livemon.errors import UsageError
from livemon.estimate.resting import Rest, RestingState
from livemon.monitor.snapshot import Trust
from livemon.view.kit_advice import ADVICE, CAUTION
from livemon.view.kit_baseline_words import baseline_model, everybody_words
from livemon.view.kit_entry import named, read_band
from livemon.view.kit_facts import Device, InUse, KitFacts, Resting, Standing
from livemon.view.kit_model import AthleteModel
from livemon.view.kit_present import present_kit
from livemon.view.kit_rows import nearby_rows, worn_rows
from livemon.view.kit_signal_words import nearby_models, strength_words
from livemon.view.kit_worn_words import worn_model
from livemon.view.model import Tone
from livemon.view.settings import ViewSettings


@pytest.mark.parametrize(
    ("rssi_dbm", "words"),
    [
        (-60, "strong, −60 dBm"),
        (-61, "good, −61 dBm"),
        (-75, "good, −75 dBm"),
        (-76, "weak, −76 dBm"),
        (-85, "weak, −85 dBm"),
        (-86, "very weak, −86 dBm"),
        (None, ""),
    ],
)
def test_signal_strength_is_said_in_words_and_dbm(rssi_dbm: int | None, words: str) -> None:
    assert strength_words(rssi_dbm) == words


def test_two_of_one_name_are_told_apart_and_others_are_not_cluttered() -> None:
    first, second, other, nameless, silent = nearby_models(kit_scenes.nearby())

    assert first.name == "STRAP-17  …01:01"
    assert second.name == "STRAP-17  …01:02"
    assert other.name == "OXI-12"
    assert other.kind == "oximeter (invented-demo), remembered as Calf 2"
    assert nameless.name == "without a name  …01:04"
    assert (nameless.kind, nameless.likely) == ("does not say what it is", False)
    assert (silent.strength, silent.kind) == ("not heard", "remembered")


def test_a_link_that_stands_already_is_called_so() -> None:
    (device,) = nearby_models((Device("x", "OXI-1", "0A:01"),))

    assert device.strength == "already linked"


OXIMETER = InUse("s", "OXI-1", "invented-demo", "a1", ("left thigh",), Standing.LIVE, 61)


@pytest.mark.parametrize(
    ("trust", "smo2_pct", "value", "state", "hint"),
    [
        (Trust.GOOD, 62.0, "62 %", "live · battery 61 %", ""),
        (Trust.STALE, 62.0, "62 %", "live · silent 12 s · battery 61 %", ""),
        (Trust.NO_CONTACT, None, "–", "live · no skin contact · battery 61 %", "No skin contact"),
        (Trust.SUSPECT, 80.0, "–", "live · reading jumped", "The reading jumped"),
        (Trust.ABSENT, None, "–", "live · battery 61 %", ""),
    ],
)
def test_an_oximeter_says_what_its_reading_is_worth(
    trust: Trust, smo2_pct: float | None, value: str, state: str, hint: str
) -> None:
    lane = scenes.lane(
        scenes.site("left thigh", smo2_pct, trust=trust, age_s=12.0), name="Ada", athlete="a1"
    )
    model = worn_model(OXIMETER, lane, battery_low_pct=20)

    assert model.value == value
    assert model.state.startswith(state)
    assert model.hint.startswith(hint)
    assert model.needs is bool(hint)
    assert (model.tone is Tone.FRESH) is (trust is Trust.GOOD)


@pytest.mark.parametrize("standing", Standing)
def test_every_standing_of_a_link_has_words_and_only_live_is_fresh(standing: Standing) -> None:
    lane = scenes.lane(scenes.site("left thigh", 62), name="Ada", athlete="a1")
    model = worn_model(replace(OXIMETER, standing=standing), lane, battery_low_pct=20)

    assert model.state
    assert (model.tone is Tone.FRESH) is (standing is Standing.LIVE)


def test_a_strap_off_the_skin_says_what_to_do() -> None:
    lane = scenes.with_heart_rate(
        scenes.lane(athlete="a1"), scenes.heart_rate(None, trust=Trust.NO_CONTACT)
    )
    strap = InUse("s", "STRAP-1", "", "a1", (), Standing.LIVE)

    model = worn_model(strap, lane, battery_low_pct=20)

    assert model.value == "–"
    assert "wet the electrodes" in model.hint


@pytest.mark.parametrize(("battery_pct", "low"), [(21, False), (20, True), (None, False)])
def test_a_low_battery_asks_to_be_charged(battery_pct: int | None, low: bool) -> None:
    lane = scenes.lane(scenes.site("left thigh", 62), name="Ada", athlete="a1")
    model = worn_model(replace(OXIMETER, battery_pct=battery_pct), lane, battery_low_pct=20)

    assert ("charge it" in model.hint) is low
    assert model.needs is low


def test_the_summary_counts_who_needs_somebody() -> None:
    assert kit_scenes.empty().summary == "No sensor in use yet"
    assert kit_scenes.one().summary == "3 of 3 sensors give data"
    assert kit_scenes.six().summary == "13 of 18 sensors give data · 6 need you"


def test_sensors_stand_in_the_order_of_the_athletes() -> None:
    facts, at = kit_scenes.kit(6)
    mixed = KitFacts(in_use=tuple(reversed(facts.in_use)))

    who = [one.who for one in present_kit(mixed, at, ViewSettings()).worn]

    assert who == sorted(who)


def test_a_line_spoken_names_all_that_is_seen() -> None:
    strap = worn_rows(kit_scenes.one())[0]
    device = nearby_rows(kit_scenes.found())[0]

    assert strap.spoken == "Ada, heart rate, 158 bpm, STRAP-1, worn, good contact · battery 84 %"
    assert device.spoken == "STRAP-17  …01:01, heart-rate strap, strong, −48 dBm"


def state(verdict: Rest, level_pct: float | None = 63.0, drift: float = 3.4) -> RestingState:
    return RestingState(verdict, 120.0, 0.0, level_pct, drift, 4.4, True)


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (state(Rest.STABLE), "stable"),
        (state(Rest.DRIFTING), "set, but still rising by 3.4 %/min, keep still"),
        (state(Rest.DRIFTING, drift=-2.6), "set, but still falling by 2.6 %/min, keep still"),
        (state(Rest.UNSTEADY), "set, but unsteady by 4 points, keep still and see how it sits"),
        (state(Rest.SPARSE, None), "not set: too few readings, see how it sits"),
    ],
)
def test_a_baseline_says_what_it_found_and_why_to_doubt_it(found: RestingState, words: str) -> None:
    model = baseline_model(Resting("a1", False, (("left thigh", found),)))

    assert model.rows[0][2] == words
    assert model.clock == "Taken in 2:00"


def test_a_running_baseline_counts_down_and_says_what_is_wrong_now() -> None:
    running = RestingState(Rest.DRIFTING, 84.0, 36.0, 70.1, 3.4, 1.1, False)
    model = baseline_model(Resting("a1", True, (("left thigh", running),)))

    assert (model.clock, model.share) == ("0:36 left", 0.7)
    assert model.rows[0] == ("left thigh", "70 %", "still rising by 3.4 %/min, keep still")


def test_a_class_is_told_how_many_baselines_to_look_at() -> None:
    good = baseline_model(Resting("a1", False, (("left thigh", state(Rest.STABLE)),)))
    bad = baseline_model(Resting("a2", False, (("left thigh", state(Rest.SPARSE)),)))

    assert everybody_words((good, good)) == "2 taken."
    assert everybody_words((good, bad)) == "2 taken. Look at 1 that was not stable."
    assert everybody_words((good, replace(bad, running=True, clock="0:36 left"))) == (
        "0:36 left. 1 of 2 is resting."
    )


def test_advice_names_the_limits_and_the_caution_is_the_usual_one() -> None:
    """20 mmHg and 7 mm: McManus 2018, as cited beside the words."""
    words = " ".join(one.words for one in ADVICE)
    for part in ("20 mmHg", "7 mm", "light", "same place"):
        assert part in words
    assert "not a medical device" in CAUTION
    assert all("McManus" in one.source for one in ADVICE if " mm" in one.words)


@pytest.mark.parametrize(
    ("text", "band"),
    [("142-154", (142, 154)), (" 142 – 154 ", (142, 154)), ("", None), ("30-32", (30, 32)),
     ("248-250", (248, 250))],
)  # fmt: skip
def test_a_band_is_read(text: str, band: tuple[int, int] | None) -> None:
    assert read_band(text) == band


@pytest.mark.parametrize("text", ["142", "154-142", "29-140", "140-251", "140-141", "a-b"])
def test_what_is_no_band_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(UsageError, match="142–154"):
        read_band(text)


def test_a_name_is_found_however_it_is_written() -> None:
    ada = AthleteModel("a1", "Ada", "")

    assert named(" ada ", (ada,)) is ada
    assert named("Adam", (ada,)) is None
