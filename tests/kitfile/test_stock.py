"""A stock file: what a shop has, as TOML or as a table; one broken row does not cost the others."""

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.kit.file_kinds import STOCK_FILE
from kitbuilder.kit.resolved import LinkedFiles
from kitbuilder.kit.stock import Stock, StockHose
from kitbuilder.kitfile.disk import LARGEST_FILE
from kitbuilder.kitfile.document import RefusedEdit
from kitbuilder.kitfile.folder import files_holding
from kitbuilder.kitfile.read import read_written, resolve_at
from kitbuilder.kitfile.reader import parse_as, read_kit
from kitbuilder.kitfile.stock_csv import read_csv
from tests.kitfile.support import KITS, SMALL, STOCKS, opened

TOP = 'format = 1\nholds = "stock"\nname = "shop"\ncurrency = "EUR"\n'
TOML = f"""{TOP}
[[hose]]
tag      = "B-75"
body     = "rubber"
length   = "75 cm"
from_end = "LP 3/8"
to_end   = "second stage 9/16"
price    = 24.50

[[hose]]
tag      = "Z"
body     = "braided"
length   = "2 m"
measured = "hose only"
price    = 30
in_stock = false
notes    = "ordered, soon"
"""

TABLE = """\
tag,body,length,measured,from_end,to_end,price (EUR),in_stock,notes
B-75,rubber,75 cm,,LP 3/8,second stage 9/16,24.50,,
Z,braided,2 m,hose only,,,30,no,"ordered, soon"
"""
"""The same stock as a table."""

HOSES = (
    StockHose(tag="B-75", body="rubber", length_m=0.75, from_end="LP 3/8", to_end="second stage 9/16", price=24.5),
    StockHose(
        tag="Z",
        body="braided",
        length_m=2.0,
        measured="hose only",
        price=30.0,
        in_stock=False,
        notes="ordered, soon",
    ),
)


def read(folder: Path, text: str | bytes, name: str = "shop.toml") -> tuple[Stock | None, list[str]]:
    """A stock and what is said of its file."""
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    reading = read_written(path, STOCK_FILE)
    stock, problems = reading.stock, reading.problems
    return stock, [problem.located(name) for problem in problems]


def table(text: str) -> tuple[tuple[StockHose, ...] | None, list[str]]:
    """The hoses of a table and what is said of it."""
    stock, problems = read_csv(text, "shop")
    return stock and stock.items, [problem.located("shop.csv") for problem in problems]


# ---- what it says ----


def test_a_stock_in_toml(tmp_path: Path) -> None:
    stock, said = read(tmp_path, TOML)
    assert said == []
    assert stock is not None
    assert (stock.header.name, stock.header.currency) == ("shop", "EUR")
    assert stock.items == HOSES


def test_the_same_stock_as_a_table(tmp_path: Path) -> None:
    """Named after its file, the currency from the head of the price."""
    assert read(tmp_path, TABLE, "shop.csv") == read(tmp_path, TOML)


@pytest.mark.parametrize("head", ["body,length,price", "body,length"])
def test_a_table_that_tells_no_currency(head: str) -> None:
    """Has none, as a file without that key."""
    stock, _ = read_csv(head + "\nrubber,75 cm" + ",12" * head.count("price") + "\n", "shop")
    assert stock is not None
    assert stock.header.currency is None


SEMICOLONS = TABLE.replace('"ordered, soon"', "ordered/ soon").replace(",", ";").replace("ordered/", "ordered,")


