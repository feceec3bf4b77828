"""The thread that forces a journal onto the disk."""

from queue import Queue
from threading import Event

from livemon.record.sync import Syncer

LONG_S = 600.0  #: never comes to pass; a test that waited for it would be seen to hang


def test_a_wake_is_answered_though_the_second_is_not_over() -> None:
    calls: Queue[str] = Queue()
    syncer = Syncer(every_s=LONG_S)
    syncer.start(lambda: calls.put("sync"))
    syncer.wake()

    assert calls.get(timeout=5) == "sync"
    syncer.stop()
    assert calls.qsize() <= 2  # at the stop and after it; one wake is no reason to run on


def test_it_goes_on_by_itself() -> None:
    third = Event()
    calls: list[int] = []

    def sync() -> None:
        calls.append(1)
        if len(calls) == 3:
            third.set()

    syncer = Syncer(every_s=0.001)
    syncer.start(sync)

    assert third.wait(timeout=5)
    syncer.stop()


def test_stopping_syncs_a_last_time() -> None:
    calls: list[int] = []
    syncer = Syncer(every_s=LONG_S)
    syncer.start(lambda: calls.append(1))
    syncer.stop()

    assert calls


def test_stopping_what_never_started_is_fine() -> None:
    Syncer().stop()
