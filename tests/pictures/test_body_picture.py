"""The picture of a body with its hoses: the right proportions, the right side, and a letter for each hose."""

from itertools import combinations, pairwise
from math import dist
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.pictures.body_outline import BodyOutline, outline, smooth
from kitbuilder.pictures.body_picture import (
    BACK,
    FRONT,
    BodyPicture,
    Extra,
    HoseLine,
    body_picture,
    place_letters,
)
from kitbuilder.pictures.body_svg import BADGES, BODY, HOSES, INK, PAPER, PER_M, SELECTED, body_svg
from tests.laws import tried
from tests.pictures.bodies import BODIES, GAUGE, INFLATOR, NAMES, PRIMARY, SUIT, hoses, line

MEDIAN = BODIES["median"]
BREADTHS = [name for name in NAMES if "breadth" in name]


@st.composite
def bodies(draw: st.DrawFn) -> dict[str, float]:
    """Lengths between small and large by one share, breadths and girths by another: slender and stout bodies."""
    small, large = BODIES["small"], BODIES["large"]
    long, stout = draw(st.floats(0, 1)), draw(st.floats(0, 1))
    components = {name: stout if name in BREADTHS or "circumference" in name else long for name in NAMES}
    return {name: small[name] + share * (large[name] - small[name]) for name, share in components.items()}


# --- the outline ------------------------------------------------------------------------------------------------------


def crossings(found: BodyOutline, height: float) -> list[float]:
    """Where a level line meets the silhouette, from left to right; the height above C7."""
    closed = (*found.silhouette, found.silhouette[0])
    return sorted(
        x0 + (x1 - x0) * (height - z0) / (z1 - z0)
        for (x0, z0), (x1, z1) in pairwise(closed)
        if (z0 > height) != (z1 > height)
    )


@pytest.mark.parametrize("name", BODIES)
def test_a_body_is_as_tall_as_its_stature(name):
    heights = [z for _, z in outline(BODIES[name]).silhouette]
    assert max(heights) - min(heights) == pytest.approx(BODIES[name]["stature"], abs=0.005)
    assert min(heights) == pytest.approx(-BODIES[name]["C7 height"], abs=0.005)


@pytest.mark.parametrize("name", BODIES)
def test_a_body_is_as_broad_as_its_breadths(name):
    """Over the upper arms, at the head, the waist and the hip, each where the survey measures it."""
    body, found = BODIES[name], outline(BODIES[name])
    arms = crossings(found, body["acromion height"] - body["C7 height"] - 0.06)
    assert arms[-1] - arms[0] == pytest.approx(body["breadth over the upper arms"], abs=0.015)
    head = [x for x, z in found.silhouette if z > body["stature"] - body["C7 height"] - 0.09]
    assert max(head) - min(head) == pytest.approx(body["head breadth"], abs=0.01)
    waist = crossings(found, body["hip crest height"] - body["C7 height"])
    assert waist[3] - waist[2] == pytest.approx(body["waist breadth"], abs=0.01)
    trunk = crossings(found, body["crotch height"] - body["C7 height"] + 0.05)
    assert trunk[-3] - trunk[-4] == pytest.approx(body["hip breadth"], abs=0.01)


@tried(30)
@given(body=bodies())
def test_the_arms_hang_clear_of_every_body(body):
    """At the waist a level line meets an arm, the trunk and an arm; at the knees two legs."""
    found, root = outline(body), body["C7 height"]
    waist = crossings(found, body["hip crest height"] - root)
    assert len(waist) == 6
    assert waist[2] - waist[1] == pytest.approx(waist[4] - waist[3])
    assert waist[2] - waist[1] > 0.01
    assert len(crossings(found, body["knee height"] - root)) == 4


@tried(30)
@given(body=bodies())
def test_the_right_half_is_the_left_half_mirrored(body):
    """And nothing of the right half crosses to the left."""
    around = outline(body).silhouette
    half = len(around) // 2
    assert {(-x, z) for x, z in around} == set(around)
    assert min(x for x, _ in around[: half + 1]) == 0.0


