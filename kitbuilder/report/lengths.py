"""Lengths as hoses are sold by them and as a file has them."""

from kitbuilder.assess.fit.stock_lengths import inches_sold_by
from kitbuilder.report.numbers import System
from kitbuilder.units import convert


def written_length(length_m: float, system: System) -> str:
    """Write a length as a file would: "75 cm"; in inches "30 in", by which that stock hose is sold, else exactly."""
    if system is System.METRIC:
        return f"{convert(length_m, 'cm', 'length'):.3g} cm"
    inches = inches_sold_by(length_m)
    return f"{convert(length_m, 'in', 'length'):.1f} in" if inches is None else f"{inches} in"


def stock_length(length_m: float, system: System) -> str:
    """Write a length by which a hose is sold in both units: "75 cm (30 in)"."""
    return f"{written_length(length_m, system)} ({written_length(length_m, system.other)})"
