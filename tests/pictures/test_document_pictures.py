"""The plot and the lying diver as SVG: every point at its place, words that do not cover each other, and no markup."""

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from kitbuilder.assess.figures import Figure
from kitbuilder.pictures.bags_svg import LEFT as BARS_LEFT
from kitbuilder.pictures.bags_svg import BagBar, bags_svg
from kitbuilder.pictures.plot import PlotCurve, PlotData
from kitbuilder.pictures.plot_svg import APART, BOTTOM, LEFT, RIGHT, TOP, plot_svg
from kitbuilder.pictures.side_outline import Mark
from kitbuilder.pictures.side_view import Turning
from kitbuilder.pictures.side_view_svg import HEIGHT, LEVEL, WIDTH, side_view_svg
from tests.each import each
from tests.hostile import raw_in

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "</text><script>x</script>&\x1b\u202e"
CURVES = [PlotCurve([(0.0, -1.0), (30.0, -2.0)], "gas full"), PlotCurve([(0.0, 0.0), (30.0, 1.0)], "reserve")]
DATA = PlotData(
    CURVES,
    x_ticks=((0.0, "0 m"), (15.0, "15 m"), (30.0, "30 m")),
    y_ticks=((-3.0, "−3"), (0.0, "0"), (1.0, "+1 kg")),
    x_name="depth",
    above="floats",
    below="sinks",
    mark=(15.0, 0.5),
    mark_label="stop",
)


def drawn(data: PlotData) -> ElementTree.Element:
    return ElementTree.fromstring(plot_svg(data, "Plot", "What it says."))


def texts(picture: ElementTree.Element, css: str) -> dict[str, tuple[float, float]]:
    """The words of a kind, each with its place."""
    return {
        "".join(text.itertext()): (float(text.get("x", "nan")), float(text.get("y", "nan")))
        for text in picture.iter(f"{SVG}text")
        if text.get("class") == css
    }


def ends_of(curve: ElementTree.Element) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"([\d.]+),([\d.]+)", curve.get("d", ""))]


def test_every_point_stands_where_its_axes_say():
    """Both axes are even, so a point divides the plot as its value divides the axis."""
    picture = drawn(DATA)
    [full, reserve] = [path for path in picture.iter(f"{SVG}path") if path.get("class") == "curve"]
    height, width = BOTTOM - TOP, RIGHT - LEFT
    assert ends_of(full) == [(LEFT, TOP + height / 2), (RIGHT, TOP + height * 3 / 4)], "-1 and -2 of +1 to -3"
    assert ends_of(reserve) == [(LEFT, pytest.approx(TOP + height / 4, abs=0.06)), (RIGHT, TOP)]
    assert full.get("stroke-dasharray") is None
    assert reserve.get("stroke-dasharray")
    assert full.get("stroke") != reserve.get("stroke")
    [mark] = picture.iter(f"{SVG}circle")
    assert float(mark.get("cx", "")) == pytest.approx(LEFT + width / 2)
    assert float(mark.get("cy", "")) == pytest.approx(TOP + height / 8, abs=0.06)


def test_curves_are_named_at_their_ends_and_names_do_not_touch():
    close = [PlotCurve([(0.0, 0.0), (30.0, end)], f"curve {end}") for end in (0.0, 0.01, 0.02)]
    names = texts(drawn(DATA._replace(curves=close)), "name")
    assert len(names) == 3
    assert all(x > RIGHT for x, _ in names.values())
    heights = sorted(y for _, y in names.values())
    assert all(below - above >= APART for above, below in pairwise(heights))


def test_zero_has_words_on_both_sides_where_there_is_room():
    _, zero = texts(drawn(DATA), "tick")["0"]
    words = texts(drawn(DATA), "axis")
    assert words["floats"][1] < zero < words["sinks"][1]
    only_below = DATA._replace(y_ticks=((-3.0, "−3"), (0.0, "0 kg")))
    assert "floats" not in texts(drawn(only_below), "axis")


def test_one_curve_is_enough_and_no_word_is_markup():
    curve = CURVES[0]._replace(label=HOSTILE)
    hostile = PlotData([curve], ((0.0, HOSTILE), (1.0, "b")), ((-1.0, HOSTILE), (0.0, "0")), HOSTILE)
    text = plot_svg(hostile, HOSTILE, HOSTILE)
    assert "<script" not in text
    assert text.count("&lt;script&gt;") == 6
    assert not raw_in(text)


@each(
    ("turning", "way"),
    [(Turning(1, "head down"), 1), (Turning(-1, "head up"), -1), (Turning(0, "level"), 0), (None, 0)],
)
def test_arrows_point_the_way_the_diver_turns(turning, way):
    """On a page y grows downward: a head that goes down has its arrow and its words below the level line."""
    marks = (Mark("C", 0.2, 0.1, 0.35, 0.05), Mark("L", 0.3, 0.0))
    picture = ElementTree.fromstring(side_view_svg(marks, turning, ("Trim", "A diver."), "L lead, C cylinder"))
    assert set(texts(picture, "letter")) == {"C", "L"}
    assert texts(picture, "legend")
    assert all(0 < x < WIDTH and 0 < y < HEIGHT for x, y in texts(picture, "letter").values())
    tips = [path for path in picture.iter(f"{SVG}path") if " V" in path.get("d", "")]
    assert len(tips) == (2 if way else 0)
    if way:
        y = float(re.findall(r" V([\d.]+)", tips[0].get("d", ""))[0])
        assert (y - LEVEL) * way > 0, "the arrow at the head"
    if turning:
        assert (texts(picture, "words")[turning.words][1] - LEVEL) * way >= 0


def test_bars_are_as_long_as_bags_are_heavy():
    """10 kg and 5 kg on one scale that begins at zero; the limit is a line at its place."""
    out, home = Figure(10.0, {"a": 0.5}, "weighed"), Figure(5.0, {"a": 0.5}, "weighed")
    bars = [
        BagBar(HOSTILE, out, "10 kg", 20.0),
        BagBar("", home, "5 kg", None, is_home=True),
        BagBar("b", out, "10 kg"),
    ]
    text = bags_svg(bars, 1.0, ("Bags", "Bars."), "kg")
    picture = ElementTree.fromstring(text)
    long = [float(bar.get("width", "")) for bar in picture.iter(f"{SVG}rect") if bar.get("class") == "mass"]
    assert long[0] == long[2] == pytest.approx(2 * long[1], abs=0.2)
    [limit] = [path.get("d", "") for path in picture.iter(f"{SVG}path") if path.get("class") == "limit"]
    assert float(limit[1:].partition(",")[0]) - BARS_LEFT == pytest.approx(2 * long[0], abs=0.2)
    assert "<script" not in text
    assert len(set(texts(picture, "key"))) == 3
    assert ElementTree.fromstring(bags_svg([], 1.0, ("Bags", "Bars."), "kg")) is not None
