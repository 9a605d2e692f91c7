"""A page: everything one answer says, as values.

Builders in this package turn an assessment or a plan into a `Page`; they know neither units nor widths. Renderers
(`renderers/`, and the app's `PageView`) turn a page into text, JSON or a widget; they know nothing of kits.

Every value has a place in JSON by its `key`, and a place on paper by its label or column head. An empty key keeps a
value out of JSON: a heading, a sentence that only repeats figures. An empty label or head keeps it out of the text:
figures that a program wants and no reader has asked for.
"""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING, NamedTuple, Protocol

from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.findings import About, Amount, ByUnits, Signal
from kitbuilder.assess.findings import Tag as Tag  # builders take it from here, with the other values of a page

if TYPE_CHECKING:
    from typing_extensions import TypeIs

    from kitbuilder.report.numbers import System


class Estimate(NamedTuple):
    """A figure: value, spread and origin."""

    figure: Figure
    measure: str
    """How it is shown; a key of `kitbuilder.report.numbers.MEASURES`."""


class Interval(NamedTuple):
    """A value with both ends of the range it may lie in."""

    range: Range
    measure: str


class Between(NamedTuple):
    """Two ends without a value between them: "9 to 13 cm"."""

    low: float
    high: float
    measure: str


class Amounts(NamedTuple):
    """Values that belong together: "230, 200 bar". On paper each number stands once; JSON has all of them."""

    values: tuple[float, ...]
    measure: str


class Share(NamedTuple):
    """A part of a whole, or a probability, from 0 to 1: "95 %", "50 ± 1 %"."""

    value: float | Figure


class Duration(NamedTuple):
    """A time with both ends of the range it may lie in, to two digits: "80 s (43 to 180)"."""

    range: Range
    """[s]"""


class Price(NamedTuple):
    """An amount of money, in the currency that its file names; empty when it names none."""

    value: float
    currency: str


class StockLength(NamedTuple):
    """A length by which hoses are sold, in both units: "75 cm (30 in)"."""

    length_m: float


class BothUnits(NamedTuple):
    """A value in the reader's units, and in brackets in the other ones: "70 ± 2 cm (27.6 ± 0.6 in)"."""

    value: Amount | Estimate


class InUnits(NamedTuple):
    """A value in the units of one diver's gauges and scales, whatever the reader's are."""

    value: Amount | Estimate
    units: str
    """ "metric" or "imperial"."""


Sentence = tuple["Scalar", ...]
"""Words and values in the order they are read; spaces stand in the words."""

Quantity = (
    Amount
    | About
    | Amounts
    | Estimate
    | Interval
    | Between
    | StockLength
    | BothUnits
    | InUnits
    | Share
    | Duration
    | Price
)
"""A value with a unit."""

Scalar = str | int | bool | date | Quantity | Signal | ByUnits
"""One value."""

Cell = Scalar | Sentence | None
"""What stands in a row of facts or of a table. None is not known: an empty place on paper, null in JSON."""


class Fact(NamedTuple):
    """One labelled value."""

    key: str
    label: str
    value: "Cell | Node"
    """A node, such as `Facts` or a `Table`, is for JSON alone: what belongs to this value there."""
    note: "Cell" = None
    """What stands behind the value, and not in JSON: the same in other units, or what is used where it is not given."""


class Facts(NamedTuple):
    """Labelled values below each other. With a key they are an object of their own in JSON, else part of the one they
    stand in."""

    rows: Sequence[Fact]
    key: str = ""


class Column(NamedTuple):
    """One column of a table."""

    key: str
    head: str
    may_wrap: bool = False
    """Whether its words may go on in a further line, or be cut where a row has one line only."""
    names_row: bool = False
    """Whether its cells say which row it is. Where rows stand below each other it stands beside the first column,
    without its head; in a list of one-line rows it is cut last."""
    unit_in_head: bool = False
    """Whether its amounts and figures, all of one measure, have their unit in the head: "mass kg", "0.78 ± 0.08"."""
    role: str = ""
    """How its cells look on a screen: "" or a role of a span, such as "note"; a signal word keeps its own."""
    is_repeated: bool = False
    """Whether the text says the same elsewhere too, so that it is left out of a table that has no room for it."""


