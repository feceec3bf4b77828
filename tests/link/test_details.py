"""What a sensor does not tell of itself is not known."""

from livemon.errors import RadioError
from livemon.link.details import read_details, read_serial
from livemon.link.simulated.virtual_loop import run_virtually
from livemon.link.status import Details


class Gone:
    """A link whose Bluetooth service died."""

    @property
    def characteristics(self) -> frozenset[str]:
        raise RadioError("The Bluetooth service does not run on this computer.")


def test_what_cannot_be_read_is_not_known() -> None:
    assert run_virtually(read_details(Gone())) == Details()
    assert run_virtually(read_serial(Gone())) is None
