"""A live session of an invented gym: simulated radio, virtual time, handed-in chance."""

import asyncio
from random import Random
from typing import Any

from livemon.app.gym import HOST, Gym
from livemon.app.live import Live
from livemon.link.clocks import Clocks
from livemon.link.simulated.virtual_loop import VirtualTimeLoop


def virtual_time() -> VirtualTimeLoop:
    """Return the loop that runs, whose time is virtual."""
    loop = asyncio.get_running_loop()
    assert isinstance(loop, VirtualTimeLoop)
    return loop


def live_of(gym: Gym, loop: VirtualTimeLoop, **more: Any) -> Live:
    """Return the session of everybody in `gym`; `more` goes to `Live` as it is."""
    return Live(
        gym.head,
        gym.plans,
        lambda: gym.radio(loop.now_ns),
        gym.registry,
        host=HOST,
        now_ns=loop.now_ns,
        chance=Random(5),
        clocks=lambda: Clocks(loop.now_ns(), loop.now_ns(), None),
        **more,
    )
