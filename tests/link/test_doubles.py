"""What is one packet delivered twice."""

from hypothesis import example, given
from hypothesis import strategies as st

from livemon.link.doubles import WINDOW_NS, DoubleGuard


@example([(0, "a", b"x"), (WINDOW_NS, "a", b"x")])
@example([(0, "a", b"x"), (WINDOW_NS + 1, "a", b"x")])
@example([(0, "a", b"x"), (1, "a", b"y"), (2, "a", b"x")])
@example([(0, "a", b"x"), (0, "b", b"x")])
@given(
    st.lists(
        st.tuples(st.integers(0, 10**8), st.sampled_from("ab"), st.sampled_from([b"x", b"y"])),
        max_size=20,
    ).map(sorted)
)
def test_only_the_same_bytes_on_the_same_characteristic_within_20_ms_are_doubles(
    packets: list[tuple[int, str, bytes]],
) -> None:
    guard = DoubleGuard()
    kept: list[tuple[int, str, bytes]] = []
    for t_ns, uuid, payload in packets:
        before = [one for one in kept if one[1] == uuid][-1:]
        expected = bool(before) and before[0][2] == payload and t_ns - before[0][0] <= 20_000_000
        assert guard.is_double(t_ns, uuid, payload) is expected
        if not expected:
            kept.append((t_ns, uuid, payload))