class Table(NamedTuple):
    """Rows of values; an array of objects in JSON."""

    key: str
    columns: Sequence[Column]
    rows: "Sequence[Row]"
    title: str = ""
    """Stands above; empty for none."""
    empty: str = ""
    """What the text says in place of a table without rows; empty for nothing."""


class Values(NamedTuple):
    """Values of one kind in a row; an array in JSON. Not in the text unless it has a label."""

    values: Sequence[Cell]


class Text(NamedTuple):
    """A paragraph; a string in JSON, with amounts in metric units, whatever units the reader asked for."""

    words: Sentence
    key: str = ""
    indent: int = 0


class Box(NamedTuple):
    """A numbered box to tick: "[x]  12"."""

    number: int
    is_ticked: bool


class Statement(NamedTuple):
    """One of a list of items that need words: a finding, a step, an item to buy."""

    head: Sentence
    """Its first line."""
    body: Sequence[Sentence] = ()
    """What stands below, further in, a paragraph each."""
    data: Sequence[Fact] = ()
    """Its object in JSON. Head and body are not in it. Where they have labels, CSV has these and no sentences."""
    mark: "str | Signal | Box" = ""
    """What stands in front of the first line, such as a signal word or a number; those of one list are aligned."""
    is_shown: bool = True
    """Whether it is on paper: what another statement says as well is only in JSON."""


class Statements(NamedTuple):
    """A list of statements; an array of objects in JSON."""

    key: str
    entries: Sequence[Statement]
    title: str = ""
    empty: str = ""
    """What the text says in place of a list without statements; empty for nothing."""


class Drawing(Protocol):
    """A picture that can be drawn in cells of a terminal."""

    def lines(self, width: int, height: int) -> Sequence[str]:
        """Draw the picture in at most so many lines of at most so many cells."""


class SvgDrawing(Protocol):
    """A picture that can be drawn as SVG, for documents that show pictures."""

    def svg(self, system: "System") -> str:
        """Draw the picture in the reader's units: one element `svg` with its size, a `title` and a `desc`."""


class Picture(NamedTuple):
    """A drawing; not in JSON. Every number in it is also written."""

    drawing: Drawing | None
    """None for one that only documents with pictures have."""
    height: int = 0
    """Lines that it takes at most."""
    vector: SvgDrawing | None = None
    """The same as SVG; None for one that documents show in signs as well."""


class Section(NamedTuple):
    """Parts under a heading. With a key they are an object of their own in JSON, else part of the one they stand in.

    Without a title it sets its parts apart by blank lines, such as a paragraph that is not to follow close.
    """

    title: str
    parts: "Sequence[Node]"
    key: str = ""


class Series(NamedTuple):
    """Sections of one kind, one after the other; an array of objects in JSON."""

    key: str
    sections: Sequence[Section]


Node = Section | Series | Facts | Table | Values | Statements | Text | Picture
"""A part of a page."""

Row = Sequence[Cell | Node]
"""A row of a table: a value, or what belongs to it in JSON, for each column."""

NODES = (Section, Series, Facts, Table, Values, Statements, Text, Picture)


def is_node(value: Cell | Node) -> "TypeIs[Node]":
    """Tell what belongs to a value in JSON from a value."""
    return isinstance(value, NODES)


def is_sentence(value: Cell) -> "TypeIs[Sentence]":
    """Tell a sentence from a value, which may be a named tuple."""
    return isinstance(value, tuple) and not hasattr(value, "_fields")


class Page(NamedTuple):
    """One answer."""

    parts: Sequence[Node]
    is_one_sheet: bool = False
    """Whether it is taken along on one sheet of paper, so that a document is printed small."""


def text(*pieces: Scalar, key: str = "", indent: int = 0) -> Text:
    """Make a paragraph of words and values."""
    return Text(pieces, key, indent)


def joined(sentences: Iterable[Sentence], between: str) -> Sentence:
    """Put sentences in a row, with the same words between each two."""
    found: list[Scalar] = []
    for sentence in sentences:
        found += [between, *sentence] if found else sentence
    return tuple(found)


def only_data(*rows: tuple[str, "Cell | Node"]) -> Facts:
    """Make facts that are in JSON and not on paper."""
    return Facts([Fact(key, "", value) for key, value in rows])
