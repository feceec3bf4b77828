"""The clock counts down, what comes is announced in good time, and refilling is told in words."""

from dataclasses import replace

import pytest
import scenes

from livemon.estimate.balance import Balance
from livemon.monitor.snapshot import BoutState, LaneState, PlanState, RefillState, Trust
from livemon.view.clock_words import clock_model
from livemon.view.model import ClockModel, PaceModel
from livemon.view.plan_words import ANNOUNCED_BEFORE_S, announcement
from livemon.view.present import present
from livemon.view.refill_words import in_one_line, refill_words
from livemon.view.settings import ViewSettings
from livemon.view.terminal.picture import picture, status_line

NOW_S = scenes.NOW_S


def shown(lane: LaneState) -> PaceModel:
    return present(lane, ViewSettings())


def clock(**bout: object) -> ClockModel:
    state = replace(BoutState(2, "row", False, NOW_S, None), **bout)  # type: ignore[arg-type] # by name, in tests
    return clock_model(scenes.lane(bout=state))


@pytest.mark.parametrize(
    ("after_s", "elapsed", "planned"),
    [
        pytest.param(0.0, "4:00", "left of 4:00", id="just begun"),
        pytest.param(167.6, "1:13", "left of 4:00", id="on its way"),
        pytest.param(239.4, "0:01", "left of 4:00", id="the last second"),
        pytest.param(240.0, "0:00", "left of 4:00", id="the end"),
        pytest.param(252.4, "+0:12", "over 4:00", id="beyond"),
    ],
)
def test_a_planned_time_counts_down(after_s: float, elapsed: str, planned: str) -> None:
    model = clock(started_s=NOW_S - after_s, planned_s=240.0)

    assert model == ClockModel("Bout 2 · row", elapsed, planned)


def test_without_a_plan_the_clock_counts_up() -> None:
    assert clock(started_s=NOW_S - 72) == ClockModel("Bout 2 · row", "1:12", "")
    assert clock(planned_m=500.0).title == "Bout 2 · row · 500 m"


def test_a_rest_by_refilling_says_its_goal_and_its_limit() -> None:
    model = shown(scenes.half_back())

    assert model.clock == ClockModel(
        "Recovery after bout 2 · to 95 %", "4:20", "left of at most 5:00"
    )
    assert model.remarks[0] == "Step 4 of 12, next: rowing, 4 min, 152 to 162 bpm"


def test_a_step_that_is_no_bout_has_the_plans_clock() -> None:
    warming = PlanState("", 1, 3, "warm-up, 10 min", "row", NOW_S - 60, 600.0, None)

    assert clock_model(scenes.lane(bout=None, plan=warming)) == (
        ClockModel("Warm-up", "9:00", "left of 10:00")
    )
    assert clock_model(scenes.lane(bout=None, plan=replace(warming, now=""))).title == "Step 1"
    assert clock_model(scenes.lane(bout=None, plan=replace(warming, number=0))).title == ""


def test_what_comes_is_announced_in_good_time() -> None:
    model = shown(scenes.soon_over())

    assert model.watch.sentence == (
        "In 8 s: recovery, until refilled to 95 % of baseline, at most 5 min"
    )
    assert model.watch.announces
    assert model.remarks[0] == "Step 3 of 12, next: recovery"


def at(since_s: float, **changes: object) -> LaneState:
    plan = PlanState("", 3, 12, "row, 4 min", "run", NOW_S - since_s, 240.0, None)
    return scenes.lane(plan=replace(plan, **changes))  # type: ignore[arg-type] # by name, in tests


def test_it_says_what_begins_and_is_then_quiet_until_ten_seconds_before_the_end() -> None:
    assert announcement(at(4.9)) == "Now: row, 4 min"
    assert announcement(at(5.0)) == ""
    assert announcement(at(240 - ANNOUNCED_BEFORE_S - 0.1)) == ""
    assert announcement(at(240 - ANNOUNCED_BEFORE_S)) == "In 10 s: run"
    assert announcement(at(241.0)) == "In 0 s: run"  # the next tick will end it
    assert announcement(at(9_999.0, planned_s=None)) == ""


