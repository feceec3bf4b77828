"""What to do on a link: what to subscribe to, what to write at its start, how long to be patient.

A plan comes from the adapter file, or from the heart rate profile. Nothing is ever written that is
not in it.
"""

from dataclasses import dataclass, field
from typing import Final

from livemon.decode.adapter_file import Connection, StartUpWrite
from livemon.decode.heart_rate import HEART_RATE_MEASUREMENT
from livemon.decode.uuids import sig_uuid
from livemon.link.doubles import WINDOW_NS
from livemon.link.radio import Channel
from livemon.link.silence import SECOND_NS, Patience
from livemon.link.trouble import CharacteristicMissing

HEART_RATE_SERVICE: Final = sig_uuid(0x180D)
#: A strap sends about once a second; so does an oximeter whose adapter file does not say.
_USUAL_PERIOD_S: Final = 1.0


@dataclass(frozen=True, slots=True)
class Plan:
    """How to read one sensor.

    Attributes:
        sensor: our own id.
        channels: what to subscribe to; the link counts as good when all of these stand.
        first_of: beside them the first of these that the sensor offers; it has to offer one.
        writes: in this order, after subscribing.
        patience: how long it may be silent.
        doubles_ns: the same bytes within this time are a suspect double.
        acquire: on BlueZ subscribe by AcquireNotify.
        pair: pair before opening the link.
        described: of this one the presentation format is read, to compare it with the adapter.
    """

    sensor: str
    channels: tuple[Channel, ...] = ()
    writes: tuple[StartUpWrite, ...] = ()
    patience: Patience = field(default_factory=lambda: Patience.for_period(_USUAL_PERIOD_S))
    doubles_ns: int = WINDOW_NS
    acquire: bool = False
    pair: bool = False
    first_of: tuple[Channel, ...] = ()
    described: Channel | None = None

    def chosen(self, offered: frozenset[str]) -> tuple[Channel, ...]:
        """Return what to subscribe to on a sensor that offers these characteristics.

        Raises:
            CharacteristicMissing: it offers none of `first_of`.
        """
        if not self.first_of:
            return self.channels
        for channel in self.first_of:
            if channel.characteristic in offered:
                return (*self.channels, channel)
        raise CharacteristicMissing(self.first_of[0].characteristic)

    @property
    def services(self) -> frozenset[str]:
        """Return the services that its characteristics belong to, as far as they are said."""
        return frozenset(
            channel.service
            for channel in (*self.channels, *self.first_of)
            if channel.service is not None
        )


def heart_rate_plan(sensor: str) -> Plan:
    """Return how to read a strap that speaks the Heart Rate Profile."""
    return Plan(sensor, (Channel(HEART_RATE_MEASUREMENT, HEART_RATE_SERVICE),))


def adapter_plan(sensor: str, connection: Connection) -> Plan:
    """Return how to read an oximeter as its adapter file says."""
    period_s = 1 / connection.rate_hz if connection.rate_hz else _USUAL_PERIOD_S
    channel = Channel(connection.characteristic, connection.service)
    return Plan(
        sensor,
        (channel,),
        writes=connection.start_up,
        patience=Patience.for_period(period_s),
        doubles_ns=min(WINDOW_NS, round(period_s / 2 * SECOND_NS)),  # a fast one may repeat itself
        acquire=not connection.use_start_notify,
        pair=connection.pair,
        described=channel,
    )
