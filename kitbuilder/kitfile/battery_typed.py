"""A battery by what is printed on it: "3.7 V x 5 Ah" in place of its energy."""

import re

from kitbuilder.spellings import TIMES
from kitbuilder.units import PLUS_MINUS, QuantityError, Reading, parse_quantity

_PRINTED = re.compile(rf"(.*\S\s*[Vv](?:olts?)?){TIMES}(\S.*)", re.DOTALL)
ACCEPTED = 'write the energy of one battery, "18.5 Wh", or its voltage and charge, "3.7 V x 5 Ah"'


def parse_battery(text: str) -> Reading:
    """Give the energy of a battery, as written, or from its voltage and charge [J].

    Raises:
        QuantityError: The text is no energy; or not a voltage, "x", and a charge.
    """
    printed = _PRINTED.fullmatch(text.strip())
    if re.search(PLUS_MINUS, text):
        parse_quantity(text, "energy")  # refuses a spread in the words of every other quantity
    try:
        if printed is None:
            return Reading(parse_quantity(text, "energy"), None, None)
        voltage, charge = parse_quantity(printed[1], "voltage"), parse_quantity(printed[2], "charge")
    except QuantityError as error:
        raise QuantityError(error.found, ACCEPTED) from None
    if voltage < 0 or charge < 0:
        raise QuantityError(f'"{text}" is below zero', ACCEPTED)
    return Reading(voltage * charge, None, None)
