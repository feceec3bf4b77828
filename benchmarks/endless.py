"""An invented gym that never stops training."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import count

from livemon.app.gym import Gym
from livemon.link.simulated.sensor import Packet
from livemon.synthetic.sessions import OVER_THE_LINE


def endless(gym: Gym) -> Gym:
    """Return the gym with sensors that begin their training again and again."""
    once_s = sum(phase.seconds for phase in OVER_THE_LINE.phases)
    for _, sensor in gym.sensors:
        sensor.packets = _again_and_again(tuple(sensor.packets), once_s)
    return gym


def _again_and_again(packets: tuple[Packet, ...], once_s: float) -> Iterator[Packet]:
    for times in count():
        yield from (replace(one, t_s=one.t_s + times * once_s) for one in packets)
