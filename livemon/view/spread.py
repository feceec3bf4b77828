"""Move labels apart that would overlap, each as little as possible."""


def spread(wanted: list[float], height: float, top: float, bottom: float) -> list[float]:
    """Return centres near `wanted`, at least `height` apart, inside `top` to `bottom`.

    Where there isn't room for all, they stand evenly and closer than `height`.
    """
    count = len(wanted)
    if count == 0:
        return []
    step = min(height, (bottom - top) / count)
    order = sorted(range(count), key=lambda i: wanted[i])
    centres: list[float] = []
    lowest_allowed = top + step / 2
    for i in order:
        centres.append(max(wanted[i], lowest_allowed))
        lowest_allowed = centres[-1] + step
    highest_allowed = bottom - step / 2
    for at in range(count - 1, -1, -1):
        centres[at] = min(centres[at], highest_allowed)
        highest_allowed = centres[at] - step
    placed = [0.0] * count
    for i, centre in zip(order, centres, strict=True):
        placed[i] = centre
    return placed
