"""A make-believe Bluetooth service on a D-Bus of its own: Linux only, no radio, no root.

bleak's Linux backend can't tell it from the real one, so whole programs run against sensors that
don't exist. It knows nothing of heart rate or oxygenation: bytes are handed in. What it imitates
is BlueZ's D-Bus interface as its documentation describes it (doc/org.bluez.*.rst in the BlueZ
sources) and, for the answers to calls out of place, its src/gatt-client.c and src/error.c.

    async with private_bus() as address, fake_bluez(address, peripherals) as bluez:
        bluez.send("C0:00:00:00:00:01", HEART_RATE_MEASUREMENT, payload)

Only modules of this folder import dbus-fast, which bleak brings along on Linux alone.
"""
