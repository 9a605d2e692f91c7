"""The picture of sets: where each letter stands."""

import pytest

from kitbuilder.pictures.canvas import text_lines
from kitbuilder.pictures.front import FrontData, draw_front

X, Y = ((0.0, "0"), (1.0, "+1 kg")), ((0.0, "0"), (10.0, "+10 kg"))
MARGIN = len("+10 kg") + 2
WIDTH, HEIGHT = 41 + MARGIN, 12


def drawn(*points: tuple[tuple[float, float], str], selected: str = "") -> list[str]:
    return text_lines(draw_front(FrontData(points, X, Y, "lead", selected), WIDTH, HEIGHT, plain=True))


def place(letter: str, lines: list[str]) -> tuple[int, int]:
    """Column and row among the cells of the plot, right of the axis and above the labels."""
    [row] = [number for number, line in enumerate(lines[:-1]) if letter in line[MARGIN:]]
    return lines[row].index(letter, MARGIN) - MARGIN, row


@pytest.mark.parametrize(
    ("point", "cell"),
    [((0.0, 10.0), (0, 0)), ((1.0, 10.0), (40, 0)), ((1.0, 0.0), (40, 10)), ((0.5, 5.0), (20, 5))],
)
def test_a_letter_stands_where_its_set_lies(point: tuple[float, float], cell: tuple[int, int]) -> None:
    """Of 41 columns and 11 rows: the corners, and the middle."""
    assert place("q", drawn((point, "q"))) == cell


def test_the_kit_as_it_is_stands_at_zero() -> None:
    assert place("#", drawn()) == (0, 10)


def test_of_two_sets_at_one_place_the_second_stands_beside() -> None:
    lines = drawn(((0.5, 5.0), "q"), ((0.5, 5.0), "r"))
    assert place("q", lines) == (20, 5)
    assert place("r", lines) in {(19, 5), (21, 5)}


def test_what_is_selected_has_its_place_and_its_role() -> None:
    data = FrontData((((0.5, 5.0), "q"), ((0.5, 5.0), "r")), X, Y, "lead", "r")
    rows = draw_front(data, WIDTH, HEIGHT, plain=True)
    assert place("r", text_lines(rows)) == (20, 5)
    assert [text for row in rows for text, role in row if role == "selected"] == ["r"]


def test_there_is_no_picture_without_room() -> None:
    assert draw_front(FrontData((), X, Y), 10, 2) == [[], []]
