"""For median bodies the landmarks ask for the lengths that are in use.

The lengths in use are those of the roles, each with its origin in the catalogue: articles on hose lengths, and common
practice. They were not used to place the landmarks one by one, but the same open texts describe both.
"""

from collections.abc import Iterator

import pytest

from kitbuilder.assess.fit.advice import advise
from kitbuilder.assess.fit.hose_figures import HoseFigures, work_out_hose
from kitbuilder.assess.fit.routed_hose import measure_route
from kitbuilder.assess.water import assess_water
from kitbuilder.catalogue import Route, catalogue
from kitbuilder.kit.items import LAYOUTS, Header, Hose
from tests.assess.fit.bodies import body, percentile

SAME = 0.016
"""30 in and 75 cm are sold as one hose."""
NOT_AS_CUSTOMARY = {
    "under the right arm and round the neck": "150 cm just reaches, the head turned as far as it goes: few turn it so",
    "necklace from the right post": "its port is nearer to the mouth than that of the customary one, on the left post",
}
"""Routes of a median man whose advice is not customary, and why."""
SHORT_OF_CUSTOM = {
    "under the left arm to the suit valve",
    "down to the left hip ring",
    "stage behind the neck",
    "necklace behind the neck",
    "necklace from the right post",
    "suit hose from the left post",
}
"""Routes of a median woman, 13 cm shorter, whose advice is one step or two below what is customary among all."""


def figures(route: Route, role: str, layout: str, sex: str) -> HoseFigures:
    """A rubber hose of a role led that way over a median body; between men and women when the sex is empty."""
    hose = Hose(tag="hose", role=role, body="rubber", length_m=0.75, route=route.name)
    water = assess_water(Header(format=1, name="kit", layout=layout))
    return work_out_hose(0, hose, water, measure_route(route, layout, percentile(sex, 50) if sex else body()))


def routes_of(layout: str) -> Iterator[tuple[Route, str]]:
    """Every route of a layout, with each of its roles that has a customary length there."""
    for route in catalogue().routes.values():
        for role in route.roles:
            if layout in route.layouts and layout in catalogue().roles[role].customary:
                yield route, role


def misses(layout: str, sex: str) -> dict[tuple[str, str], str]:
    """The routes whose advice is not a customary length, with what it is."""
    found = {}
    for route, role in routes_of(layout):
        low, high = catalogue().roles[role].customary[layout]
        advice = advise(figures(route, role, layout, sex), None)
        assert advice is not None
        length = advice.buy.length_m if advice.buy else advice.made_m
        if not low * (1 - SAME) <= length <= high * (1 + SAME):
            found[route.name, role] = f"{length:.3f} m, not {low:.2f} to {high:.2f} m"
    return found


@pytest.mark.parametrize("sex", ["male", ""], ids=["man", "nobody told"])
@pytest.mark.parametrize("layout", LAYOUTS)
def test_nine_of_ten_hoses_of_a_median_body_get_a_customary_length(layout: str, sex: str) -> None:
    """Of a median man, and of the middle between men and women; which do not is written down above, with the reason."""
    every, missed = list(routes_of(layout)), misses(layout, sex)
    assert len(missed) <= len(every) / 10, missed
    assert {name for name, _ in missed} <= NOT_AS_CUSTOMARY.keys(), missed


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_median_woman_is_never_sold_more_than_custom(layout: str) -> None:
    """What is customary was made for men: what it has too much for her is named above, and nothing is too short."""
    missed = misses(layout, "female")
    assert {name for name, _ in missed} <= SHORT_OF_CUSTOM
    for name, role in missed:
        advice = advise(figures(catalogue().routes[name], role, layout, "female"), None)
        assert advice is not None and advice.buy is not None
        assert advice.buy.length_m < catalogue().roles[role].customary[layout][0]