@pytest.mark.parametrize(
    "text",
    [
        SEMICOLONS,
        SEMICOLONS.replace("24.50", "24,50"),
        TABLE.replace("24.50", '"24,50"'),
        TABLE.replace("75 cm", '"75,0 cm"'),
        TABLE.replace("\n", "\r\n"),
        TABLE.replace("\n", "\r"),
        TABLE.removesuffix("\n"),
        TABLE.replace("\n", "\n\n") + ",,,,,,,,\n \n",
        "\n" + TABLE,
        TABLE.replace("tag,body", "Tag, Body ").replace("from_end", "From end").replace("in_stock", "In-Stock"),
        TABLE.replace("length,", "length (cm),").replace("75 cm", "75"),
        TABLE.replace("length,", "length [cm],").replace("75 cm", " 75 "),
        TABLE.replace("price (EUR)", "price [EUR]").replace(",no,", ",0,").replace("24.50,,", "24.5,3,"),
        TABLE.replace(",no,", ",FALSE,"),
        TABLE.replace("Z,", '"Z",'),
    ],
)
def test_a_table_as_spreadsheets_write_it(text: str) -> None:
    """Whatever the separator, the line ends, the decimals, and where the unit stands."""
    hoses, said = table(text)
    assert said == []
    spoken = [
        hose if hose.in_stock is not True else type(hose)(**{**keys_of(hose), "in_stock": None}) for hose in hoses
    ]
    assert tuple(spoken) == HOSES


def keys_of(hose: StockHose) -> dict[str, object]:
    """The attributes of a hose."""
    names = ("tag", "body", "length_m", "measured", "from_end", "to_end", "price", "in_stock", "notes")
    return {name: getattr(hose, name) for name in names}


@pytest.mark.parametrize("text", [TOML, TABLE])
def test_a_byte_order_mark_is_no_part_of_it(text: str, tmp_path: Path) -> None:
    name = "shop.csv" if text is TABLE else "shop.toml"
    assert read(tmp_path, b"\xef\xbb\xbf" + text.encode(), name) == read(tmp_path, text, name)


@pytest.mark.parametrize(
    ("written", "price"),
    [("0", 0.0), ("24", 24.0), ("24.5", 24.5), ("24.50", 24.5), ('"24.50"', 24.5), ("9999999", 9999999.0)],
)
def test_a_price(written: str, price: float, tmp_path: Path) -> None:
    stock, said = read(tmp_path, TOML.replace("24.50", written))
    assert said == []
    assert stock.items[0].price == price


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("-1", "found -1"),
        ("24.505", "found 24.505"),
        ("1e9", "found 1000000000.0"),
        ("nan", "found nan"),
        ("inf", "found inf"),
        ("true", "found true"),
        ('"24,50"', 'found "24,50"'),
        ('"24.50 EUR"', 'found "24.50 EUR"'),
        ('""', 'found ""'),
        ("[24]", "found a list"),
        ("2024-01-01", "found a date or time"),
    ],
)
def test_what_is_no_price(written: str, found: str, tmp_path: Path) -> None:
    """Its hose is left out, the other is used."""
    stock, said = read(tmp_path, TOML.replace("24.50", written))
    assert said == [
        f'shop.toml:12: hose "B-75", price: {found}. Write a number from 0 to 9999999 with at most two decimals: 24.50.'
    ]
    assert stock.items == HOSES[1:]


# ---- what is wrong with it ----


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"rubber"', '"ruber"', 'shop.toml:8: hose "B-75", body: found "ruber". Accepted: "rubber", '),
        ('length   = "75 cm"\n', "", 'shop.toml:6: hose "B-75", length: this key is missing. '),
        ('"75 cm"', '"75"', 'shop.toml:9: hose "B-75", length: "75" has no unit. '),
        ('"75 cm"', '"75 kg"', 'shop.toml:9: hose "B-75", length: "75 kg" is a mass, not a length. '),
        ("price    = 24", "prise    = 24", 'shop.toml:12: hose "B-75", prise: this key is not known. '),
        ('"LP 3/8"', '"LP 3/9"', 'shop.toml:10: hose "B-75", from_end: found "LP 3/9". '),
        ('"75 cm"', '"75 cm', "shop.toml:9: a text in quotes is not closed. "),
        ('"75 cm"', "75 cm", "shop.toml:9: "),
        ('body     = "rubber"', "body", "shop.toml:8: "),
        ('[[hose]]\ntag      = "B-75"', '[[hose\ntag      = "B-75"', "shop.toml:6: "),
    ],
)
def test_a_broken_row_is_named_and_the_others_are_used(old: str, new: str, said: str, tmp_path: Path) -> None:
    """Even one that is no TOML: the tables below it are read all the same, with their lines."""
    stock, problems = read(tmp_path, TOML.replace(old, new, 1))
    (problem,) = problems
    assert problem.startswith(said)
    assert stock.items == HOSES[1:]


