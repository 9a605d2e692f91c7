"""A bag as a scale: how heavy it is, what it may be, and where its limit is, as a bar of one line.

Every bar has its limit at the same place, so that bags of other limits are compared by how full they are.
"""

from kitbuilder.assess.figures import Figure

SIGNS = {False: ("━", "─", "┤", "●", "│"), True: ("=", "-", "]", "o", "|")}
"""What is certain, what may be, its upper end, the mass and the limit; in plain signs where asked for."""
LIMIT_AT = 0.75
"""Where the limit stands in a bar; beyond it is room for what is too heavy."""


def draw_bag(mass: Figure, limit_kg: float | None, width: int, *, plain: bool) -> str:
    """Draw the mass of a bag from zero, in `width` cells; blank without a limit, or with a limit of zero.

    Args:
        mass: Of the packed bag [kg].
        limit_kg: What it may weigh.
        width: Cells across.
        plain: ASCII signs.
    """
    if width < 1 or not limit_kg:
        return " " * max(width, 0)
    sure, may_be, upper, point, limit = SIGNS[plain]
    at = limit_place(width)
    low, middle, high = (
        _cell(mass_kg / limit_kg, at, width)
        for mass_kg in (mass.value - mass.sides[0], mass.value, mass.value + mass.sides[1])
    )
    cells = [" "] * width
    cells[: low + 1] = sure * (low + 1)
    cells[low + 1 : high + 1] = may_be * (high - low)
    cells[high] = upper
    cells[at] = limit
    cells[middle] = point
    return "".join(cells)


def limit_place(width: int) -> int:
    """Give the cell of the limit in a bar."""
    return max(round((width - 1) * LIMIT_AT), 0)


def bag_scale_head(width: int) -> str:
    """Write "limit" over the cell of the limit, its last letter there, so that all bars are read by it."""
    words = "limit"
    at = limit_place(width)
    return f"{words[: at + 1]:>{at + 1}}{'':{width - at - 1}}" if width > at else words[:width]


def _cell(part: float, at: int, width: int) -> int:
    """Give the cell of a part of the limit; what is beyond the bar stands in its last cell.

    A mass below its limit stays before the cell of the limit, one above it beyond: the sign of the limit hides neither.
    """
    cell = min(max(round(part * at), 0), width - 1)
    if part < 1 and cell >= at:
        return max(at - 1, 0)
    return min(at + 1, width - 1) if part > 1 and cell <= at else cell
