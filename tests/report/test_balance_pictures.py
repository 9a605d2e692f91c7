"""What the pictures of the balance show: round ticks around every value, and each item at its place."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.curves import Curves, over_depth, over_gas
from kitbuilder.kit.items import Cylinder, Lead, Wing
from kitbuilder.pictures.canvas import text_lines
from kitbuilder.pictures.plot import PlotData, draw_plot
from kitbuilder.pictures.side_marks import side_marks
from kitbuilder.pictures.side_view import draw_side_view
from kitbuilder.report.balance_pictures import BRIEF_MARKS, MARKS, plot_data, plot_title, turning_of
from kitbuilder.report.numbers import System, shown
from tests.assess.kits import PLAIN, WHOLE, WRONG, balance_of, beside, kit_of, shipped, swapped, without

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
ALL = [*WHOLE, WRONG]
POUND, FOOT = 0.45359237, 0.3048
PSI = POUND * 9.80665 / 0.0254**2
FACTOR = {METRIC: 1.0, IMPERIAL: POUND}
WORD = {METRIC: "kg", IMPERIAL: "lb"}


def of_config(name: str) -> Balance:
    """The balance of a kit that comes with the program."""
    found = shipped(name).balance
    assert found is not None
    return found


def number(words: str) -> int:
    """What a tick says."""
    found = re.fullmatch(r"([+−]?)(\d+)(?: (kg|lb))?", words)
    assert found is not None, words
    return int(found[2]) * (-1 if found[1] == "−" else 1)


def check_ticks(rows: PlotData, values: list[float], system: System) -> None:
    """Ascending, at whole numbers of the unit, around every value and zero, the unit at the highest only."""
    places = [place for place, _ in rows.y_ticks]
    assert places == sorted(set(places))
    assert 0.0 in places
    assert places[0] <= min(values) + 1e-6
    assert max(values) - 1e-6 <= places[-1]
    assert places[-1] > 0
    for place, words in rows.y_ticks:
        assert number(words) * FACTOR[system] == pytest.approx(place)
        assert words.endswith(WORD[system]) == (place == places[-1])
        assert (words == "0") == (place == 0)
    steps = [abs(number(words)) for _, words in rows.y_ticks if number(words)]
    step = next(digit * 10**power for power in range(7) for digit in (1, 2, 5)
                if (max(*values, 0.0) - min(*values, 0.0)) / FACTOR[system] / (digit * 10**power) <= 6)  # fmt: skip
    assert all(tick % step == 0 for tick in steps)


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_ticks_are_round_and_enclose_every_value(name: str, system: System) -> None:
    """Over the depth and over the gas."""
    for curves in (over_depth(of_config(name)), over_gas(of_config(name))):
        rows = plot_data(curves, system)
        check_ticks(rows, [y for _, points in curves.lines for _, y in points], system)
        assert rows.y_ticks[0][0] <= curves.stop[1] <= rows.y_ticks[-1][0]


@given(
    values=st.lists(st.floats(-500, 500), min_size=2, max_size=9),
    system=st.sampled_from(System),
)
def test_ticks_enclose_any_values(values: list[float], system: System) -> None:
    """Whatever a kit may weigh."""
    points = tuple((float(place), value) for place, value in enumerate(values))
    check_ticks(plot_data(Curves("depth", (("gas full", points),), points[0]), system), values, system)


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_axis_runs_over_the_dive(name: str, system: System) -> None:
    """From the surface to the greatest depth; from the filling to the reserve, as the gauge falls."""
    found = of_config(name)
    depths = plot_data(over_depth(found), system).x_ticks
    deepest = max(moment.depth_m for moment in found.moments)
    assert (depths[0][0], depths[-1][0]) == (0.0, deepest)
    assert [words for _, words in depths] == [shown(place, "depth", system) for place, _ in depths]
    gas, (_, vessel) = plot_data(over_gas(found), system).x_ticks, found.buoyancy_model.vessels[0]
    assert (gas[0][0], gas[-1][0]) == (pytest.approx(vessel.filled_pa), pytest.approx(vessel.reserve_pa))
    assert gas[0][1] == shown(vessel.filled_pa, "pressure", system)
    assert gas[-1][1] == shown(vessel.reserve_pa, "pressure", system)
    check_middle(depths, {METRIC: 5.0, IMPERIAL: 10 * FOOT}[system], {METRIC: 1.0, IMPERIAL: FOOT}[system])
    check_middle(gas, {METRIC: 10e5, IMPERIAL: 100 * PSI}[system], {METRIC: 1e5, IMPERIAL: PSI}[system])


def check_middle(ticks: tuple[tuple[float, str], ...], step: float, unit: float) -> None:
    """A round number within half a step of the middle, which stands where it says."""
    if abs(ticks[-1][0] - ticks[0][0]) < 2 * step:
        return
    (first, _), (middle, words), (last, _) = ticks
    assert middle == pytest.approx((first + last) / 2, abs=step / 2 + 1e-6)
    assert middle == pytest.approx(float(words.split()[0]) * unit)
    assert middle / step == pytest.approx(round(middle / step))


def test_an_axis_too_short_for_a_round_number_has_its_ends_only() -> None:
    """Three metres of pool; a cylinder that holds its reserve and no more."""
    pool = plot_data(Curves("depth", (("gas full", ((0.0, 1.0), (3.0, 1.0))),), (3.0, 1.0)), METRIC)
    assert [words for _, words in pool.x_ticks] == ["0 m", "3 m"]
    empty = plot_data(Curves("gas", (("at the stop", ((50e5, 1.0), (50e5, 1.0))),), (50e5, 1.0)), METRIC)
    assert [words for _, words in empty.x_ticks] == ["50 bar", "50 bar"]


def test_the_words_say_what_is_drawn() -> None:
    """The curves, the stop with its depth in the reader's units, and what the bladder holds."""
    found = of_config("twinset")
    depth, gas = plot_data(over_depth(found), METRIC), plot_data(over_gas(found), METRIC)
    assert [curve.label for curve in depth.curves] == ["gas full", "reserve"]
    assert (depth.mark_label, depth.x_name) == ("stop, 5 m", "depth")
    assert plot_data(over_depth(found), IMPERIAL).mark_label == "stop, 16 ft"
    assert [curve.label for curve in gas.curves] == ["at the stop"]
    assert (gas.mark_label, gas.x_name) == ("reserve", "gas left")
    assert plot_title(found) == "Buoyancy over the dive, wing empty"
    full = found._replace(switches=found.switches._replace(wing_full=True))
    assert plot_title(full) == "Buoyancy over the dive, wing full"