def test_lines_below_a_row_that_is_no_toml(tmp_path: Path) -> None:
    """Are those of the file as it stands."""
    _, said = read(tmp_path, TOML.replace('"75 cm"', '"75 cm').replace('"braided"', '"brided"'))
    lines = [TOML.splitlines().index(line) + 1 for line in ('length   = "75 cm"', 'body     = "braided"')]
    assert [problem.partition(" ")[0] for problem in said[:2]] == [f"shop.toml:{line}:" for line in lines]


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("rubber", "ruber", 'shop.csv:2: hose no. 1, body: found "ruber". Accepted: "rubber", '),
        ("75 cm", "", 'shop.csv:2: hose no. 1, length: this cell is empty. Write for example "75 cm".'),
        ("75 cm", "75", 'shop.csv:2: hose no. 1, length: "75" has no unit. Write "75 cm" or "75 in".'),
        ("75 cm", "9 m", 'shop.csv:2: hose no. 1, length: found "9 m". Accepted: from 5 to 500 cm.'),
        (
            "24.50",
            "24,50",
            'shop.csv:2: hose no. 1: found 10 cells below 9 heads. Put quotes around a cell that contains a ","',
        ),
        ("24.50", "free", 'shop.csv:2: hose no. 1, price: found "free". Write a number from 0 '),
        ("24.50", '"1.024,50"', 'shop.csv:2: hose no. 1, price: found "1.024,50". '),
        ("24.50,,", "24.50,some,", 'shop.csv:2: hose no. 1, in_stock: found "some". Accepted: yes, no, or the number '),
        ("B-75", '"B-75', "shop.csv:2: hose no. 1: a quote is not closed. "),
        ("LP 3/8", "LP 3/9", 'shop.csv:2: hose no. 1, from_end: found "LP 3/9". '),
    ],
)
def test_a_broken_line_is_named_and_the_others_are_used(old: str, new: str, said: str) -> None:
    """A quote that is not closed does not swallow the lines below."""
    hoses, problems = table(TABLE.replace(old, new, 1))
    (problem,) = problems
    assert problem.startswith(said)
    assert hoses == HOSES[1:]


def test_a_line_may_end_early() -> None:
    """What is not there is not given."""
    hoses, said = table("body,length,price\nrubber,75 cm\n")
    assert (hoses, said) == ((StockHose(body="rubber", length_m=0.75),), [])


@pytest.mark.parametrize("text", [TOML, TABLE])
def test_a_tag_that_stands_there_twice(text: str, tmp_path: Path) -> None:
    """The second is named and left out; hoses without a tag may be as many as there are."""
    name = "shop.csv" if text is TABLE else "shop.toml"
    again = text.replace("Z,", "B-75,").replace('"Z"', '"B-75"')
    stock, (problem,) = read(tmp_path, again, name)
    assert stock.items == HOSES[:1]
    line = {"shop.csv": (3, 2), "shop.toml": (15, 7)}[name]
    assert problem.startswith(f"{name}:{line[0]}: ")
    assert f'found "B-75" a second time. Line {line[1]} has it already.' in problem


def test_equal_hoses_without_a_tag_are_two_hoses() -> None:
    hoses, said = table("body,length\nrubber,75 cm\nrubber,75 cm\n")
    assert said == []
    assert len(hoses) == 2


NO_HOSE = "Add a hose, or advice cannot name any."


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("shop.toml", TOP),
        ("shop.toml", ""),
        ("shop.toml", "\n  \n"),
        ("shop.csv", ""),
        ("shop.csv", "\ufeff"),
        ("shop.csv", ";;;;\n\n"),
        ("shop.csv", TABLE.partition("\n")[0]),
    ],
)
def test_an_empty_stock_says_that_nothing_can_be_advised(name: str, text: str, tmp_path: Path) -> None:
    """It limits advice to nothing, which is not the same as no limit."""
    stock, said = read(tmp_path, text, name)
    assert stock is not None
    assert stock.items == ()
    assert said == [f"{name}: it contains no hose. {NO_HOSE}"]


