"""How warnings behave towards people."""

from dataclasses import replace

import scenes
from hypothesis import example, given
from hypothesis import strategies as st

from livemon.monitor.snapshot import LaneState, WarningState
from livemon.view.class_view import ClassView
from livemon.view.conduct import (
    NOTHING_YET,
    Conduct,
    Stage,
    acknowledge,
    observe,
    outcome,
    put_back,
    set_aside,
)
from livemon.view.conduct_words import (
    lane_after_conduct,
    lanes_after_conduct,
    log_rows,
    pace_after_conduct,
)
from livemon.view.flood import Flood
from livemon.view.lane_words import lane_model
from livemon.view.lanes_model import Urgency
from livemon.view.present import present
from livemon.view.settings import ViewSettings
from livemon.warn.priority import Priority


def lane(priority: Priority | None, on_s: float = 10.0) -> LaneState:
    warning = None if priority is None else WarningState(priority, on_s, 4.1, 24.0, 158.0)
    return scenes.lane(replace(scenes.falling(priority=None), warning=warning))


def stages(conduct: Conduct) -> list[Stage]:
    return [signal.stage for signal in conduct.signals]


def test_a_warning_calls_until_it_is_seen_and_ends_quietly() -> None:
    conduct = observe(NOTHING_YET, [lane(Priority.CAUTION)], 10)
    assert conduct.calls("a3")

    conduct = acknowledge(conduct, "a3", 22)
    assert stages(conduct) == [Stage.SEEN]
    assert not conduct.calls("a3")

    conduct = observe(conduct, [lane(None)], 70)
    assert conduct.signals == ()
    assert [outcome(done) for done in conduct.log] == ["seen after 12 s, over after 1:00"]


def test_a_warning_that_ended_unseen_lingers_until_it_is_seen() -> None:
    conduct = observe(NOTHING_YET, [lane(Priority.DRAIN)], 10)
    conduct = observe(conduct, [lane(None)], 40)
    assert stages(conduct) == [Stage.LINGERING]
    assert not conduct.calls("a3"), "what is over needs no blinking"

    conduct = observe(conduct, [lane(None)], 100)
    assert conduct.signals[0].off_s == 40
    conduct = acknowledge(conduct, "a3", 100)
    assert conduct.signals == ()
    assert outcome(conduct.log[0]) == "seen after 1:30, over after 30 s"


def test_a_warning_that_becomes_worse_calls_again() -> None:
    conduct = observe(NOTHING_YET, [lane(Priority.CAUTION)], 10)
    conduct = acknowledge(conduct, "a3", 12)
    conduct = observe(conduct, [lane(Priority.DRAIN)], 30)
    assert conduct.calls("a3")

    conduct = acknowledge(conduct, "a3", 31)
    conduct = observe(conduct, [lane(Priority.CAUTION)], 40)
    assert not conduct.calls("a3"), "easing is no reason to call"
    assert conduct.signals[0].priority is Priority.DRAIN, "the highest it had is kept"


def test_what_has_been_seen_stays_seen_while_nothing_gets_worse() -> None:
    conduct = acknowledge(observe(NOTHING_YET, [lane(Priority.CAUTION)], 10), "a3", 12)
    conduct = observe(conduct, [lane(Priority.CAUTION)], 13)

    assert stages(conduct) == [Stage.SEEN]


def test_a_second_warning_calls_though_the_first_was_seen() -> None:
    conduct = acknowledge(observe(NOTHING_YET, [lane(Priority.CAUTION)], 10), "a3", 11)
    conduct = observe(conduct, [lane(None)], 50)
    conduct = observe(conduct, [lane(Priority.CAUTION, on_s=90)], 90)

    assert conduct.calls("a3")
    assert len(conduct.log) == 1


def test_information_never_calls_and_is_not_logged() -> None:
    conduct = observe(NOTHING_YET, [lane(Priority.INFORMATION)], 10)

    assert conduct.signals == conduct.log == ()


def test_a_lane_set_aside_is_quiet_for_its_time_and_then_calls() -> None:
    conduct = set_aside(NOTHING_YET, "a3", 100)
    conduct = observe(conduct, [lane(Priority.DRAIN)], 99.9)
    assert not conduct.calls("a3")

    conduct = observe(conduct, [lane(Priority.DRAIN)], 100)
    assert conduct.calls("a3")


def test_what_ended_while_set_aside_is_logged_but_does_not_linger() -> None:
    conduct = observe(set_aside(NOTHING_YET, "a3", None), [lane(Priority.DRAIN)], 10)
    conduct = observe(conduct, [lane(None)], 30)

    assert conduct.signals == ()
    assert outcome(conduct.log[0]) == "not seen, over after 20 s"


def test_putting_a_lane_back_lets_what_is_on_call_anew() -> None:
    conduct = observe(set_aside(NOTHING_YET, "a3", None), [lane(Priority.DRAIN)], 10)
    conduct = put_back(acknowledge(conduct, "a3", 11), "a3")

    assert conduct.calls("a3")


