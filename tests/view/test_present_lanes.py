"""What a coach can read on the Lanes page."""

from dataclasses import replace

import scenes

from livemon.monitor.snapshot import LaneState
from livemon.view.class_view import ClassView
from livemon.view.lane_words import lane_model
from livemon.view.lanes_model import LaneModel, Urgency
from livemon.view.settings import ViewSettings
from livemon.view.site_choice import chosen_sites
from livemon.view.standstill import lanes_now
from livemon.warn.priority import Priority


def shown(lane: LaneState) -> LaneModel:
    return lane_model(lane, 3, ViewSettings())


def test_a_draining_lane_says_why_in_few_words() -> None:
    model = shown(scenes.warned())

    assert (model.urgency, model.priority) == (Urgency.DRAIN, Priority.DRAIN)
    assert model.words == "Left thigh falling 24 s, HR holds"


def test_a_fault_is_told_apart_from_physiology() -> None:
    model = shown(scenes.stale_strap())

    assert (model.urgency, model.priority) == (Urgency.FAULT, None)
    assert model.words == "Strap silent 14 s"
    assert shown(scenes.no_contact()).words == "Left thigh: no skin contact"


def test_a_warning_counts_more_than_a_fault_in_the_same_lane() -> None:
    lane = scenes.lane(scenes.falling(), scenes.no_contact().state.sites[0])

    assert shown(lane).urgency is Urgency.DRAIN


def test_information_is_less_urgent_than_a_fault() -> None:
    model = shown(scenes.lane(scenes.falling(priority=Priority.INFORMATION)))

    assert Urgency.FAULT < model.urgency < Urgency.CALM


def test_a_lane_that_has_not_begun_asks_for_nothing() -> None:
    model = shown(scenes.just_begun())

    assert (model.urgency, model.words) == (Urgency.CALM, "")


def test_a_quiet_lane_may_still_name_a_low_battery() -> None:
    model = shown(replace(scenes.quiet(), sensors=scenes.sensors(battery=12)))

    assert (model.urgency, model.words) == (Urgency.CALM, "Strap battery 12 %")


def test_a_quiet_lane_has_room_for_what_the_plan_announces() -> None:
    said = shown(scenes.soon_over())
    louder = shown(replace(scenes.warned(), plan=scenes.soon_over().plan))

    assert (said.urgency, said.words[:14]) == (Urgency.CALM, "In 8 s: recove")
    assert "falling" in louder.words


def test_the_head_counts_what_is_on() -> None:
    model = ClassView(ViewSettings()).model(scenes.class_of(12), ())

    assert model.title == "12 athletes"
    assert model.summary == "1 drain · 1 caution · 2 sensor faults"
    assert [lane.number for lane in model.lanes[:4]] == [3, 7, 1, 10]
    assert model.clock.elapsed == "", "not all share one clock"


def test_a_class_that_started_together_shares_one_clock() -> None:
    snapshot = scenes.session(scenes.quiet(), replace(scenes.quiet(), athlete="b"))

    model = ClassView(ViewSettings()).model(snapshot, ())
    assert (model.clock.elapsed, model.clock.planned) == ("1:48", "left of 5:00")
    assert model.title == "2 athletes · Bout 2 · sled push"


def test_a_quiet_class_says_so() -> None:
    snapshot = scenes.session(scenes.quiet())

    assert ClassView(ViewSettings()).model(snapshot, ()).summary == "No warning"


def test_selection_follows_the_order_on_the_screen() -> None:
    view = ClassView(ViewSettings())
    view.model(scenes.class_of(12), ())

    assert view.beside("a3", 1) == "a7"
    assert view.beside("a3", -1) == "a3"
    assert view.beside("nobody", 1) == "nobody"


def test_warned_sites_get_the_room() -> None:
    sites = shown(scenes.several_warned()).sites

    assert chosen_sites(sites, 3) == (0, 1, 2)
    assert chosen_sites(sites, 2) == (0, 2), "the quiet forearm gives way"
    assert chosen_sites(sites, 1) == (0,)


def test_a_session_that_stands_still_greys_all_lanes() -> None:
    snapshot = scenes.class_of(4)
    model = lanes_now(ClassView(ViewSettings()).model(snapshot, ()), snapshot, 5.0, held=False)

    assert model.summary == "Nothing new from the session for 5 s"
    assert all(lane.priority is None for lane in model.lanes)
    assert all(lane.urgency is Urgency.CALM for lane in model.lanes)
