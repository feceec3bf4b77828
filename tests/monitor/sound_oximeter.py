"""An oximeter of one number, invented, and the adapter that reads it."""

from livemon.events import Sensor

OXIMETER = Sensor("ox", "invented", "one-number")
ADAPTER = """
livemon_adapter = 1
name = "one-number"
service = "604a413e-e6df-4592-acfa-848a997df26c"
characteristic = "9424e894-6ab9-455e-9e3b-74472d54392c"
[[field]]
quantity = "smo2"
offset = 0
format = "uint16"
"""
