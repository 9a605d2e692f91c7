"""The energy of a battery, as written or as voltage and charge; the expected values are by hand: 1 Wh is 3600 J."""

import re

import pytest

from kitbuilder.kitfile.battery_typed import parse_battery
from kitbuilder.units import QuantityError, pattern_of

READ = [
    ("18.5 Wh", 18.5 * 3600),
    ("3.7 V x 5 Ah", 18.5 * 3600),
    ("3,7V×5000mAh", 18.5 * 3600),
    ("3.7 V 5 Ah", 18.5 * 3600),
    ("10.8 volts * 14 Ah", 151.2 * 3600),
    ("3.6 v X 2,600 MAH", 9.36 * 3600),
    ("0.1 kWh", 100 * 3600),
    ("66.6 kJ", 66600),
]
REFUSED = [
    "18.5",
    "5 Ah",
    "3.7 V",
    "3.7 V x 5",
    "5 Ah x 3.7 V",
    "3.7 V + 5 Ah",
    "3.7 V x -5 Ah",
    "",
    "3.7 V x 5 Ah x 2",
    "V x Ah",
]


@pytest.mark.parametrize(("text", "energy_j"), READ)
def test_what_is_printed_on_a_battery_is_read(text: str, energy_j: float) -> None:
    """And the schema accepts it."""
    assert parse_battery(text).value == pytest.approx(energy_j, rel=1e-12)
    assert re.search(pattern_of("energy", charge=True), text)


@pytest.mark.parametrize("text", REFUSED)
def test_what_is_no_battery_is_refused(text: str) -> None:
    """By reader and schema; the message shows both forms."""
    with pytest.raises(QuantityError) as refused:
        parse_battery(text)
    assert '"18.5 Wh"' in refused.value.accepted
    assert '"3.7 V x 5 Ah"' in refused.value.accepted
    assert not re.search(pattern_of("energy", charge=True), text)