@tried(12)
@given(body=bodies())
def test_the_silhouette_never_crosses_itself(body):
    around = outline(body).silhouette
    pieces = list(pairwise(around[: len(around) // 2 + 1]))
    assert not [1 for one, other in combinations(pieces, 2) if cross(one, other)]


Piece = tuple[tuple[float, float], tuple[float, float]]


def cross(one: Piece, other: Piece) -> bool:
    """Whether each piece has the ends of the other on its two sides."""

    def side(piece: Piece, spot: tuple[float, float]) -> float:
        (x0, z0), (x1, z1) = piece
        return (x1 - x0) * (spot[1] - z0) - (z1 - z0) * (spot[0] - x0)

    return (
        side(one, other[0]) * side(one, other[1]) < -1e-18
        and side(other, one[0]) * side(other, one[1]) < -1e-18
    )  # fmt: skip


def test_a_larger_body_has_a_larger_outline():
    """At one scale the small body fits into the median one, and that into the large one, in height and in breadth."""
    sizes = [
        tuple(max(values) - min(values) for values in zip(*outline(BODIES[name]).silhouette, strict=True))
        for name in ("small", "median", "large")
    ]
    for smaller, larger in pairwise(sizes):
        assert smaller[0] < larger[0]
        assert smaller[1] < larger[1]


@pytest.mark.parametrize("name", [name for name in NAMES if "depth" not in name])
def test_every_measure_is_seen_in_the_outline(name):
    """A little less of any one changes the picture."""
    assert outline(MEDIAN | {name: 0.98 * MEDIAN[name]}) != outline(MEDIAN)


def test_front_and_back_are_reported_by_their_lines():
    """They lie within the body, and are others on the back."""
    found = outline(MEDIAN)
    assert set(found.front).isdisjoint(found.back)
    for curve in (*found.front, *found.back):
        middle = curve[len(curve) // 2]
        assert found.holds((0.97 * middle[0], middle[1])), curve


@given(st.lists(st.tuples(st.floats(-1, 1), st.floats(-1, 1), st.floats(-1, 1)), min_size=1, max_size=8))
def test_a_smooth_curve_goes_through_its_points_in_their_order(points):
    """And keeps near them: no further off than they are apart."""
    curve = smooth(points, 4)
    places = [curve.index(points[0])]
    for point in points[1:]:
        places.append(next(n for n in range(places[-1], len(curve)) if dist(curve[n], point) < 1e-6))
    assert places == sorted(places)
    widest = max((dist(*ends) for ends in pairwise(points)), default=0.0)
    assert all(min(dist(found, point) for point in points) <= widest + 1e-6 for found in curve)


# --- the views --------------------------------------------------------------------------------------------------------


def pieces_of(curves: tuple, sign: int) -> set:
    """The straight pieces of curves, mirrored or not, rounded so that both views agree."""
    return {tuple((round(sign * x, 9), round(z, 9)) for x, z in ends) for curve in curves for ends in pairwise(curve)}


def test_the_diver_s_right_hand_is_left_in_the_front_view():
    """As the diver faces the reader; from the back it is on the right."""
    found = body_picture(MEDIAN, [line(0, PRIMARY)])
    assert (found.front.left, found.front.right) == ("R", "L")
    assert (found.back.left, found.back.right) == ("L", "R")
    [front], [back] = found.front.hoses, found.back.hoses
    assert max(x for curve in front.seen for x, _ in curve) < 0
    assert min(x for curve in back.seen for x, _ in curve) > 0


def test_a_hose_over_the_shoulder_is_seen_behind_and_goes_on_before():
    """From its port behind the neck to the ring on the chest."""
    found = body_picture(MEDIAN, [line(0, INFLATOR)])
    [front], [back] = found.front.hoses, found.back.hoses
    port, ring = (INFLATOR[place][2] for place in (0, -1))
    assert back.seen[0][0] == pytest.approx((-0.04, port))
    assert front.seen[-1][-1] == pytest.approx((0.13, ring))
    assert front.hidden[0][0] == pytest.approx((0.04, port))
    assert back.hidden[-1][-1] == pytest.approx((-0.13, ring))


@pytest.mark.parametrize("forward", [0.28, -0.08])
def test_what_lies_before_the_trunk_is_hidden_from_behind(forward):
    """A hose straight down the chest, and one straight down the back."""
    found = body_picture(MEDIAN, [line(0, ((0.05, forward, -0.1), (0.05, forward, -0.4)))])
    shown, other = (found.front, found.back) if forward > 0.12 else (found.back, found.front)
    assert shown.hoses[0].seen and not shown.hoses[0].hidden
    assert other.hoses[0].hidden and not other.hoses[0].seen


def test_what_lies_beside_the_body_is_seen_from_both_sides():
    """An arch of hose behind the ear hides behind nothing."""
    found = body_picture(MEDIAN, [line(0, ((0.15, -0.1, 0.05), (0.15, -0.1, 0.15)))])
    assert all(view.hoses[0].seen and not view.hoses[0].hidden for view in found.views)


@tried(40)
@given(
    st.lists(
        st.tuples(st.integers(-30, 30), st.integers(-15, 35), st.integers(-60, 20)),
        min_size=2,
        max_size=6,
        unique_by=lambda point: (point[0], point[2]),  # what goes straight forward is no line in a picture
    ).map(lambda points: [tuple(number / 100 for number in point) for point in points])
)
def test_every_piece_of_a_hose_is_drawn_in_both_views_and_nothing_else(points):
    """Seen or hidden, never both, and the two views are mirror images."""
    found = body_picture(MEDIAN, [line(0, tuple(points))])
    [front], [back] = found.front.hoses, found.back.hoses
    for hose in (front, back):
        assert pieces_of(hose.seen, 1) & pieces_of(hose.hidden, 1) == set()
    whole = pieces_of((*front.seen, *front.hidden), -1)
    assert whole == pieces_of((*back.seen, *back.hidden), 1)
    assert len(whole) > 0


def test_the_side_of_a_item_is_reported():
    """A cylinder on the back lies behind the body in the front view and before it in the back view."""
    corners = ((-0.1, -0.15, 0.0), (0.1, -0.15, 0.0), (0.1, -0.15, -0.6), (-0.1, -0.15, -0.6))
    found = body_picture(MEDIAN, [], [Extra(corners, "cylinder")])
    assert (len(found.front.behind), len(found.front.before)) == (1, 0)
    assert (len(found.back.behind), len(found.back.before)) == (0, 1)


# --- the bow of the slack ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("right", "away"), [(0.1, 1), (-0.1, -1)])
def test_the_bow_stands_off_by_the_stand_off_away_from_the_middle(right, away):
    """To scale, widest in the middle; the hose goes straight down the chest, so all of it is seen from the front."""
    straight = tuple((right, 0.28, -0.1 - 0.05 * step) for step in range(9))
    hose = line(0, straight, free=(2, 8), stand_off_m=0.08)
    [drawn] = body_picture(MEDIAN, [hose]).front.hoses
    [bow] = drawn.bow
    offs = [away * (-x - right) for x, _ in bow]
    assert max(offs) == pytest.approx(0.08)
    assert offs.index(max(offs)) == len(offs) // 2
    assert (offs[0], offs[-1]) == (pytest.approx(0.0), pytest.approx(0.0))
    assert (bow[0][1], bow[-1][1]) == (pytest.approx(-0.2), pytest.approx(-0.5))


@pytest.mark.parametrize("options", [{"stand_off_m": None}, {"stand_off_m": 0.0}, {"stand_off_m": 0.1, "free": None}])
def test_without_slack_there_is_no_bow(options):
    found = body_picture(MEDIAN, [line(0, GAUGE, **options)])
    assert all(not any(len(curve) > 1 for curve in view.hoses[0].bow) for view in found.views)


# --- letters ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", BODIES)
def test_a_letter_stands_on_its_own_hose_first(name):
    """Where it is seen, and nearer to it than to any other."""
    found = body_picture(BODIES[name], hoses(name))
    for number, lettered in enumerate(found.letters):
        view, spot = lettered.places[0]
        drawn = found.views[view].hoses
        away = [min(dist(spot, seen) for curve in hose.seen for seen in curve) for hose in drawn]
        assert lettered.line.number == number
        assert away[number] == 0.0


SPOTS = st.tuples(st.floats(0, 40), st.floats(0, 20))


@given(st.lists(st.lists(SPOTS, min_size=1, max_size=4), max_size=20))
def test_letters_are_kept_apart_and_in_the_picture(wishes):
    """Twenty letters of two by one find room in forty by twenty, whatever they wish."""
    found = place_letters(wishes, (2.0, 1.0), (0.0, 0.0), (40.0, 20.0))
    assert len(found) == len(wishes)
    assert all(0 <= x <= 40 and 0 <= z <= 20 for x, z in found)
    for (x0, z0), (x1, z1) in combinations(found, 2):
        assert abs(x0 - x1) >= 2 - 1e-9 or abs(z0 - z1) >= 1 - 1e-9


def test_a_letter_takes_the_first_free_place_it_wishes():
    assert place_letters(
        [[(3.0, 3.0)], [(4.0, 3.0), (9.0, 3.0), (9.0, 9.0)]], (2.0, 1.0), (0.0, 0.0), (20.0, 20.0)
    ) == [
        (3.0, 3.0),
        (9.0, 3.0),
    ]


# --- SVG --------------------------------------------------------------------------------------------------------------

NAMESPACE = {"svg": "http://www.w3.org/2000/svg"}
LEGEND = tuple((letter, f"hose {letter}: needs 0.56 m") for letter in "abcde")


def parsed(picture: BodyPicture, title: str = "Twinset", legend: tuple[tuple[str, str], ...] = LEGEND):
    return ElementTree.fromstring(body_svg(picture, title, legend))


def of_class(root: ElementTree.Element, css: str) -> list[ElementTree.Element]:
    return [element for element in root.iter() if element.get("class") == css]


@pytest.mark.parametrize("name", BODIES)
def test_the_svg_has_each_letter_once_on_the_body_and_once_in_the_legend(name):
    root = parsed(body_picture(BODIES[name], hoses(name)))
    assert [element.text for element in of_class(root, "letter")] == list("abcde")
    assert [element.text for element in of_class(root, "legend")] == list("abcde")
    assert sorted(element.text for element in of_class(root, "signal")) == sorted("CWN")


def test_the_svg_is_an_image_with_a_name_and_a_description():
    """For those who listen to it."""
    root = parsed(body_picture(MEDIAN, hoses("median")), 'Cold <b> & "deep"')
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert root.get("role") == "img"
    assert root.findtext("svg:title", "", NAMESPACE) == 'Cold <b> & "deep"'
    description = root.findtext("svg:desc", "", NAMESPACE)
    assert all(f"{letter} {words}" in description for letter, words in LEGEND)


@tried(40)
@given(title=st.text(), words=st.text(), letter=st.characters())
def test_any_text_makes_a_well_formed_svg(title, words, letter):
    """Also control characters, which no SVG may hold: they are written out."""
    parsed(body_picture(MEDIAN, [line(0, SUIT)]), title, ((letter, words),))


def test_a_long_legend_is_broken_into_lines():
    """Nothing of it is lost, and no line is longer than the picture is wide."""
    words = "needs 0.56 m at rest and 0.71 m with the head back; " * 5
    root = parsed(body_picture(MEDIAN, [line(0, SUIT)]), legend=(("a", words),))
    rows = [element.text or "" for element in of_class(root, "said")]
    assert len(rows) > 2
    assert " ".join(rows).split() == words.split()
    assert max(map(len, rows)) * 6.5 < float(root.get("width", "0"))


def corners(data: str) -> list[tuple[float, float]]:
    """The places of a path of straight lines."""
    numbers = data.replace("M", " ").replace("L", " ").replace("Z", " ").split()
    return [(float(x), float(y)) for x, y in (pair.split(",") for pair in numbers)]


def test_the_svg_is_to_the_scale_of_its_bar():
    """A body of 1755 mm is 8.775 times as tall as the bar of 20 cm is long."""
    root = parsed(body_picture(MEDIAN, ()))
    [bar] = of_class(root, "scale")
    long = float(bar.get("d", "").split(" h")[1].split()[0])
    for body in of_class(root, "body"):
        heights = [y for _, y in corners(body.get("d", ""))]
        assert (max(heights) - min(heights)) / long == pytest.approx(1.755 / 0.2, rel=0.005)
    assert long / 0.2 == PER_M


def test_the_svg_holds_all_it_draws():
    """A bow of half a metre too."""
    root = parsed(body_picture(MEDIAN, [line(0, GAUGE, stand_off_m=0.5), line(1, PRIMARY, stand_off_m=0.4)]))
    width, height = float(root.get("width", "0")), float(root.get("height", "0"))
    places = [place for element in root.iter() if (data := element.get("d", "")) and " h" not in data
              and "v" not in data for place in corners(data)]  # fmt: skip
    assert places
    assert all(0 <= x <= width and 0 <= y <= height for x, y in places)


def test_right_is_left_in_the_svg_too():
    """The marks of the sides, from left to right."""
    marks = [(float(mark.get("x", "0")), mark.text) for mark in of_class(parsed(body_picture(MEDIAN, ())), "side")]
    assert [text for _, text in sorted(marks)] == ["R", "L", "L", "R"]


def test_kinds_of_line_and_signals_differ_by_more_than_colour():
    """Hidden and bow by their dashes, the selected hose by its breadth, signal words by letter and shape."""
    root = parsed(body_picture(MEDIAN, hoses("median")))
    dashes = {css: {element.get("stroke-dasharray") for element in of_class(root, css)}
              for css in ("hidden", "bow", "hose")}  # fmt: skip
    assert all(len(found) == 1 for found in dashes.values())
    assert len({*dashes["hidden"], *dashes["bow"], *dashes["hose"]}) == 3
    [wide] = {float(element.get("stroke-width", "0")) for element in of_class(root, "selected")}
    assert wide > max(float(element.get("stroke-width", "0")) for element in of_class(root, "hose"))
    assert len({shape for _, shape in BADGES.values()}) == len(BADGES) == len({word[0] for word in BADGES})


def luminance(colour: str) -> float:
    """Relative luminance of a colour written in hexadecimal; web content accessibility guidelines 2.1."""
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_what_is_drawn_is_reported_from_its_ground_in_a_bright_room():
    """4.5 to 1 for words and 3 to 1 for shapes are the least of web content accessibility guidelines 2.1."""
    for colour in (*HOSES, SELECTED, INK):
        assert contrast(colour, PAPER) >= 4.5
        assert contrast(colour, BODY) >= 4.5
    assert all(contrast(colour, PAPER) >= 4.5 for colour, _ in BADGES.values())


def test_no_hoses_make_a_picture_of_a_body():
    """Nothing of hoses in it, and no key to lines that are not there."""
    root = parsed(body_picture(MEDIAN, ()), legend=())
    assert len(of_class(root, "body")) == 2
    assert not any(of_class(root, css) for css in ("hose", "hidden", "bow", "letter", "legend", "signal"))
    assert "behind the body" not in "".join(root.itertext())


def test_the_views_have_their_numbers():
    """Places of letters refer to them."""
    found = body_picture(MEDIAN, [line(0, GAUGE)])
    assert found.views[FRONT].name == "front"
    assert found.views[BACK].name == "back"
    assert isinstance(found.letters[0].line, HoseLine)