@pytest.mark.parametrize("name", ALL)
def test_the_arrows_turn_as_the_moment_with_the_reserve(name: str) -> None:
    """A moment is plus where it puts the head down; within its spread the diver may be level."""
    found = of_config(name)
    moment = found.trim.end.moment
    turning = turning_of(found.trim)
    assert (turning.head_is > 0) is (moment.value > 0)
    assert turning.words.startswith("head down" if moment.value > 0 else "head up")
    assert turning.words.endswith(", or level") is (abs(moment.value) <= moment.spread)


# --- the lying diver --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ALL)
def test_every_cylinder_bladder_and_piece_of_lead_is_marked(name: str) -> None:
    """At its place in statures, lead above all; a cylinder has its length and its radius."""
    found = of_config(name)
    stature, items = found.buoyancy_model.body.stature.value, found.buoyancy_model.kit.items
    marks = side_marks(found)
    signs = "".join(mark.sign for mark in marks)
    assert signs.count("L") == sum(isinstance(item, Lead) for item in items)
    assert signs.count("C") == len(found.buoyancy_model.vessels) == sum(isinstance(item, Cylinder) for item in items)
    assert signs.lstrip("+").lstrip("−").startswith("C")
    assert signs.rstrip("L").endswith("W")
    places = {(mark.sign, mark.along, mark.behind) for mark in marks}
    for spot in found.trim.spots:
        if spot.item is not None and isinstance(items[spot.item], Lead):
            assert ("L", spot.along.value / stature, spot.behind_m / stature) in places
    lengths = sorted(vessel.length_m / stature for _, vessel in found.buoyancy_model.vessels)
    radii = sorted(vessel.diameter_m / 2 / stature for _, vessel in found.buoyancy_model.vessels)
    assert sorted(mark.length for mark in marks if mark.sign == "C") == lengths
    assert sorted(mark.radius for mark in marks if mark.sign == "C") == radii
    assert all(mark.length == 0.0 for mark in marks if mark.sign != "C")


@pytest.mark.parametrize("name", ALL)
def test_other_items_are_marked_when_they_pull_by_half_a_kilogram(name: str) -> None:
    """Plus floats, minus sinks, with the reserve; the body is the drawing itself."""
    found = of_config(name)
    items = found.buoyancy_model.kit.items
    others = [
        spot.reserve.value
        for spot in found.trim.spots
        if spot.item is not None and not isinstance(items[spot.item], (Cylinder, Lead, Wing))
        and items[spot.item].kind != "jacket"
    ]  # fmt: skip
    signs = [mark.sign for mark in side_marks(found)]
    assert signs.count("+") == sum(value >= 0.5 for value in others)
    assert signs.count("−") == sum(value <= -0.5 for value in others)


def test_every_sign_is_explained() -> None:
    """Below the picture."""
    signs = {mark.sign for name in ALL for mark in side_marks(of_config(name))}
    assert signs == {"L", "C", "W", "+", "−"}
    assert all(f" {sign} " in MARKS for sign in signs)
    assert all(f" {sign} " in f" {BRIEF_MARKS}" for sign in "LCW")


def test_a_place_given_moves_the_mark() -> None:
    """89 cm below the shoulders of a diver of 178 cm is half a stature."""
    kit = swapped(kit_of(PLAIN), "belt", along_m=0.89, behind_m=-0.089)
    [lead] = [mark for mark in side_marks(balance_of(kit, beside())) if mark.sign == "L"]
    assert (lead.along, lead.behind) == (pytest.approx(0.5), pytest.approx(-0.05))


def test_a_kit_without_lead_or_bladder_has_no_such_mark() -> None:
    """Nothing is drawn that is not there."""
    found = balance_of(kit_of(without(without(PLAIN, "belt"), "wing")))
    assert {mark.sign for mark in side_marks(found)} & {"L", "W"} == set()


@pytest.mark.parametrize("plain", [False, True], ids=["dots", "plain"])
@pytest.mark.parametrize("size", [(48, 8), (59, 19)], ids=["small", "large"])
def test_the_pictures_of_a_twinset(screen, size: tuple[int, int], plain: bool) -> None:
    """Read with the eye: a filled band and its curves; a diver, the level line and two arrows."""
    found = of_config("twinset")
    plot = draw_plot(plot_data(over_depth(found), METRIC), *size, plain=plain)
    width, height = (31, 6) if size[0] == 48 else (59, 13)
    diver = draw_side_view(side_marks(found), width, height, turning=turning_of(found.trim), plain=plain)
    lines = [*text_lines(plot), "", *text_lines(diver)]
    assert "\n".join([*(line.rstrip() for line in lines), ""]) == screen
