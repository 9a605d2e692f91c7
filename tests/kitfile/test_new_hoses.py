"""A new hose is one that could be bought for its role: customary where the layout has a custom, with its usual ends."""

import pytest

from kitbuilder.catalogue import catalogue
from kitbuilder.kitfile.starters import first_owned, first_values
from kitbuilder.units import parse_quantity

HALF_AN_INCH = 0.0127
"""The lists of stock lengths and of custom are rounded to centimetres and to inches."""
CUSTOMS = [(role, layout) for role in catalogue().roles.values() for layout in role.customary]


@pytest.mark.parametrize(("role", "layout"), CUSTOMS, ids=lambda value: getattr(value, "name", value))
def test_its_length_is_customary_in_its_layout_and_in_stock(role, layout: str) -> None:
    """The shortest that is both."""
    values = first_values(layout, "hose", role.name, "new")
    length = parse_quantity(str(values["length"]), "length")
    shortest, longest = role.customary[layout]
    stock = catalogue().stock_lengths[role.service]
    assert min(abs(length - each) for each in stock) < HALF_AN_INCH
    assert shortest - HALF_AN_INCH <= length <= longest + HALF_AN_INCH
    assert not [each for each in stock if shortest <= each < length - HALF_AN_INCH]
    assert (values["tag"], values["role"], values["body"]) == ("new", role.name, "rubber")
    assert (values["from_end"], values["to_end"]) == (role.from_end, role.to_end)


@pytest.mark.parametrize("name", sorted(catalogue().roles))
def test_an_owned_hose_belongs_to_no_layout(name: str) -> None:
    """So it has a usual length, whatever it is for."""
    values = first_owned("hose", name, "new")
    assert values == {
        "tag": "new",
        "body": "rubber",
        "length": "75 cm",
        "from_end": catalogue().roles[name].from_end,
        "to_end": catalogue().roles[name].to_end,
    }
