"""The lengths in which hoses are sold."""

from bisect import bisect_left, bisect_right

from kitbuilder.assess.hoses.hose_weight import service_of
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose

SAME_STOCK_SHARE = 0.016
"""Hoses made to inches are sold by rounded centimetres: 30 in and 75 cm, 84 in and 210 cm are one hose."""


TRADE_INCH_M, SAME_M = 0.025, 1e-6
"""What an inch of a hose is sold as in centimetres; and two lengths that differ by less are one in two units."""


def is_one_stock_length(one_m: float, other_m: float) -> bool:
    """Say whether two lengths [m] are sold as one: to the micrometre, so that a length just at the limit always is."""
    return round(abs(one_m - other_m) - SAME_STOCK_SHARE * max(one_m, other_m), 6) <= 0


def stock_lengths(hose: Hose) -> tuple[float, ...]:
    """Give the lengths in which such a hose is sold [m], shortest first."""
    return catalogue().stock_lengths[service_of(hose)]


def neighbour_length(hose: Hose, by: int) -> float | None:
    """Give the next stock length above (+1) or below (-1) the hose's own [m]; None at the end of the list."""
    lengths, same = stock_lengths(hose), SAME_STOCK_SHARE * hose.length_m
    index = bisect_right(lengths, hose.length_m + same) if by > 0 else bisect_left(lengths, hose.length_m - same) - 1
    return lengths[index] if 0 <= index < len(lengths) else None


def inches_sold_by(length_m: float) -> int | None:
    """Tell the whole inches by which a stock hose of a length is sold, 30 for 75 cm; None for any other length."""
    known = (length for lengths in catalogue().stock_lengths.values() for length in lengths)
    if not any(abs(length_m - length) < SAME_M for length in known):
        return None
    return round(length_m / TRADE_INCH_M)