def test_a_stock_of_broken_rows_only(tmp_path: Path) -> None:
    for name, text in (("shop.toml", TOML), ("shop.csv", TABLE)):
        stock, said = read(tmp_path, text.replace("rubber", "x").replace("braided", "x"), name)
        assert stock.items == ()
        assert len(said) == 3
        assert said[-1] == f"{name}: none of its hoses can be used. {NO_HOSE}"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a,b\n1,2\n", ["shop.csv:1: body: this column is missing", "shop.csv:1: length: this column is missing"]),
        ("\nrubber,75 cm\n", ["shop.csv:2: body: ", "shop.csv:2: length: "]),
        (
            "body\nrubber\n",
            ["shop.csv:1: length: this column is missing. The first line names columns: tag, "],
        ),
        ('body,"length\nrubber,75 cm\n', ["shop.csv:1: a quote is not closed. "]),
        ("x" * 30000, ["shop.csv:1: found a line of 30000 characters. "]),
        (
            "body,length (furlong)\nrubber,75\n",
            [
                'shop.csv:1: length: the unit "furlong" in the column head is not known. Write a head such as '
                '"length (cm)"'
            ],
        ),
    ],
)
def test_a_table_that_is_no_stock(text: str, said: list[str]) -> None:
    """What keeps every row from being read is said once, not once per row."""
    hoses, problems = table(text)
    assert hoses is None
    assert len(problems) <= len(said) + 1
    assert all(problem.startswith(start) for problem, start in zip(problems, said, strict=False))


def test_columns_of_the_shop_are_ignored_with_one_word() -> None:
    hoses, said = table("shelf,body,length,prise,\n3,rubber,75 cm,12,\n4,rubber,90 cm,13,\n")
    assert [hose.length_m for hose in hoses] == [pytest.approx(0.75), pytest.approx(0.9)]
    (problem,) = said
    assert problem.startswith('shop.csv:1: unknown columns are ignored: "shelf", "prise". Known columns: tag,')
    many = ",".join(f"x{number}" for number in range(30))
    assert '"x4" and 25 more.' in table(f"body,length,{many}\nrubber,75 cm\n")[1][0]


def test_of_a_column_that_stands_there_twice_the_first_is_read() -> None:
    hoses, said = table("body,length,Length\nrubber,75 cm,90 cm\n")
    assert hoses[0].length_m == pytest.approx(0.75)
    assert said == ['shop.csv:1: columns appear twice: "Length". Only the first of each is read.']


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("shop.toml", SMALL.encode(), "this file holds a kit, not a stock. Name a stock file here."),
        ("shop.toml", TOP.replace("format = 1", "format = 2").encode(), "found format 2. "),
        ("shop.toml", TOP.replace('"shop"', '"shop').encode(), "a text in quotes is not closed. "),
        ("shop.toml", (TOP + 'layout = "single"\n').encode(), "layout: this key is not known. "),
        ("shop.csv", b"body,length\n\xff\xfe,1", "line 2 has bytes that are not UTF-8 text. "),
        ("shop.csv", bytes(range(256)), "line 2 has bytes that are not UTF-8 text. "),
        ("shop.csv", TABLE.encode("utf-16"), "line 1 has bytes that are not UTF-8 text. "),
        ("shop.csv", b"x" * (LARGEST_FILE + 1), "it has 1.0 MB, but a stock file has at most 1 MB"),
    ],
)
def test_a_file_that_is_no_stock(name: str, data: bytes, said: str, tmp_path: Path) -> None:
    stock, problems = read(tmp_path, data, name)
    assert stock is None
    (problem,) = problems
    assert said in problem


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    (tmp_path / "folder.csv").mkdir()
    for name, said in (("gone.csv", "there is no such file"), ("folder.csv", "this is a folder")):
        reading = read_written(tmp_path / name, STOCK_FILE)
        stock, problems = reading.stock, reading.problems
        assert stock is None
        assert [problem.found for problem in problems] == [said]


