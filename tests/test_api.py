"""The public interface is what `__all__` says, and every name of it is there."""

import livemon


def test_all_is_sorted_and_complete() -> None:
    assert livemon.__all__ == sorted(livemon.__all__)
    assert set(livemon.__all__) == set(livemon._HOME)


def test_every_public_name_can_be_had() -> None:
    for name in livemon.__all__:
        assert getattr(livemon, name).__doc__


def test_another_name_is_an_attribute_error() -> None:
    assert not hasattr(livemon, "Window")
