"""A sound adapter file in pieces, to make wrong ones from."""

TOP = """
livemon_adapter = 1
name = "wrong"
service = "604a413e-e6df-4592-acfa-848a997df26c"
characteristic = "9424e894-6ab9-455e-9e3b-74472d54392c"
"""
SMO2 = """
[[field]]
quantity = "smo2"
offset = 0
format = "uint16"
"""
THB = """
[[field]]
quantity = "thb"
offset = 2
format = "uint8"
unit = "a.u."
"""


def top(line: str, key: str = "") -> str:
    """A sound file with one more line at the top, in place of the line of `key`."""
    kept = "\n".join(old for old in TOP.splitlines() if not key or not old.startswith(key))
    return kept + "\n" + line + "\n" + SMO2


def smo2(*lines: str, without: str = "-") -> str:
    """A sound file with more lines in its only field, in place of those that start so."""
    kept = "\n".join(old for old in SMO2.splitlines() if not old.startswith(without))
    return TOP + kept + "\n" + "\n".join(lines)


def second(*lines: str) -> str:
    """A sound file with a second field of these lines."""
    return TOP + SMO2 + "\n[[field]]\n" + "\n".join(lines)
