"""A grid of cells to draw on: layers of dots or of plain signs, and words over them."""

from collections.abc import Collection, Iterable, Sequence
from itertools import groupby

from kitbuilder.pictures.dots import BRAILLE, COLUMNS, DOT_BITS, ROWS, Dot

StyledText = tuple[str, str]
"""A piece of a line, and its role: what it shows, empty where it shows nothing."""


class Canvas:
    """Cells of a terminal. A later layer lies over the earlier ones, whose dots shine through."""

    def __init__(self, width: int, height: int, *, plain: bool) -> None:
        """Make an empty grid of cells; `plain` draws signs in place of braille dots."""
        self.width, self.height, self.plain = width, height, plain
        self._bits = [[0] * width for _ in range(height)]
        self._cells: list[list[StyledText]] = [[(" ", "")] * width for _ in range(height)]

    def paint(self, dots: Iterable[Dot], role: str, sign: str) -> None:
        """Set the dots that lie on the grid, counted from the upper left; `sign` stands for them where it is plain."""
        for x, y in dots:
            row, column = y // ROWS, x // COLUMNS
            if not (0 <= column < self.width and 0 <= row < self.height):
                continue
            bits = self._bits[row][column] | DOT_BITS[y % ROWS][x % COLUMNS]
            self._bits[row][column] = bits
            self._cells[row][column] = (sign if self.plain else chr(BRAILLE + bits), role)

    def write(self, column: int, row: int, words: str, role: str) -> None:
        """Write words over what is drawn; what lies beside the grid is cut off."""
        for place, sign in enumerate(words, column):
            if 0 <= place < self.width and 0 <= row < self.height:
                self._bits[row][place] = 0
                self._cells[row][place] = (sign, role)

    def is_free(self, column: int, row: int, length: int, covered: Collection[str] = ()) -> bool:
        """Say whether words would fit, and cover nothing but empty cells and those of the roles in `covered`."""
        if not (0 <= row < self.height and column >= 0 and column + length <= self.width):
            return False
        return all(not role or role in covered for _, role in self._cells[row][column : column + length])

    def write_first(
        self, wishes: Iterable[tuple[int, int]], words: str, role: str, covered: Collection[str] = ()
    ) -> bool:
        """Write words at the first free place, with a gap on both sides; say whether there was one."""
        for column, row in wishes:
            start, end = max(column - 1, 0), min(column + len(words) + 1, self.width)
            inside = column >= 0 and column + len(words) <= self.width
            if words and inside and self.is_free(start, row, end - start, covered):
                self.write(start, row, " " * (end - start), "")
                self.write(column, row, words, role)
                return True
        return False

    def rows(self) -> list[list[StyledText]]:
        """Give the lines, from the top."""
        return [runs_of(row) for row in self._cells]


def runs_of(cells: Sequence[StyledText]) -> list[StyledText]:
    """Join neighbours of one role."""
    return [("".join(sign for sign, _ in run), role) for role, run in groupby(cells, key=lambda cell: cell[1])]


def text_lines(rows: Iterable[Iterable[StyledText]]) -> list[str]:
    """Give the lines without their roles."""
    return ["".join(text for text, _ in row) for row in rows]