def test_a_stock_is_no_kit_and_no_diver() -> None:
    """The shelf leaves out what says that it holds something else; so it does this."""
    reading = read_kit(TOML)
    assert (reading.kit, reading.holds) == (None, "stock")
    assert [problem.located("shop.toml") for problem in reading.problems] == [
        "shop.toml:2: this file holds a stock, not a kit. Name a kit file here."
    ]


def test_rows_of_a_kit_are_not_ignored() -> None:
    """Only a stock is used in part: a kit less a hose would be another kit."""
    assert read_kit(SMALL.replace('"rubber"', '"ruber"')).contents is None
    assert parse_as(TOML.replace('"rubber"', '"ruber"'), STOCK_FILE).stock.items == HOSES[1:]


@pytest.mark.parametrize(
    ("name", "text", "is_one"),
    [
        ("a.toml", TOML, True),
        ("a.toml", TOML.replace('"75 cm"', '"75 cm'), True),
        ("a.csv", TABLE, True),
        ("a.CSV", "", True),
        ("a.toml", SMALL, False),
        ("a.toml", SMALL + "notes = '''\nholds = \"stock\"\n'''\n", False),
        ("a.toml", "half a ki", False),
        ("a.toml", "", False),
    ],
)
def test_a_file_that_means_to_be_a_stock(name: str, text: str, is_one: bool, tmp_path: Path) -> None:
    """So that a command checks it as one, though a quote is missing in it."""
    path = tmp_path / name
    path.write_text(text)
    assert (read_written(path).file is STOCK_FILE) == is_one


def test_an_edit_that_would_break_a_row_is_refused(tmp_path: Path) -> None:
    """A row ignored on reading is no leave to write such a row."""
    document = opened(tmp_path, TOML, STOCK_FILE)
    with pytest.raises(RefusedEdit, match='found "ruber"'):
        document.set_value(0, "body", "ruber")
    assert document.text == TOML


# ---- whatever stands in it ----

WORDS = st.sampled_from(
    ["body", "length (cm)", "price", "rubber", "75", "12,50", ",", ";", '"', "\n", "\r", "tag", "\0"]
)


@given(st.text() | st.lists(WORDS, max_size=40).map("".join))
def test_no_text_makes_a_table_fall_over(text: str) -> None:
    """It is a stock, or there is a sentence that says why not."""
    stock, problems = read_csv(text, "shop")
    assert stock is not None or problems
    assert all(str(problem).endswith((".", "?")) for problem in problems)


@given(st.lists(WORDS, max_size=30).map("".join))
def test_lines_below_the_head_are_used_or_named(text: str) -> None:
    """No row is lost without a word."""
    stock, problems = read_csv(f"body;length (cm);price;tag\n{text}", "shop")
    assert stock is not None
    spoken = {problem.line for problem in problems}
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    written = [number for number, line in enumerate(lines, 2) if line.strip(' \t",;')]
    assert len(stock.items) == len([number for number in written if number not in spoken])


