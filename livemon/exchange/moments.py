"""What the columns of a moment are called."""


def moment_names(name: str) -> tuple[str, str, str]:
    """Return names for seconds, UTC and local time: the time of a row is plain `t_s`."""
    seconds = "t_s" if name == "time" else f"{name}_s"
    return seconds, f"{name}_utc", f"{name}_local"
