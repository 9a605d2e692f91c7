"""Read the tables of published values beside the tests, and judge by their printed digits.

Every table says in its header where its values come from. Labels: "found" was read in the source, "memory" is quoted
from the source without having it open, "computed" and "derived" come from a separate calculation.
"""

from decimal import Decimal
from pathlib import Path

FOLDER = Path(__file__).parent

INCH = 0.0254
FOOT = 0.3048
POUND = 0.45359237
ZERO_CELSIUS = 273.15

Row = dict[str, str]


def rows(name: str) -> list[Row]:
    """Give the rows of a tab-separated table by column, without its comments."""
    lines = [line for line in (FOLDER / name).read_text("utf-8").splitlines() if line and not line.startswith("#")]
    columns = lines[0].split("\t")
    return [dict(zip(columns, line.split("\t"), strict=True)) for line in lines[1:]]


def half_a_digit(printed: str) -> float:
    """Give half a unit of the last digit printed, plus a hair for the float."""
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5001 * 10.0**exponent
