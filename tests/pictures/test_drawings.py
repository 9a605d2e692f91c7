"""The plot, the hose at rest, the lying diver and ranges as pure text: every size, in dots and in plain signs."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.figures import Figure
from kitbuilder.pictures.canvas import text_lines
from kitbuilder.pictures.dots import BRAILLE
from kitbuilder.pictures.hose_curve import CurveWords, draw_hose_curve
from kitbuilder.pictures.plot import SIGNS, PlotCurve, PlotData, draw_plot
from kitbuilder.pictures.range_bar import draw_range, scale_end, scale_head
from kitbuilder.pictures.side_outline import LEFT, RIGHT, Mark
from kitbuilder.pictures.side_view import BEYOND, Turning, draw_side_view
from tests.laws import tried

X_TICKS = ((0.0, "0 m"), (15.0, "15 m"), (30.0, "30 m"))
Y_TICKS = ((-8.0, "−8"), (0.0, "0"), (2.0, "+2 kg"))
MARGIN = len("+2 kg ┤")
"""The labels to the left, and the line of the axis."""
FALLING = tuple((3.0 * number, -0.8 * number) for number in range(11))
FLAT = ((0.0, 1.0), (30.0, 1.0))

WIDTHS, HEIGHTS = st.integers(0, 130), st.integers(0, 40)
MARKS = (Mark("C", 0.15, 0.09, 0.37, 0.06), Mark("W", 0.1, 0.06), Mark("L", 0.3, -0.04), Mark("−", 0.95, 0.0))


def plot(width: int, height: int, *, plain: bool = False, curves=(FALLING, FLAT), **more) -> list[str]:
    """A plot without words on it, unless more is given."""
    data = PlotData([PlotCurve(points) for points in curves], X_TICKS, Y_TICKS)._replace(**more)
    return text_lines(draw_plot(data, width, height, plain=plain))


def dots_of(lines: list[str]) -> list[tuple[int, int]]:
    """The cells with any dot or sign, by column and row."""
    return [(x, y) for y, line in enumerate(lines) for x, cell in enumerate(line) if cell != " "]


# --- the plot ---------------------------------------------------------------------------------------------------------


def named(width: int, height: int, *, plain: bool = False) -> list[list[tuple[str, str]]]:
    """A plot with all its words, and the roles of its pieces."""
    curves = [PlotCurve(FALLING, "gas full"), PlotCurve(FLAT, "reserve")]
    data = PlotData(curves, X_TICKS, Y_TICKS, "depth", "floats", "sinks", (5.0, -1.0), "stop, 5 m")
    return draw_plot(data, width, height, plain=plain)


@tried(30)
@given(width=WIDTHS, height=HEIGHTS, plain=st.booleans())
def test_a_plot_has_exactly_its_size(width, height, plain):
    """Without room for an axis its lines are blank, as many as asked for."""
    lines = text_lines(named(width, height, plain=plain))
    assert len(lines) == height
    if width - MARGIN < 8 or height < 4:
        assert set(lines) <= {""}
    else:
        assert {len(line) for line in lines} == {width}


@pytest.mark.parametrize(("width", "height"), [(14, 20), (0, 20), (40, 3), (40, 0), (0, 0), (-1, -1)])
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
    lines = plot(width, height, plain=plain, curves=(curve,), mark=mark)
    columns = {x for x, y in dots_of(lines[:-1]) if x >= MARGIN}
    assert columns == set(range(MARGIN, width))
    assert "".join(lines).count("#" if plain else "◆") == 1


def test_a_curve_keeps_its_place_between_the_ticks():
    """A level at +1 of −8 to +2 lies a tenth of the way down; the falling one ends at the bottom."""
    grid = [line[MARGIN:] for line in plot(61, 41, plain=True)][:-1]
    assert [y for y, row in enumerate(grid) if SIGNS[1] in row] == [4]
    falling = [(x, y) for y, row in enumerate(grid) for x, cell in enumerate(row) if cell == SIGNS[0]]
    assert falling[0] == (0, 8)
    assert falling[-1] == (53, 39)
    assert all(right[1] - left[1] in (0, 1) for left, right in pairwise(falling))


def test_the_area_between_the_curves_is_filled_and_nothing_else():
    """Everything the diver passes through as the gas is used."""
    grid = [line[MARGIN:] for line in plot(61, 41, plain=True)][:-1]
    falling = {x: y for y, row in enumerate(grid) for x, cell in enumerate(row) if cell == SIGNS[0]}
    filled = [(x, y) for y, row in enumerate(grid) for x, cell in enumerate(row) if cell == "."]
    assert len(filled) > 300
    assert all(4 <= y <= max(falling[x], falling.get(x + 1, 0)) for x, y in filled)


def test_the_area_of_one_curve_is_filled_up_to_zero():
    grid = [line[MARGIN:] for line in plot(61, 41, plain=True, curves=(FALLING,))][:-1]
    rows = {y for y, row in enumerate(grid) for cell in row if cell == "."}
    assert min(rows) >= 8
    assert max(rows) >= 38


def test_the_labels_stand_at_their_ticks():
    """To the left at the ends and at zero, below at both ends and in the middle."""
    lines = plot(61, 21)
    assert [(y, line[: MARGIN - 1].strip()) for y, line in enumerate(lines[:-1]) if line[: MARGIN - 1].strip()] == [
        (0, "+2 kg"), (4, "0"), (19, "−8")
    ]  # fmt: skip
    assert [line[MARGIN - 1] for line in lines] == ["┤" if y in (0, 4, 19) else "│" for y in range(20)] + ["└"]
    assert lines[-1][MARGIN:].startswith(" 0 m ─")
    assert lines[-1].endswith("─ 30 m")
    assert abs(lines[-1].index("15 m") + 2 - (MARGIN + 27)) <= 1


def test_of_two_labels_in_one_row_zero_and_the_ends_stay():
    ticks = tuple((float(value), f"{value:+d}" if value else "0") for value in range(-8, 3))
    labels = [line[: len("+2") + 1].strip() for line in plot(61, 6, y_ticks=ticks)[:-1]]
    assert [label for label in labels if label][:1] == ["+2"]
    assert "0" in labels
    assert labels[4] == "-8"


def test_labels_never_run_into_each_other():
    """The one in the middle gives way, the ends stay."""
    for width in range(MARGIN + 12, 60):
        below = plot(width, 10)[-1].replace("─", " ").split()[1:]
        assert below in (["0", "m", "15", "m", "30", "m"], ["0", "m", "30", "m"])


def test_the_zero_line_is_drawn():
    """In signs and in dots, across the whole plot, where no curve hides it."""
    plain = plot(61, 21, plain=True, curves=(FLAT,))[4][MARGIN:]
    assert set(plain) == {"-"}
    dotted = plot(61, 21, curves=(((0.0, -8.0), (30.0, -8.0)),))[4][MARGIN:]
    assert " " not in dotted


def test_the_mark_stands_at_its_point_and_its_words_beside_it():
    for sign, plain in (("◆", False), ("#", True)):
        lines = plot(61, 21, mark=(15.0, -3.0), mark_label="stop, 5 m", plain=plain)
        [(row, column)] = [(y, line.index(sign)) for y, line in enumerate(lines) if sign in line]
        assert row == 10
        assert abs(column - (MARGIN + 27)) <= 1
        assert [abs(y - row) <= 2 for y, line in enumerate(lines) if "stop, 5 m" in line] == [True]
    assert "◆" not in "".join(plot(61, 21))


@tried(30)
@given(width=st.integers(48, 120), height=st.integers(9, 40), plain=st.booleans())
def test_every_word_stands_once_and_each_name_is_next_to_its_curve(width, height, plain):
    """What a curve is stands within two cells of it, and nearer to it than to the other."""
    rows = named(width, height, plain=plain)
    lines = text_lines(rows)
    assert all("".join(lines).count(words) == 1 for words in ("gas full", "reserve", "stop, 5 m", "depth"))
    cells = {role: [] for role in ("curve", "second")}
    for y, row in enumerate(rows):
        for x, (_, role) in enumerate((sign, role) for piece, role in row for sign in piece):
            if role in cells:
                cells[role].append((x, y))
    for words, own, other in (("gas full", "curve", "second"), ("reserve", "second", "curve")):
        [(x, y)] = [(line.index(words), y) for y, line in enumerate(lines) if words in line]
        near, far = (
            min(max(abs(row - y), x - column, column - x - len(words) + 1) for column, row in cells[role])
            for role in (own, other)
        )
        assert near <= 2
        assert near <= far


@tried(30)
@given(width=st.integers(15, 120), height=st.integers(4, 40))
def test_a_plain_plot_is_ascii_and_what_its_labels_bring(width, height):
    text = "".join(plot(width, height, plain=True, mark=(5.0, -3.0)))
    brought = set("".join(words for _, words in (*X_TICKS, *Y_TICKS)))
    assert {sign for sign in text if not sign.isascii()} <= brought
    assert all(sign in text for sign in "o#")


def test_a_plot_in_dots_has_no_signs():
    text = "".join(line[MARGIN:] for line in plot(61, 21)[:-1])
    assert all(cell == " " or BRAILLE < ord(cell) < BRAILLE + 256 for cell in text)


def test_the_second_curve_is_broken_and_the_first_is_whole():
    """So that they are distinguished without colour."""
    first = plot(61, 21, curves=(FLAT,))[2][MARGIN:]
    second = plot(61, 21, curves=((), FLAT))[2][MARGIN:]
    assert " " not in first
    assert second.count(" ") > 10
    assert len(second.split()) > 10


def test_an_axis_that_runs_down_is_drawn_from_left_to_right():
    """Pressure falls during the dive: 200 bar to the left, 50 to the right."""
    ticks = ((200e5, "200 bar"), (125e5, "125 bar"), (50e5, "50 bar"))
    lines = plot(61, 21, plain=True, curves=(((200e5, -8.0), (50e5, 2.0)),), x_ticks=ticks)
    assert lines[-1].replace("-", " ").split()[1:] == ["200", "bar", "125", "bar", "50", "bar"]
    assert lines[0].index(SIGNS[0]) > lines[-2].index(SIGNS[0])


@pytest.mark.parametrize("plain", [False, True])
def test_an_axis_of_no_length_does_no_harm(plain):
    """A cylinder that is filled to its reserve and no more."""
    ticks, curve = ((50e5, "50 bar"),) * 3, ((50e5, -1.0), (50e5, 1.0))
    lines = plot(60, 21, plain=plain, curves=(curve, curve), x_ticks=ticks, mark=(50e5, 0.0))
    assert {len(line) for line in lines} == {60}


# --- the hose at rest -------------------------------------------------------------------------------------------------

ARCH = tuple((float(x), 4.0 * x * (10.0 - x) / 100.0) for x in range(11))
LENGTHS = CurveWords("long 75 cm", "run 69 cm", "slack 6 cm", "bow 9 cm", "span 30 cm")
UNSIGNED = CurveWords(*(words.replace("o", "0") for words in LENGTHS))
"""The same without the sign of the hose."""


@tried(30)
@given(width=WIDTHS, height=HEIGHTS, plain=st.booleans(), tall=st.floats(0, 3))
def test_the_hose_keeps_its_size_and_every_cell_of_its_line(width, height, plain, tall):
    """Words cover the line of the body only: the hose is as it is without them, from one end to the other."""
    curve = [(x, tall * y) for x, y in ARCH]
    lines = draw_hose_curve(curve, width, height, words=UNSIGNED, plain=plain)
    assert len(lines) == max(height, 0)
    assert all(len(line) <= max(width, 0) for line in lines)
    if plain and width >= 4 and height >= 4:
        columns = {x for line in lines for x, cell in enumerate(line) if cell == "o"}
        assert columns == set(range(min(columns), max(columns) + 1))


@tried(30)
@given(width=st.integers(43, 120), height=st.integers(6, 20), plain=st.booleans())
def test_with_room_every_length_is_written_once(width, height, plain):
    text = "\n".join(draw_hose_curve(ARCH, width, height, words=LENGTHS, plain=plain))
    assert [words for words in LENGTHS if text.count(words) != 1] == []


def test_more_slack_bows_further_out():
    """At one scale: twice the stand-off over the same span is drawn about twice as high."""
    low, high = (
        len([line for line in draw_hose_curve([(x, k * y) for x, y in ARCH], 100, 40) if line.strip()]) for k in (1, 2)
    )
    assert high - 1 == pytest.approx(2 * (low - 1), abs=2)


# --- a range on a scale -----------------------------------------------------------------------------------------------


def figure(value: float, spread: float) -> Figure:
    """A figure with one source of uncertainty."""
    return Figure(value, {"its source": spread}, "typed")


@tried(30)
@given(value=st.floats(-5, 12), spread=st.floats(0.1, 6), width=st.integers(1, 40), plain=st.booleans())
def test_a_range_has_its_width_and_its_value_once(value, spread, width, plain):
    bar = draw_range(figure(value, spread), 10.0, width, plain=plain)
    assert len(bar) == width
    assert bar.count("o" if plain else "●") == 1
    assert bar.strip().count(" ") == 0


def test_a_wider_range_is_drawn_wider_and_a_larger_value_further_right():
    narrow, wide, right = (
        draw_range(figure(value, spread), 10.0, 21, plain=True)
        for value, spread in ((4.0, 1.0), (4.0, 3.0), (6.0, 1.0))
    )
    assert narrow == "      |-o-|          "
    assert wide == "  |-----o-----|      "
    assert right == "          |-o-|      "


def test_what_is_below_zero_has_no_end():
    """A kit may be too heavy without any lead; the bar begins at its edge."""
    assert draw_range(figure(1.0, 4.0), 10.0, 11, plain=False) == "─●───┤     "


def test_a_scale_ends_at_a_round_number_above_every_range():
    """In the unit that is shown: 8.2 kg are 18.1 lb."""
    figures = [figure(2.0, 1.0), figure(5.0, 3.2)]
    assert (scale_end(figures, 1.0).number, scale_end(figures, 0.45359237).number) == (10, 20)
    assert scale_end(figures, 1.0).place == 10.0


def test_the_head_of_a_scale_is_as_wide_as_its_bars():
    assert scale_head("0", "lead", "10", 16) == "0    lead     10"
    assert scale_head("0", "lead", "10", 8) == "0     10"


# --- the lying diver --------------------------------------------------------------------------------------------------


@tried(30)
@given(width=WIDTHS, height=HEIGHTS, plain=st.booleans())
def test_the_diver_has_exactly_its_size(width, height, plain):
    lines = text_lines(draw_side_view(MARKS, width, height, turning=Turning(1, "head down"), plain=plain))
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
    lines = text_lines(draw_side_view([Mark("L", along, behind, length, radius)], width, height))
    assert "".join(lines).count("L") == 1


def test_later_marks_lie_over_earlier_ones():
    """Lead is drawn last: it is what one looks for."""
    lines = text_lines(draw_side_view([Mark("W", 0.3, 0.0), Mark("L", 0.3, 0.0)], 60, 20))
    assert "L" in "".join(lines)
    assert "W" not in "".join(lines)


def test_marks_keep_their_order_from_head_to_feet_and_from_back_to_front():
    """The head is to the left, the back is up."""
    marks = [Mark("A", 0.0, 0.0), Mark("B", 0.5, 0.0), Mark("U", 0.2, 0.1), Mark("D", 0.2, -0.1)]
    lines = text_lines(draw_side_view(marks, 80, 20))
    place = {sign: (line.index(sign), y) for y, line in enumerate(lines) for sign in "ABUD" if sign in line}
    assert place["A"][0] < place["U"][0] == place["D"][0] < place["B"][0]
    assert place["U"][1] < place["A"][1] == place["B"][1] < place["D"][1]


def test_the_diver_is_drawn_to_scale():
    """As long as 1.2 statures from head to fins; a cylinder of half a stature is as long as its outline."""
    figure = columns_of(draw_side_view((), 126, 60), "body")
    per_stature = (126 * 2 - 1) / (RIGHT - LEFT + 2 * BEYOND) / 2
    assert max(figure) - min(figure) == pytest.approx((1.02 + 0.185) * per_stature, abs=1.5)
    cylinder = columns_of(draw_side_view([Mark("C", 0.4, 0.2, 0.5, 0.02)], 126, 60), "item")
    assert max(cylinder) - min(cylinder) == pytest.approx(0.5 * per_stature, abs=1.5)


def columns_of(rows, role: str) -> set[int]:
    """The columns of the cells of one role."""
    cells = [[(sign, own) for text, own in row for sign in text] for row in rows]
    return {x for row in cells for x, (_, own) in enumerate(row) if own == role}


@tried(30)
@given(width=st.integers(24, 120), height=st.integers(6, 40), plain=st.booleans())
def test_arrows_point_the_way_the_diver_turns(width, height, plain):
    """Down at the head is up at the fins, and the other way round; a level line lies between them."""
    tips = "v^" if plain else "▼▲"
    for head_is, (at_head, at_fins) in ((1, tips), (-1, tips[::-1])):
        rows = draw_side_view((), width, height, turning=Turning(head_is), plain=plain)
        lines = text_lines(rows)
        [head] = [(line.index(at_head), y) for y, line in enumerate(lines) if at_head in line]
        [fins] = [(line.index(at_fins), y) for y, line in enumerate(lines) if at_fins in line]
        assert head[0] < fins[0]
        assert (head[1] > fins[1]) is (head_is > 0)
        assert columns_of(rows, "level")
    assert not columns_of(draw_side_view((), width, height, turning=Turning(0), plain=plain), "turn")


@tried(30)
@given(width=st.integers(16, 120), height=st.integers(3, 40))
def test_a_plain_diver_is_ascii_and_what_its_marks_bring(width, height):
    text = "".join(text_lines(draw_side_view(MARKS, width, height, turning=Turning(-1, "head up"), plain=True)))
    assert {sign for sign in text if not sign.isascii()} <= {mark.sign for mark in MARKS}
    assert "." in text


def test_a_diver_in_dots_has_braille_and_marks_only():
    text = "".join(text_lines(draw_side_view(MARKS, 60, 20)))
    signs = {mark.sign for mark in MARKS}
    assert all(cell == " " or cell in signs or BRAILLE < ord(cell) < BRAILLE + 256 for cell in text)
