"""A bag as a scale: what is drawn is where the numbers are."""

import pytest

from kitbuilder.assess.figures import Figure
from kitbuilder.pictures.bags import bag_scale_head, draw_bag, limit_place


def drawn(mass: float, spread: float, limit: float | None, width: int = 21) -> str:
    """A bar in plain signs. Of 21 cells the limit is in the one of number 15: a limit of 15 kg has a cell each kilo."""
    return draw_bag(Figure(mass, {"scale": spread} if spread else {}, "weighed"), limit, width, plain=True)


@pytest.mark.parametrize(
    ("mass", "spread", "bar"),
    [
        (0, 0, "o              |     "),
        (5, 0, "=====o         |     "),
        (5, 2, "====-o-]       |     "),
        (12, 5, "========----o--|-]   "),
        (14.9, 0, "==============o|     "),
        (15.1, 0, "===============|o    "),
        (18, 1, "===============|==o] "),
        (40, 5, "===============|====o"),
    ],
)
def test_the_mass_its_range_and_the_limit_stand_where_they_are(mass, spread, bar):
    assert drawn(mass, spread, 15.0) == bar


def test_without_a_limit_there_is_nothing_to_compare_with():
    assert drawn(5, 1, None) == drawn(5, 1, 0.0) == " " * 21
    assert drawn(5, 1, 15.0, 0) == ""


@pytest.mark.parametrize("width", [1, 3, 8, 12, 24, 40])
def test_a_bar_fills_its_width_and_its_head_ends_at_the_limit(width):
    for mass in (0, 1, 14, 15, 16, 200):
        for plain in (True, False):
            assert len(draw_bag(Figure(mass, {"a": 1.0}, ""), 15.0, width, plain=plain)) == width
    head = bag_scale_head(width)
    assert len(head) <= max(width, len("limit"))
    if width >= 8:
        assert head[limit_place(width)] == "t"
