"""What people ask for on the Kit page, handed to the engine's thread."""

from collections.abc import Callable
from pathlib import Path

from livemon.app.kit_room import KitRoom
from livemon.view.kit_commands import Band
from livemon.view.kit_facts import KitFacts


class KitDesk:
    """Fulfils `KitCommands`; every call returns at once.

    Args:
        room: lives in the engine's thread; only `facts`, `people` and `new_id` are asked from here.
        call: has a function run in the engine's thread.
    """

    def __init__(self, room: KitRoom, call: Callable[[Callable[[], object]], None]) -> None:
        self._room = room
        self._call = call

    def facts(self) -> KitFacts:
        """Return how everything stands."""
        return self._room.facts

    def look_around(self, on: bool) -> None:
        """Scan although nothing is missing, or no longer."""
        self._ask(lambda: self._room.look_around(on))

    def list_everything(self, on: bool) -> None:
        """List also what does not look like a sensor, or no longer."""
        self._ask(lambda: self._room.list_everything(on))

    def add_athlete(self, name: str, band: Band, adipose_mm: float | None = None) -> str:
        """Add somebody; return their id, which is the old one if we have met them."""
        met = self._room.people.called(name)
        athlete = self._room.new_id("athlete") if met is None else met.athlete
        self._ask(lambda: self._room.there.add(athlete, name, band, adipose_mm))
        return athlete

    def change_athlete(
        self, athlete: str, name: str, band: Band, adipose_mm: float | None = None
    ) -> None:
        """Change a name, a band, or the thickness of fat and skin over the muscle."""
        self._ask(lambda: self._room.there.change(athlete, name, band, adipose_mm))

    def rename_sensor(self, sensor: str, name: str) -> None:
        """Let a sensor in use be called so."""
        self._ask(lambda: self._room.worn.rename(sensor, name))

    def ask_what(self, key: str) -> None:
        """Open the device `key` to learn what it offers."""
        self._ask(lambda: self._room.ask_what(key))

    def wear(
        self, key: str, reading: str, athlete: str, site: str, wheel_m: float | None = None
    ) -> None:
        """Read the device `key` from now on, worn by `athlete`."""
        self._ask(lambda: self._room.wear(key, reading, athlete, site, wheel_m))

    def assign(self, sensor: str, athlete: str, site: str, wheel_m: float | None = None) -> None:
        """Give a sensor in use to `athlete`, on this site or wheel."""
        self._ask(lambda: self._room.worn.assign(sensor, athlete, site, wheel_m))

    def take_off(self, sensor: str) -> None:
        """Set a sensor free."""
        self._ask(lambda: self._room.worn.take_off(sensor))

    def retry(self, sensor: str) -> None:
        """Try again at once."""
        self._ask(lambda: self._room.worn.retry(sensor))

    def choose(self, sensor: str, address: str) -> None:
        """Say that the device at `address` is `sensor`."""
        self._ask(lambda: self._room.choose(sensor, address))

    def add_adapter(self, path: str) -> None:
        """Check an adapter file and offer it."""
        self._ask(lambda: self._room.add_adapter(Path(path)))

    def start_baseline(self, athlete: str) -> None:
        """Begin the resting baseline."""
        self._ask(lambda: self._room.start_baseline(athlete))

    def stop_baseline(self, athlete: str) -> None:
        """Give it up; nothing is set."""
        self._ask(lambda: self._room.stop_baseline(athlete))

    def _ask(self, wish: Callable[[], object]) -> None:
        self._call(lambda: self._room.do(wish))
