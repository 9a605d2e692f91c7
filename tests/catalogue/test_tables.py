"""A row of the catalogue that is of the wrong kind is refused in words, whatever is asked of it."""

from collections.abc import Callable

import pytest

from kitbuilder.catalogue.entries import Value
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable

ORIGIN = "common practice, no source"
Ask = Callable[[CatalogueTable], object]


def value(**keys: object) -> dict[str, object]:
    return {"origin": ORIGIN} | keys


TEXT, TEXTS, NUMBER, FLAG, TABLE, TABLES, ROWS, QUANTITY, VALUE = (
    lambda table: table.text("x", ("a", "b")),
    lambda table: table.texts("x", ("a", "b")),
    lambda table: table.number("x"),
    lambda table: table.flag("x"),
    lambda table: table.table("x"),
    lambda table: list(table.tables("x")),
    lambda table: table.rows("x"),
    lambda table: table.quantity("x", "length"),
    lambda table: table.value("x", "length"),
)
REFUSED: list[tuple[Ask, object, str]] = [
    (TEXT, 5, "file, x: is not a text, or is blank"),
    (TEXT, "", "file, x: is not a text, or is blank"),
    (TEXT, "  ", "file, x: is not a text, or is blank"),
    (TEXT, "c", 'file, x: there is no "c"'),
    (TEXTS, "a", "file, x: is not a list of texts"),
    (TEXTS, [], "file, x: is not a list of texts"),
    (TEXTS, ["a", 5], "file, x: is not a list of texts"),
    (TEXTS, ["a", "c"], 'file, x: there is no "c"'),
    (NUMBER, "5", "file, x: is not a number"),
    (NUMBER, True, "file, x: is not a number"),
    (FLAG, "true", "file, x: is not true or false"),
    (FLAG, 1, "file, x: is not true or false"),
    (TABLE, "a", "file, x: is not a table"),
    (TABLE, [], "file, x: is not a table"),
    (TABLES, {}, "file, x: is not an array of tables"),
    (TABLES, "a", "file, x: is not an array of tables"),
    (TABLES, ["a"], 'file, x "1": is not a table'),
    (TABLES, [{"name": "a"}, {"name": "a"}], 'file, x "a", name: is there twice'),
    (ROWS, {}, "file, x: is not a list of tables"),
    (ROWS, ["a"], "file, x 1: is not a table"),
    (QUANTITY, 5, "file, x: is not a text, or is blank"),
    (QUANTITY, "5 kg", 'file, x: "5 kg" is a mass, not a length'),
    (VALUE, "5 m", "file, x: is not a value with an origin"),
    (VALUE, 5, "file, x: is not a value with an origin"),
    (VALUE, {"value": "5 m"}, "file, x: has no origin"),
    (VALUE, {"value": "5 m", "origin": " "}, "file, x: has no origin"),
    (VALUE, value(), "file, x, value: is missing, or is not a quantity in quotes"),
    (VALUE, value(value=5), "file, x, value: is missing, or is not a quantity in quotes"),
    (VALUE, value(low="5 m"), "file, x, high: is missing, or is not a quantity in quotes"),
    (VALUE, value(high="5 m"), "file, x, low: is missing, or is not a quantity in quotes"),
    (VALUE, value(value="5 m", middle="5 m"), "file, x: unknown key middle"),
    (VALUE, value(value="5 m", low="6 m", high="7 m"), "file, x: the value does not lie between low and high"),
    (VALUE, value(value="8 m", low="6 m", high="7 m"), "file, x: the value does not lie between low and high"),
    (VALUE, value(low="7 m", high="6 m"), "file, x: the value does not lie between low and high"),
]


@pytest.mark.parametrize(("ask", "row", "message"), REFUSED, ids=lambda cell: "" if callable(cell) else str(cell)[:40])
def test_a_row_of_the_wrong_kind_is_refused(ask: Ask, row: object, message: str) -> None:
    """With its place."""
    with pytest.raises(CatalogueError) as refused:
        ask(CatalogueTable({"x": row}, "file"))
    assert str(refused.value).startswith(message)


@pytest.mark.parametrize("ask", [TEXT, TEXTS, NUMBER, TABLES, QUANTITY, VALUE], ids=lambda _: "")
def test_a_row_that_is_missing_is_named(ask: Ask) -> None:
    """Flags, tables and rows may be left out."""
    with pytest.raises(CatalogueError, match=r"^file, x: is missing$"):
        ask(CatalogueTable({}, "file"))
    empty = CatalogueTable({}, "file")
    assert (empty.flag("x"), empty.rows("x"), list(empty.table("x")), empty.note()) == (False, [], [], "")
    assert (empty.choice("x", ("a",)), empty.optional("x", "length")) == ("", None)


def test_rows_of_the_right_kind() -> None:
    """What stands there is what is had."""
    row = value(value="5 m", low="4 m", high="7 m")
    table = CatalogueTable(
        {"text": "a", "n": 3, "flag": True, "at": "2 m", "value": row, "middle": value(low="4 m", high="7 m")}, "f"
    )
    assert (table.text("text"), table.number("n"), table.flag("flag"), table.quantity("at", "length")) == (
        "a",
        3.0,
        True,
        2.0,
    )
    assert table.value("value", "length") == Value(5.0, 4.0, 7.0, ORIGIN)
    assert table.value("middle", "length") == Value(5.5, 4.0, 7.0, ORIGIN)
    stated = CatalogueTable({"x": value(low="4 m", high="7 m", ends="95 %")}, "f").value("x", "length")
    assert stated == Value(5.5, 4.0, 7.0, ORIGIN, covers_95=True)
    assert CatalogueTable({"x": value(value="5 m")}, "f").optional("x", "length") == Value(5.0, 5.0, 5.0, ORIGIN)
    table.finish()
    assert [each.place for each in CatalogueTable({"x": [{"name": "a"}, {}]}, "f").tables("x")] == [
        'f, x "a"',
        'f, x "2"',
    ]


def test_a_table_is_finished_when_all_its_keys_were_asked_for() -> None:
    """Asking whether a key is there is enough."""
    table = CatalogueTable({"known": 1, "colour": 2}, "file")
    assert "known" in table
    with pytest.raises(CatalogueError, match=r"^file, colour: unknown key$"):
        table.finish()
    assert "colour" in table
    table.finish()
