"""A look around, and a look at Bluetooth before the start."""

import pytest
from link_gym import Gym, strap

from livemon.errors import RadioError
from livemon.link.look import check_radio, look_around
from livemon.link.plan import HEART_RATE_SERVICE
from livemon.link.simulated.virtual_loop import run_virtually


def test_looking_around_lists_what_is_in_the_air_and_what_is_held() -> None:
    async def main() -> None:
        gym = Gym({"one": strap(1), "two": strap(2)})
        for device in gym.sensors.values():
            gym.air.add(device)
        gym.air.leave_orphan(gym.sensors["two"])
        kinds = {HEART_RATE_SERVICE: "heart rate strap"}
        found = await look_around(gym.radio, 3.0, (), "x", kinds, now_ns=gym.now_ns)
        assert [(device.name, device.held) for device in found] == [
            ("Strap 1", False),
            ("Strap 2", True),
        ]
        gym.air.close()

    run_virtually(main())


def test_a_check_before_the_start_says_that_bluetooth_is_off() -> None:
    async def main() -> None:
        gym = Gym({})
        await check_radio(gym.radio)
        gym.air.switch_off()
        with pytest.raises(RadioError, match="switched off"):
            await check_radio(gym.radio)

    run_virtually(main())
