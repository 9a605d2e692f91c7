"""What the landmarks ask for, beside the lengths that are in use: small, median and large men and women.

The lengths in use come from articles on hose lengths and from common practice. No landmark was set by them: those of
the body were set by tapes (test_tapes.py), those of the kit are from memory. Only ways with a narrow custom are
compared, so that each comparison can fail; every one that does is named here and in the README.
"""

from pathlib import Path
from typing import NamedTuple

import pytest

from kitbuilder.assess.fit.advice import advise
from kitbuilder.assess.fit.hose_figures import work_out_hose
from kitbuilder.assess.fit.routed_hose import measure_route
from kitbuilder.assess.water import assess_water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Header, Hose
from tests.assess.fit.bodies import STATURE_AND_MASS, percentile
from tests.each import each

SAME = 0.016
"""30 in and 75 cm are sold as one hose."""
ROOT = Path(__file__).parents[3]
UNITS = {"cm": 0.01, "in": 0.0254}
BODIES = tuple(STATURE_AND_MASS)
MOST_STOCK_LENGTHS = 3
"""A custom of more than these would be met by nearly any length."""


class Custom(NamedTuple):
    """The length in which a hose that is led one way is bought."""

    layout: str
    role: str
    route: str
    low_m: float
    high_m: float

    def holds(self, length_m: float) -> bool:
        """Whether a length is customary."""
        return self.low_m * (1 - SAME) <= length_m <= self.high_m * (1 + SAME)

    @property
    def stock(self) -> tuple[float, ...]:
        """The lengths that hoses of this role are sold in, the shortest first. [m]"""
        return tuple(catalogue().stock_lengths[catalogue().roles[self.role].service])

    @property
    def hose(self) -> Hose:
        """A rubber hose of this role, as short as is customary."""
        return Hose(tag="hose", role=self.role, body="rubber", length_m=self.low_m, route=self.route)


def _customs() -> tuple[Custom, ...]:
    lines = Path(__file__).with_name("customary_lengths.tsv").read_text(encoding="utf-8").splitlines()
    _, *given = (line.split("\t") for line in lines if not line.startswith("#"))
    return tuple(Custom(*row[:3], _length(row[3]), _length(row[4])) for row in given)


def _length(text: str) -> float:
    number, unit = text.split()
    return float(number) * UNITS[unit]


CUSTOMS = _customs()
NOT_AS_CUSTOMARY = {
    "under the right arm to the chest": ("", "120", "120", "", "", ""),
    "under the right arm and round the neck": ("", "180", "180", "", "", ""),
    "under the left arm to the suit valve": ("", "", "", "66", "70", ""),
    "down to the left hip ring": ("", "75", "80", "61", "", "75"),
    "under the left arm to a console": ("75", "75", "", "66", "75", "75"),
    "round the hip and behind the neck": ("", "", "", "180", "180", ""),
    "from the right post under the arm": ("", "", "180", "", "", ""),
    "necklace behind the neck": ("56", "", "", "56", "56", "56"),
    "necklace from the right post": ("56", "56", "56", "50", "50", "56"),
    "suit hose from the left post": ("70", "", "", "66", "70", ""),
    "gauge from the left post to the hip": ("", "66", "75", "", "", "66"),
    "stage behind the neck": ("", "", "", "90", "90", "90"),
    "from the right cylinder round the neck": ("180", "", "", "180", "180", ""),
}
"""What is advised where it is not customary, in cm, for small, median and large men, then women."""


def advised(custom: Custom, who: tuple[str, int]) -> float:
    """The length that a body is advised. [m]"""
    water = assess_water(Header(format=1, name="kit", layout=custom.layout))
    routed = measure_route(catalogue().routes[custom.route], custom.layout, percentile(*who))
    advice = advise(work_out_hose(0, custom.hose, water, routed), None)
    assert advice is not None
    return advice.buy.length_m if advice.buy else advice.made_m


def missed(custom: Custom) -> tuple[str, ...]:
    """For each body the advice in cm where it is not customary, else nothing."""
    lengths = [advised(custom, who) for who in BODIES]
    return tuple("" if custom.holds(length) else f"{100 * length:.0f}" for length in lengths)


