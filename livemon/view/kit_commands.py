"""What a person can ask for on the Kit page; returns at once, the page shows what came of it."""

from typing import Protocol

from livemon.view.kit_facts import KitFacts

#: A heart-rate band to hold, in bpm.
Band = tuple[int, int] | None


class KitCommands(Protocol):
    """Carries out what people ask for, elsewhere."""

    def facts(self) -> KitFacts:
        """Return how everything stands."""

    def look_around(self, on: bool) -> None:
        """Scan although nothing is missing, or no longer."""

    def list_everything(self, on: bool) -> None:
        """List also what does not look like a sensor, or no longer."""

    def add_athlete(self, name: str, band: Band, adipose_mm: float | None = None) -> str:
        """Add somebody; return their id."""

    def change_athlete(
        self, athlete: str, name: str, band: Band, adipose_mm: float | None = None
    ) -> None:
        """Change a name, a band, or the thickness of fat and skin over the muscle."""

    def rename_sensor(self, sensor: str, name: str) -> None:
        """Let a sensor in use be called so."""

    def ask_what(self, key: str) -> None:
        """Open the device `key` to learn what it offers; the answer is in the facts' outcome."""

    def wear(
        self, key: str, reading: str, athlete: str, site: str, wheel_m: float | None = None
    ) -> None:
        """Read the device `key` from now on, worn by `athlete`; only an oximeter has a site."""

    def assign(self, sensor: str, athlete: str, site: str, wheel_m: float | None = None) -> None:
        """Give a sensor in use to `athlete`, on this site or wheel, from now on."""

    def take_off(self, sensor: str) -> None:
        """Set a sensor free."""

    def retry(self, sensor: str) -> None:
        """Try again at once."""

    def choose(self, sensor: str, address: str) -> None:
        """Say that the device at `address` is `sensor`."""

    def add_adapter(self, path: str) -> None:
        """Check an adapter file and offer it; the findings are in the facts' outcome."""

    def start_baseline(self, athlete: str) -> None:
        """Begin the resting baseline."""

    def stop_baseline(self, athlete: str) -> None:
        """Give it up; nothing is set."""
