"""The plot and the lying diver as pure text: every size, in dots and in plain signs."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.pictures.dots import BRAILLE
from kitbuilder.pictures.plot import SIGNS, draw_plot
from kitbuilder.pictures.side_outline import LEFT, RIGHT, Mark
from kitbuilder.pictures.side_view import draw_side_view
from tests.laws import tried

X_TICKS = ((0.0, "0 m"), (15.0, "15 m"), (30.0, "30 m"))
Y_TICKS = ((-8.0, "−8"), (0.0, "0"), (2.0, "+2 kg"))
MARGIN = len("+2 kg ")
FALLING = tuple((3.0 * number, -0.8 * number) for number in range(11))
FLAT = ((0.0, 1.0), (30.0, 1.0))

WIDTHS, HEIGHTS = st.integers(0, 130), st.integers(0, 40)
MARKS = (Mark("C", 0.15, 0.09, 0.37, 0.06), Mark("W", 0.1, 0.06), Mark("L", 0.3, -0.04), Mark("−", 0.95, 0.0))


def plot(width: int, height: int, **options) -> list[str]:
    return draw_plot((FALLING, FLAT), X_TICKS, Y_TICKS, width, height, **options)


def dots_of(lines: list[str]) -> list[tuple[int, int]]:
    """The cells with any dot or sign, by column and row."""
    return [(x, y) for y, line in enumerate(lines) for x, cell in enumerate(line) if cell != " "]


# --- the plot ---------------------------------------------------------------------------------------------------------


@tried(30)
@given(width=WIDTHS, height=HEIGHTS, plain=st.booleans())
def test_a_plot_has_exactly_its_size(width, height, plain):
    """Without room for an axis its lines are blank, as many as asked for."""
    lines = plot(width, height, plain=plain, mark=(5.0, -1.0))
    assert len(lines) == height
    if width - MARGIN < 8 or height < 4:
        assert set(lines) <= {""}
    else:
        assert {len(line) for line in lines} == {width}


@pytest.mark.parametrize(("width", "height"), [(13, 20), (0, 20), (40, 3), (40, 0), (0, 0), (-1, -1)])
def test_a_plot_that_is_too_small_is_blank(width, height):
    assert plot(width, height) == [""] * max(height, 0)


@tried(30)
@given(
    values=st.lists(st.floats(-8, 2), min_size=2, max_size=12),
    mark=st.tuples(st.floats(0, 30), st.floats(-8, 2)),
    width=st.integers(20, 120),
    height=st.integers(5, 40),
    plain=st.booleans(),
)
def test_any_curve_within_its_ticks_is_drawn_without_gaps(values, mark, width, height, plain):
    """In every column between its ends there is something, and the mark stands once."""
    curve = [(30.0 * number / (len(values) - 1), value) for number, value in enumerate(values)]
    lines = draw_plot([curve], X_TICKS, Y_TICKS, width, height, mark=mark, plain=plain)
    columns = {x for x, y in dots_of(lines[:-1]) if x >= MARGIN}
    assert columns == set(range(MARGIN, width))
    assert "".join(lines).count("#" if plain else "◆") == 1


def test_a_curve_keeps_its_place_between_the_ticks():
    """A level at +1 of −8 to +2 lies a tenth of the way down; the falling one ends at the bottom."""
    grid = [line[MARGIN:] for line in plot(60, 41, plain=True)][:-1]
    assert [y for y, row in enumerate(grid) if SIGNS[1] in row] == [4]
    assert grid[4].count(SIGNS[1]) > 50
    falling = [(x, y) for y, row in enumerate(grid) for x, cell in enumerate(row) if cell == SIGNS[0]]
    assert falling[0] == (0, 8)
    assert falling[-1] == (53, 39)
    assert all(right[1] - left[1] in (0, 1) for left, right in pairwise(falling))


def test_the_labels_stand_at_their_ticks():
    """To the left at the ends and at zero, below at both ends and in the middle."""
    lines = plot(60, 21)
    assert [(y, line[:MARGIN].strip()) for y, line in enumerate(lines[:-1]) if line[:MARGIN].strip()] == [
        (0, "+2 kg"), (4, "0"), (19, "−8")
    ]  # fmt: skip
    assert lines[-1].startswith(" " * MARGIN + "0 m")
    assert lines[-1].endswith("30 m")
    assert abs(lines[-1].index("15 m") + 2 - (MARGIN + 27)) <= 1


def test_labels_never_run_into_each_other():
    """The one in the middle gives way, the ends stay."""
    for width in range(MARGIN + 8, 60):
        below = draw_plot((FALLING,), X_TICKS, Y_TICKS, width, 10)[-1].split()
        assert below in (["0", "m", "15", "m", "30", "m"], ["0", "m", "30", "m"])


def test_the_zero_line_is_drawn():
    """In signs and in dots, across the whole plot, where no curve hides it."""
    plain = plot(60, 21, plain=True)[4][MARGIN:]
    assert plain[10:].split() == ["-"] * 22
    dotted = draw_plot((((0.0, -8.0), (30.0, -8.0)),), X_TICKS, Y_TICKS, 60, 21)[4][MARGIN:]
    assert len(dotted.split()) == 27
    assert dotted.count(dotted[0]) == 27


def test_the_mark_stands_at_its_point():
    """In the cell of the point, whatever was drawn there."""
    for sign, plain in (("◆", False), ("#", True)):
        lines = plot(60, 21, mark=(15.0, -3.0), plain=plain)
        [(row, column)] = [(y, line.index(sign)) for y, line in enumerate(lines) if sign in line]
        assert row == 10
        assert abs(column - (MARGIN + 27)) <= 1
    assert "◆" not in "".join(plot(60, 21))


@tried(30)
@given(width=st.integers(14, 120), height=st.integers(4, 40))
def test_a_plain_plot_is_ascii_and_what_its_labels_bring(width, height):
    text = "".join(plot(width, height, plain=True, mark=(5.0, -3.0)))
    brought = set("".join(words for _, words in (*X_TICKS, *Y_TICKS)))
    assert {sign for sign in text if not sign.isascii()} <= brought
    assert all(sign in text for sign in "o#")


def test_a_plot_in_dots_has_no_signs():
    text = "".join(line[MARGIN:] for line in plot(60, 21)[:-1])
    assert all(cell == " " or BRAILLE < ord(cell) < BRAILLE + 256 for cell in text)


def test_the_second_curve_is_broken_and_the_first_is_whole():
    """So that they are distinguished without colour."""
    first = draw_plot((FLAT,), X_TICKS, Y_TICKS, 60, 21)[2][MARGIN:]
    second = draw_plot(((), FLAT), X_TICKS, Y_TICKS, 60, 21)[2][MARGIN:]
    assert " " not in first
    assert second.count(" ") > 10
    assert len(second.split()) > 10


def test_an_axis_that_runs_down_is_drawn_from_left_to_right():
    """Pressure falls during the dive: 200 bar to the left, 50 to the right."""
    ticks = ((200e5, "200 bar"), (125e5, "125 bar"), (50e5, "50 bar"))
    lines = draw_plot((((200e5, -8.0), (50e5, 2.0)),), ticks, Y_TICKS, 60, 21, plain=True)
    assert lines[-1].split() == ["200", "bar", "125", "bar", "50", "bar"]
    assert lines[0].index(SIGNS[0]) > lines[-2].index(SIGNS[0])


@pytest.mark.parametrize("plain", [False, True])
def test_an_axis_of_no_length_does_no_harm(plain):
    """A cylinder that is filled to its reserve and no more."""
    ticks = ((50e5, "50 bar"),) * 3
    lines = draw_plot((((50e5, -1.0), (50e5, 1.0)),), ticks, Y_TICKS, 60, 21, mark=(50e5, 0.0), plain=plain)
    assert {len(line) for line in lines} == {60}


# --- the lying diver --------------------------------------------------------------------------------------------------


@tried(30)
@given(width=WIDTHS, height=HEIGHTS, plain=st.booleans())
def test_the_diver_has_exactly_its_size(width, height, plain):
    lines = draw_side_view(MARKS, width, height, plain=plain)
    assert len(lines) == height
    if width < 16 or height < 3:
        assert set(lines) <= {""}
    else:
        assert {len(line) for line in lines} == {width}


@tried(30)
@given(
    along=st.floats(-3, 3),
    behind=st.floats(-3, 3),
    length=st.floats(0, 1),
    radius=st.floats(0, 0.2),
    width=st.integers(16, 100),
    height=st.integers(3, 30),
)
def test_a_mark_is_shown_wherever_it_lies(along, behind, length, radius, width, height):
    """A place off the picture stands at its edge, so that nothing is silently left out."""
    lines = draw_side_view([Mark("L", along, behind, length, radius)], width, height)
    assert "".join(lines).count("L") == 1


def test_later_marks_lie_over_earlier_ones():
    """Lead is drawn last: it is what one looks for."""
    lines = draw_side_view([Mark("W", 0.3, 0.0), Mark("L", 0.3, 0.0)], 60, 20)
    assert "L" in "".join(lines)
    assert "W" not in "".join(lines)


def test_marks_keep_their_order_from_head_to_feet_and_from_back_to_front():
    """The head is to the left, the back is up."""
    lines = draw_side_view(
        [Mark("A", 0.0, 0.0), Mark("B", 0.5, 0.0), Mark("U", 0.2, 0.1), Mark("D", 0.2, -0.1)], 80, 20
    )
    place = {sign: (line.index(sign), y) for y, line in enumerate(lines) for sign in "ABUD" if sign in line}
    assert place["A"][0] < place["U"][0] == place["D"][0] < place["B"][0]
    assert place["U"][1] < place["A"][1] == place["B"][1] < place["D"][1]


def test_the_diver_is_drawn_to_scale():
    """As long as 1.2 statures from head to fins; a cylinder of half a stature is as long as its outline."""
    lines = draw_side_view((), 126, 60)
    columns = [x for x, _ in dots_of(lines)]
    per_stature = (126 * 2 - 1) / (RIGHT - LEFT) / 2
    assert max(columns) - min(columns) == pytest.approx((1.02 + 0.185) * per_stature, abs=1.5)
    before = set(dots_of(lines))
    added = set(dots_of(draw_side_view([Mark("C", 0.4, 0.2, 0.5, 0.02)], 126, 60))) - before
    assert max(x for x, _ in added) - min(x for x, _ in added) == pytest.approx(0.5 * per_stature, abs=1.5)


@tried(30)
@given(width=st.integers(16, 120), height=st.integers(3, 40))
def test_a_plain_diver_is_ascii_and_what_its_marks_bring(width, height):
    text = "".join(draw_side_view(MARKS, width, height, plain=True))
    assert {sign for sign in text if not sign.isascii()} <= {mark.sign for mark in MARKS}
    assert "." in text


def test_a_diver_in_dots_has_braille_and_marks_only():
    text = "".join(draw_side_view(MARKS, 60, 20))
    signs = {mark.sign for mark in MARKS}
    assert all(cell == " " or cell in signs or BRAILLE < ord(cell) < BRAILLE + 256 for cell in text)
