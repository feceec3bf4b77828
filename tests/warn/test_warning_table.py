"""The table of the drain warning is total, and time alone tells or ends a warning."""

from itertools import product

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.warn.machine import NEXT, TOLD, Delays, Seen, State, Watch, step
from livemon.warn.settings import WarnSettings

DELAYS = Delays(on_s=2, off_s=3, patience_s=4)
BLIND = Watch(State.BLIND, 0, 0)
F, L, H, E, U = Seen.FALLING, Seen.LEVEL, Seen.HELD, Seen.ENDED, Seen.UNKNOWN


def run(*seen: Seen, delays: Delays = DELAYS) -> list[State]:
    """One input a second; return the state after each."""
    watch, states = BLIND, []
    for second, one in enumerate(seen):
        watch = step(watch, one, second, delays)
        states.append(watch.state)
    return states


def test_every_pair_has_an_answer() -> None:
    assert set(NEXT) == set(product(State, Seen))


def test_a_fall_is_told_after_the_on_delay() -> None:
    assert run(F, F, F)[-2:] == [State.WATCHING, State.WARNING]


def test_noise_may_hide_it_for_a_moment() -> None:
    assert run(F, H, H, H, F)[-1] is State.WARNING


def test_patience_ends() -> None:
    assert run(F, H, H, H, H)[-1] is State.WATCHING
    assert run(F, H, H, H, H, H)[-1] is State.QUIET


def test_patience_counts_from_the_last_sight_of_a_fall() -> None:
    assert run(H, H, F, H, H, F, H, H, H)[-1] is State.WARNING
    assert run(H, H, F, H, H, H, H)[-1] is State.WATCHING
    assert run(H, H, F, H, H, H, H, H)[-1] is State.QUIET


def test_what_is_shipped_waits_six_seconds_for_the_next_sight_of_a_fall() -> None:
    shipped = WarnSettings()
    delays = Delays(shipped.on_delay_s, shipped.off_delay_s, shipped.patience_s)

    assert run(F, *[H] * 5, F, delays=delays)[-1] is State.WARNING
    assert run(F, *[H] * 6, delays=delays)[-1] is State.WATCHING
    assert run(F, *[H] * 7, delays=delays)[-1] is State.QUIET


def test_held_alone_tells_nothing() -> None:
    assert State.WARNING not in run(F, H, H, H)


def test_an_end_has_to_be_seen_without_a_break() -> None:
    warned = (F, F, F)

    assert run(*warned, L, L, L)[-1] is State.EASING
    assert run(*warned, L, L, L, L)[-1] is State.QUIET
    assert run(*warned, L, L, F, L, L)[-1] is State.EASING


def test_lost_or_ended_is_off_at_once() -> None:
    assert run(F, F, F, E)[-1] is State.QUIET
    assert run(F, F, F, U)[-1] is State.BLIND


@example([(1, F), (2, F)])
@example([(1, F), (1, H), (1, F)])
@example([(1, F), (5, F)])
@example([(1, F), (1, U), (1, F)])
@given(st.lists(st.tuples(st.integers(1, 6), st.sampled_from(Seen)), max_size=120))
def test_what_is_told_was_seen_twice_and_never_denied_between(
    steps: list[tuple[int, Seen]],
) -> None:
    """A fresh warning comes on a sight of a fall, `on_s` or more after its first sight."""
    watch, second, first = BLIND, 0, None
    for gap, seen in steps:
        second += gap
        if seen in {L, E, U}:
            first = None
        elif seen is F and first is None:
            first = second
        before, watch = watch, step(watch, seen, second, DELAYS)
        if watch.state is State.WARNING and before.state not in TOLD:
            assert seen is F
            assert first is not None
            assert second - first >= DELAYS.on_s