def test_a_lane_that_leaves_is_logged() -> None:
    conduct = observe(observe(NOTHING_YET, [lane(Priority.DRAIN)], 10), [], 20)

    assert (conduct.signals, len(conduct.log)) == ((), 1)


def test_a_flood_begins_above_ten_in_ten_minutes_and_ends_below_five() -> None:
    """The numbers are those of ISA-18.2."""
    flood = Flood()
    for t_s in range(10):
        flood = flood.after(1, t_s)
    assert not flood.on
    flood = flood.after(1, 10)
    assert flood.on

    assert flood.after(0, 605.5).on, "five are left: 6 to 10"
    assert not flood.after(0, 606.0).on, "four are left"


def test_in_a_flood_only_drains_call() -> None:
    flooded = Conduct(flood=Flood(tuple(float(i) for i in range(11)), True))

    assert not observe(flooded, [lane(Priority.CAUTION)], 12).calls("a3")
    assert observe(flooded, [lane(Priority.DRAIN)], 12).calls("a3")


@example([(Priority.CAUTION, "seen"), (Priority.DRAIN, ""), (None, "")])
@example([(Priority.DRAIN, ""), (None, "seen"), (Priority.DRAIN, "")])
@given(
    st.lists(
        st.tuples(
            st.sampled_from([None, *Priority]), st.sampled_from(["", "seen", "aside", "back"])
        ),
        max_size=40,
    )
)
def test_no_warning_is_ever_lost(steps: list[tuple[Priority | None, str]]) -> None:
    """Each warning that came on is either still told or stands in the log, exactly once."""
    conduct, on_s, begun = NOTHING_YET, None, 0
    for t_s, (priority, act) in enumerate(steps):
        announced = priority in {Priority.CAUTION, Priority.DRAIN}
        if announced and on_s is None:
            on_s, begun = float(t_s), begun + 1
        elif not announced:
            on_s = None
        conduct = observe(conduct, [lane(priority, on_s or 0.0)], t_s)
        match act:
            case "seen":
                conduct = acknowledge(conduct, "a3", t_s)
            case "aside":
                conduct = set_aside(conduct, "a3", t_s + 3)
            case "back":
                conduct = put_back(conduct, "a3")

        assert len(conduct.signals) + len(conduct.log) == begun


def test_the_pace_page_says_what_was_missed_and_what_is_set_aside() -> None:
    conduct = observe(NOTHING_YET, [lane(Priority.DRAIN)], 10)
    conduct = observe(conduct, [lane(None)], 40)
    quiet = present(scenes.quiet(), ViewSettings())

    missed = pace_after_conduct(quiet, conduct, 60).watch
    assert missed.sentence == (
        "Not seen: Left thigh falling 4.1 %/min for 24 s while heart rate holds 158; over for 20 s"
    )
    assert not missed.calls

    aside = pace_after_conduct(present(scenes.warned(), ViewSettings()),
                               set_aside(NOTHING_YET, "a3", 300), 60)  # fmt: skip
    assert aside.watch.priority is None
    assert aside.watch.sentence.startswith("Set aside for 4:00. Left thigh falling")


def test_a_lane_says_the_same_in_few_words() -> None:
    warned = lane_model(scenes.warned(), 3, ViewSettings())
    aside = lane_after_conduct(warned, set_aside(NOTHING_YET, "a3", None), 0)
    assert (aside.words, aside.urgency, aside.priority) == ("Out of service", Urgency.CALM, None)

    conduct = observe(observe(NOTHING_YET, [lane(Priority.CAUTION)], 10), [lane(None)], 40)
    missed = lane_after_conduct(lane_model(scenes.quiet(), 3, ViewSettings()), conduct, 60)
    assert (missed.words, missed.urgency) == ("Left thigh fell, over for 20 s", Urgency.MISSED)


def test_the_head_always_shows_what_is_quiet_and_why() -> None:
    flooded = Conduct(aside=(("a1", None),), flood=Flood(tuple(float(i) for i in range(12)), True))
    model = ClassView(ViewSettings()).model(scenes.class_of(1), ())

    assert lanes_after_conduct(model, flooded).summary == (
        "12 warnings in 10 min: only drains call · 1 sensor fault · 1 set aside"
    )


def test_the_log_says_when_who_what_and_what_became_of_it() -> None:
    conduct = acknowledge(observe(NOTHING_YET, [lane(Priority.DRAIN)], 10), "a3", 22)
    conduct = observe(conduct, [lane(None)], 70)

    assert log_rows(conduct, {"a3": "Lane 3"}) == (
        (
            "0:10 Lane 3",
            "Drain: Left thigh falling 4.1 %/min for 24 s while heart rate holds 158; "
            "seen after 12 s, over after 1:00",
        ),
    )