@given(st.binary(max_size=300) | st.text(max_size=300).map(lambda text: (TOP + text).encode("utf-8", "replace")))
def test_no_bytes_make_a_file_fall_over(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    folder = tmp_path_factory.getbasetemp()
    for name in ("any.csv", "any.toml"):
        stock, said = read(folder, data, name)
        assert stock is None or stock.items or said
        assert stock is not None or said


# ---- beside a kit ----


def beside(folder: Path, name: str = "shop.csv", text: str | None = TABLE) -> LinkedFiles:
    """What stands beside a small kit that names a stock file with this text."""
    (folder / "kit.toml").write_text(f'stock = "{name}"\n{SMALL}')
    if text is not None:
        (folder / name).write_text(text)
    kit = read_written(folder / "kit.toml").kit
    assert kit is not None
    return resolve_at(folder / "kit.toml", kit).linked


@pytest.mark.parametrize(("name", "text"), [("shop.csv", TABLE), ("shop.toml", TOML)])
def test_a_kit_with_a_stock(name: str, text: str, tmp_path: Path) -> None:
    found = beside(tmp_path, name, text)
    assert found.stock.items == HOSES
    assert (found.problems, found.diver) == ((), None)


def test_a_kit_that_names_no_stock(tmp_path: Path) -> None:
    """Nothing is looked for, though there is one."""
    (tmp_path / "stock.toml").write_text(TOML)
    found = resolve_at(tmp_path / "kit.toml", read_kit(SMALL).kit).linked
    assert (found.stock, found.stock_problems) == (None, ())


def test_what_is_wrong_with_the_stock_is_no_fault_of_the_diver(tmp_path: Path) -> None:
    found = beside(tmp_path, text=TABLE.replace("rubber", "ruber"))
    assert found.stock.items == HOSES[1:]
    (problem,) = found.stock_problems
    assert problem.startswith("shop.csv:2: hose no. 1, body: ")
    assert found.diver_problems == ()


def test_a_stock_that_is_not_in_the_folder(tmp_path: Path) -> None:
    found = beside(tmp_path, text=None)
    assert (found.stock, found.stock_problems) == (None, ("shop.csv is not in this folder.",))


def test_a_stock_that_is_something_else(tmp_path: Path) -> None:
    found = beside(tmp_path, "shop.toml", SMALL)
    assert found.stock is None
    assert found.stock_problems == ("shop.toml: this file holds a kit, not a stock. Name a stock file here.",)


def test_of_many_broken_rows_the_first_are_reported(tmp_path: Path) -> None:
    found = beside(tmp_path, text="body,length\n" + "ruber,75 cm\n" * 9 + "rubber,75 cm\n")
    assert len(found.stock.items) == 1
    assert [problem.partition(" ")[0] for problem in found.stock_problems] == [
        "shop.csv:2:",
        "shop.csv:3:",
        "shop.csv:4:",
        "shop.csv:",
    ]
    assert "6 more" in found.stock_problems[-1]


def test_a_change_of_the_stock_is_seen(tmp_path: Path) -> None:
    assert len(beside(tmp_path).stock.items) == 2
    found = beside(tmp_path, text=TABLE.replace("24.50", "99.50"))
    os.utime(tmp_path / "shop.csv", (2_000_000_000, 2_000_000_000))
    found = resolve_at(tmp_path / "kit.toml", read_written(tmp_path / "kit.toml").kit).linked
    assert found.stock.items[0].price == 99.5


def test_files_that_hold_a_stock(tmp_path: Path) -> None:
    """To choose from: tables as well, and nothing that is no stock."""
    texts = {"a.csv": TABLE, "b.toml": TOML, "kit.toml": SMALL, "c.csv": "x,y\n", "d.txt": TABLE, "e.toml": "half a st"}
    for name, text in texts.items():
        (tmp_path / name).write_text(text)
    assert files_holding(tmp_path, "stock") == ("a.csv", "b.toml")
    assert files_holding(tmp_path, "kit") == ("kit.toml",)


# ---- the one that comes along ----


def test_the_shelf_of_an_invented_shop() -> None:
    """It serves the kits beside it: for each of their bodies and ends that customers ask for it has a hose."""
    (path,) = STOCKS
    reading = read_written(path, STOCK_FILE)
    stock, problems = reading.stock, reading.problems
    assert problems == ()
    assert all(hose.price for hose in stock.items)
    kinds = {(hose.body, hose.from_end, hose.to_end) for hose in stock.items}
    right = [read_written(kit).kit for kit in KITS if kit.stem != "wrong-on-purpose"]
    asked = {(hose.body, hose.from_end, hose.to_end) for kit in right for hose in kit.hoses}
    assert asked <= kinds


@pytest.mark.parametrize(
    ("price", "other", "is_cheaper"),
    [
        (24.0, 25.5, True),
        (25.5, 24.0, False),
        (24.0, 24.0, False),
        (24.0, None, True),
        (None, 24.0, False),
        (None, None, False),
    ],
)
def test_a_price_beats_a_higher_one_and_one_that_is_not_known(price, other, is_cheaper) -> None:
    one, two = (StockHose(tag="a", body="rubber", length_m=0.75, price=known) for known in (price, other))
    assert one.is_cheaper_than(two) is is_cheaper