def hits(which: int) -> int:
    """How many hoses of a body come out at a customary length, by what is written down above."""
    return len(CUSTOMS) - sum(bool(row[which]) for row in NOT_AS_CUSTOMARY.values())


@each("custom", CUSTOMS)
def test_every_hose_of_every_body_is_customary_or_named(custom: Custom) -> None:
    """Small, median and large, men and women."""
    assert missed(custom) == NOT_AS_CUSTOMARY.get(custom.route, ("",) * len(BODIES))


@pytest.mark.parametrize(
    ("which", "of_ten"), list(enumerate((7, 7, 7, 6, 6, 7))), ids=[f"{sex} {percent}" for sex, percent in BODIES]
)
def test_how_many_of_ten_hoses_come_out_at_a_customary_length(which: int, of_ten: int) -> None:
    """Seven of ten, for small and median women six: what is customary was made for men."""
    assert of_ten / 10 <= hits(which) / len(CUSTOMS) < (of_ten + 1) / 10


@each("custom", [custom for custom in CUSTOMS if custom.route in NOT_AS_CUSTOMARY])
def test_nothing_is_more_than_two_stock_lengths_off_and_a_median_man_one(custom: Custom) -> None:
    """Counted in stock lengths from the nearer end of what is customary."""
    stock = custom.stock
    inside = [place for place, length in enumerate(stock) if custom.holds(length)]
    for who, length in zip(BODIES, NOT_AS_CUSTOMARY[custom.route], strict=True):
        if length:
            place = min(range(len(stock)), key=lambda number: abs(stock[number] - float(length) / 100))
            steps = min(abs(place - each_inside) for each_inside in inside)
            assert steps <= (1 if who == ("male", 50) else 2), who


@each("custom", CUSTOMS)
def test_a_small_and_a_median_woman_are_never_advised_more_than_custom(custom: Custom) -> None:
    """She is 13 to 23 cm shorter than the man for whom it was made."""
    for who in (("female", 5), ("female", 50)):
        assert advised(custom, who) <= custom.high_m * (1 + SAME)


@each("custom", CUSTOMS)
def test_the_comparison_can_fail(custom: Custom) -> None:
    """At most three stock lengths are customary, at least one is, and all are so for the role in the catalogue."""
    inside = [length for length in custom.stock if custom.holds(length)]
    low, high = catalogue().roles[custom.role].customary[custom.layout]
    assert 1 <= len(inside) <= MOST_STOCK_LENGTHS
    assert low * (1 - SAME) <= custom.low_m <= custom.high_m <= high * (1 + SAME)


def test_every_way_is_compared_that_has_a_custom() -> None:
    """Once, whether or not it is mirrored or led alike in several layouts; all but those the table's head names."""
    compared = {custom.route for custom in CUSTOMS}
    without = {name for name in catalogue().routes if name.startswith(("short hose from ", "sender "))}
    mirrored = {
        "suit hose from the right post",
        "gauge from the right post to the hip",
        "from the left cylinder round the neck",
        "inflator across the chest from the right",
        "suit hose across the chest from the left",
        "gauge up to the left of the chest",
        "gauge down the left cylinder",
    }
    assert compared | without | mirrored == catalogue().routes.keys()
    assert len(compared) == len(CUSTOMS)


def readme_lines() -> list[str]:
    """The table of the README."""
    rows = []
    for custom in CUSTOMS:
        if row := NOT_AS_CUSTOMARY.get(custom.route):
            low, high = (round(100 * length) for length in (custom.low_m, custom.high_m))
            usual = f"{low}" if custom.high_m <= custom.low_m * (1 + SAME) else f"{low} to {high}"
            cells = (f"{custom.layout}: {custom.route}", usual, *row)
            rows.append("| " + " | ".join(cell or "·" for cell in cells) + " |")
    counts = " | ".join(str(hits(which)) for which in range(len(BODIES)))
    return [*rows, f"| customary, of {len(CUSTOMS)} | · | {counts} |"]


def test_the_readme_names_every_miss() -> None:
    """Each line of its table, and no other line of a route."""
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    assert [line for line in readme_lines() if line not in page] == []
    assert sum(line.startswith(("| single: ", "| twinset: ", "| sidemount: ")) for line in page.splitlines()) == len(
        NOT_AS_CUSTOMARY
    )
