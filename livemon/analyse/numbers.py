"""How a number is written in a sentence."""

_MINUS = "−"


def number(value: float, decimals: int, *, signed: bool = False) -> str:
    """Write a number with a real minus sign; a rounded zero has none."""
    text = f"{value:+.{decimals}f}" if signed else f"{value:.{decimals}f}"
    if float(text) == 0:
        text = text.lstrip("+-")
    return text.replace("-", _MINUS)
