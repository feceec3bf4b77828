"""Draw the picture of docs/kit.md: an invented gym on the simulated radio, on virtual time.

QT_QPA_PLATFORM=offscreen python docs/pictures/draw_kit.py
"""

import asyncio  # noqa: TID251 - runs a session, as app does
import os
from itertools import count
from pathlib import Path
from random import Random  # noqa: TID251 - the same

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication  # noqa: TID251 - draws the page itself

from livemon.app.gym import HOST, gym_of
from livemon.app.kit_adapters import KitAdapters
from livemon.app.kit_desk import KitDesk
from livemon.app.kit_room import KitRoom
from livemon.app.live import Live
from livemon.decode.shipped import shipped_adapters
from livemon.events import Head
from livemon.link.clocks import Clocks
from livemon.link.simulated.virtual_loop import VirtualTimeLoop, run_virtually
from livemon.synthetic.sessions import TRAININGS
from livemon.synthetic.training import ADAPTER
from livemon.view.kit_facts import STRAP
from livemon.view.kit_model import KitModel
from livemon.view.kit_present import present_kit
from livemon.view.qt.colours import palette
from livemon.view.qt.kit_page import KitPage
from livemon.view.qt.lettering import Lettering
from livemon.view.qt.look import Look
from livemon.view.settings import ViewSettings
from livemon.view.theme import DARK

HERE = Path(__file__).parent
HEAD = Head("2026-01-01T10:00:00+00:00", "picture")


async def session() -> tuple[KitModel, KitDesk]:
    """Equip two of three athletes, and return the page in the middle of a rest."""
    loop = asyncio.get_running_loop()
    assert isinstance(loop, VirtualTimeLoop)
    gym = gym_of(TRAININGS["over-the-line"], athletes=3, seed=3)
    for number, (_, sensor) in enumerate(gym.sensors):
        sensor.name = f"{'STRAP' if number % 3 == 0 else 'OXI'}-{11 + number}"
        sensor.rssi_dbm = -48 - 5 * number
    adapters, numbers = KitAdapters(shipped_adapters()), count(1)
    live = Live(
        HEAD,
        (),
        lambda: gym.radio(loop.now_ns),
        (),
        host=HOST,
        now_ns=loop.now_ns,
        chance=Random(5),
        clocks=lambda: Clocks(loop.now_ns(), loop.now_ns(), None),
        services=frozenset(adapters.kinds()),
    )
    room = KitRoom(
        live, HEAD, adapters, host=HOST, now_ns=loop.now_ns, new_id=lambda k: f"{k}{next(numbers)}"
    )
    desk = KitDesk(room, lambda wish: wish() and None)
    running = asyncio.create_task(live.run())
    desk.look_around(True)
    await asyncio.sleep(8)
    for athlete in (desk.add_athlete("Ada", (142, 154)), desk.add_athlete("Ben", (138, 150))):
        ours = gym.sensors[:3] if athlete == "athlete1" else gym.sensors[3:6]
        sites = ("", "left thigh", "right forearm")
        for (_, sensor), site in zip(ours, sites, strict=True):
            desk.wear(sensor.address, ADAPTER if site else STRAP, athlete, site)
    await asyncio.sleep(20)
    desk.start_baseline("athlete1")
    await asyncio.sleep(38)
    model = present_kit(desk.facts(), live.latest, ViewSettings())
    running.cancel()
    await asyncio.wait({running})
    return model, desk


def draw() -> None:
    """Draw the picture."""
    application = QApplication([])
    model, desk = run_virtually(session())
    page = KitPage(Look(DARK, Lettering(), True), desk)
    page.setPalette(palette(DARK))
    page.resize(1366, 768)
    page.show()
    page.show_model(model)
    page.worn.setCurrentIndex(page.worn.model().index(1))
    application.processEvents()
    page.grab().save(str(HERE / "kit-dark.png"))


if __name__ == "__main__":
    draw()