def test_the_end_of_the_plan_is_said_too() -> None:
    assert announcement(at(235.0, number=12, following="")) == "In 5 s: the plan is over"
    assert announcement(at(235.0, following="")) == "In 5 s: the next step"
    assert announcement(at(3.0, number=0)) == "The plan is over"
    assert announcement(at(10.0, number=0)) == ""
    assert announcement(scenes.lane()) == ""


@pytest.mark.parametrize(
    ("shares", "said"),
    [
        pytest.param((92.0, 99.0), "Nearly refilled. Next: run", id="both"),
        pytest.param((91.9, 99.0), "", id="one is not"),
        pytest.param((None, 99.0), "", id="one is not known"),
    ],
)
def test_a_rest_that_is_nearly_refilled_is_announced(
    shares: tuple[float | None, ...], said: str
) -> None:
    refill = tuple(RefillState("", share, True, 40.0, None) for share in shares)

    assert announcement(replace(at(40.0, refill_pct=95.0), refill=refill)) == said
    assert announcement(replace(at(40.0), refill=refill)) == "", "a rest of fixed length"


def test_a_warning_and_a_fault_come_before_the_plan() -> None:
    plan = scenes.soon_over().plan
    warned, faulty = replace(scenes.warned(), plan=plan), replace(scenes.no_contact(), plan=plan)

    assert "falling" in shown(warned).watch.sentence
    assert "no skin contact" in shown(faulty).watch.sentence


def test_refilling_takes_the_place_of_the_room() -> None:
    model = shown(scenes.half_back())
    thigh, forearm = model.sites

    assert (thigh.detail, thigh.further) == (
        "refilled to 89 % of baseline after 40 s",
        "half back in 21 s",
    )
    assert (forearm.detail, forearm.further) == ("refilled to 97 % of baseline after 40 s", "")
    assert "refilled to 89 % of baseline after 40 s, half back in 21 s" in thigh.spoken
    assert shown(scenes.quiet()).sites[0].further is None


def test_refilling_is_worded_by_what_is_known() -> None:
    bare = RefillState("", 92.4, False, 72.9, None)
    silent = RefillState("", None, True, 72.0, 13.8629)

    assert refill_words(bare) == ("refilled to 92 % of start level after 1:12", "")
    assert refill_words(silent) == ("", "half back in 14 s")
    assert in_one_line("refilled to 92 % of baseline after 48 s", "half back in 21 s") == (
        "92 % of baseline after 48 s, half back in 21 s"
    )


def test_a_muscle_at_its_low_is_never_said_to_refill() -> None:
    low = scenes.at_low()
    resting = replace(low, refill=(RefillState("left thigh", 41.0, True, 40.0, None),))

    assert shown(resting).sites[0].balance == "At low"
    assert shown(resting).sites[0].detail == "near own low 28 %"
    assert low.state.sites[0].balance is Balance.AT_LOW


def test_a_fault_is_said_in_place_of_the_refilling() -> None:
    lane = scenes.half_back()
    thigh = replace(lane.state.sites[0], trust=Trust.NO_CONTACT)
    off = replace(lane, state=replace(lane.state, sites=(thigh, lane.state.sites[1])))

    assert shown(off).sites[0].detail == "no skin contact"
    assert shown(off).sites[0].further is None


def test_the_terminal_says_the_same() -> None:
    model = shown(scenes.half_back())
    text = "\n".join(picture(model, 100))

    assert "4:20 left of at most 5:00" in text
    assert "refilled to 89 % of baseline after 40 s, half back in 21 s" in text
    assert "Step 4 of 12, next: rowing" in text
    assert "Left thigh 63 % Supply ahead +9.4 %/min, half back in 21 s" in status_line(model)
