"""The keys that say how a hose is led: read, refused in a sentence, and edited without a loss."""

import json
from pathlib import Path

import pytest

from kitbuilder.app.screens.editing import value_of
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.file_kinds import KIT_FILE
from kitbuilder.kit.items import FirstStage, Header, Hose
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.reader import read_kit
from tests.kitfile.support import SMALL, opened

PATH = ["left ports of the first stage", "left flank", "left hip ring"]


def with_line(line: str) -> str:
    """The small kit whose hose has one key more, on line 10."""
    return f"{SMALL}{line}\n"


def hose_with(line: str) -> Hose:
    """The hose of a kit that is read without a word."""
    reading = read_kit(with_line(line))
    assert reading.problems == ()
    assert reading.kit is not None
    return reading.kit.hoses[0]


def said_of(text: str) -> list[str]:
    """The problems of a text."""
    return [problem.located("x.toml") for problem in read_kit(text).problems]


def test_a_hose_that_says_nothing_of_its_way() -> None:
    """Has the usual one, so the file need not grow."""
    (hose,) = read_kit(SMALL).kit.hoses
    assert (hose.route, hose.path, hose.holds, hose.bore_m) == (None, (), (), None)


def test_each_key_is_read() -> None:
    assert hose_with(f"path = {json.dumps(PATH)}").path == tuple(PATH)
    assert hose_with('holds = ["left flank"]').holds == ("left flank",)
    assert hose_with('bore = "6 mm"').bore_m == pytest.approx(0.006)
    assert hose_with('bore = "1/4 in"').bore_m == pytest.approx(0.00635)  # a quarter of 25.4 mm
    kit = read_kit('format = 1\nname = "x"\nlayout = "single"\n[[first_stage]]\ntag = "a"\nside = "left"\n').kit
    assert isinstance(kit.items[0], FirstStage)
    assert kit.items[0].side == "left"


@pytest.mark.parametrize("name", catalogue().routes)
def test_every_route_of_the_catalogue_is_a_word(name: str) -> None:
    assert hose_with(f'route = "{name}"').route == name


@pytest.mark.parametrize("route", catalogue().routes.values(), ids=catalogue().routes)
def test_the_way_of_every_route_can_be_written_down(route) -> None:
    """To start from, with the landmarks at which it is held."""
    assert hose_with(f"path = {json.dumps(route.path)}").path == route.path
    if route.holds:
        assert hose_with(f"holds = {json.dumps(route.holds)}").holds == route.holds


ELSEWHERE = "Accepted: the landmarks that `kitbuilder format` lists."


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            'route = "over the rigth shoulder"',
            'route: found "over the rigth shoulder". Accepted: the routes that `kitbuilder format` lists. '
            'Did you mean "over the right shoulder"?',
        ),
        ("route = 3", "route: found 3. Accepted: the routes that `kitbuilder format` lists."),
        (
            'path = ["left flank", "left hip rign"]',
            f'path: found "left hip rign", which is not a landmark. {ELSEWHERE} Did you mean "left hip ring"?',
        ),
        ('path = ["left flank", "zzz"]', f'path: found "zzz", which is not a landmark. {ELSEWHERE}'),
        ('path = ["left flank", ""]', f'path: found "", which is not a landmark. {ELSEWHERE}'),
        (
            'path = ["LEFT FLANK", "left hip ring"]',
            f'path: found "LEFT FLANK", which is not a landmark. {ELSEWHERE} Did you mean "left flank"?',
        ),
        (
            'path = ["left flank", "left flank"]',
            'path: "left flank" appears twice in a row. Remove one of the two.',
        ),
        ('path = ["left flank"]', "path: found 1 in the list. Write at least 2 landmarks, in order from the port: "),
        ("path = []", "path: found 0 in the list. Write at least 2 landmarks, in order from the port: "),
        ('path = "left flank"', 'path: found "left flank". Write a list of landmarks: ["'),
        ('path = ["left flank", 3]', 'path: found 3 in the list. Write a list of landmarks: ["'),
        ('path = [["left flank"]]', "path: found a list in the list. Write a list of landmarks: "),
        ("path = true", "path: found true. Write a list of landmarks: "),
        ("holds = []", 'holds: found 0 in the list. Write at least one landmark: ["left flank"].'),
        (
            'holds = ["left flnk"]',
            f'holds: found "left flnk", which is not a landmark. {ELSEWHERE} Did you mean "left flank"?',
        ),
        ('bore = "1.9 mm"', 'bore: found "1.9 mm". Accepted: from 2 to 15 mm.'),
        ('bore = "15.1 mm"', 'bore: found "15.1 mm". Accepted: from 2 to 15 mm.'),
        ("bore = 6", 'bore: found 6, a number without a unit. Write it in quotes with its unit: "6 mm".'),
    ],
)
def test_what_is_refused_is_named(line: str, said: str) -> None:
    """With its line, and the word that was probably meant."""
    (problem,) = said_of(with_line(line))
    assert problem.startswith(f'x.toml:10: hose "primary hose", {said}')


def test_a_very_long_word_is_cut_in_the_message() -> None:
    (problem,) = said_of(with_line(f'path = ["left flank", "{"x" * 5000}"]'))
    assert len(problem) < 250


def test_a_way_may_come_back_to_a_landmark() -> None:
    """A hose that is folded passes a place twice, though not twice in a row."""
    assert len(hose_with('path = ["left flank", "left hip ring", "left flank"]').path) == 3


def test_the_side_of_a_first_stage() -> None:
    text = 'format = 1\nname = "x"\nlayout = "single"\n[[first_stage]]\ntag = "a"\nside = "rigth"\n'
    (problem,) = said_of(text)
    assert problem == (
        'x.toml:6: first stage "a", side: found "rigth". Accepted: "left", "right", "middle". Did you mean "right"?'
    )


@pytest.mark.parametrize("name", ["shop.toml", "shop.csv", "a.b.csv"])
def test_a_kit_names_its_stock(name: str) -> None:
    kit = read_kit(f'stock = "{name}"\n{SMALL}').kit
    assert kit is not None
    assert kit.header.stock == name


@pytest.mark.parametrize("name", ["shop.txt", "shop", "../shop.csv", "a/shop.toml", ".shop.csv", "c:\\\\shop.csv", ""])
def test_a_stock_that_no_folder_has(name: str) -> None:
    (problem,) = said_of(f'stock = "{name}"\n{SMALL}')
    assert problem.startswith("x.toml:1: stock: found ")
    if name:
        assert "Write the name of a .toml or .csv file in the same folder" in problem


def test_a_diver_is_no_csv() -> None:
    """Only a stock may be a table."""
    (problem,) = said_of(f'diver = "me.csv"\n{SMALL}')
    assert "Write the name of a .toml file in the same folder" in problem


def test_the_meanings_tell_the_default() -> None:
    for record, key in ((Hose, "route"), (Hose, "bore"), (FirstStage, "side"), (Header, "stock")):
        assert "Default: " in field_named(record, key).meaning


# ---- edited ----

COMMENTED = SMALL.replace(
    'length = "75 cm"\n',
    'length = "75 cm"      # as sold\n'
    'path   = ["left flank",   # from the port\n'
    '          "left hip ring"]   # to the ring\n'
    'run    = "60 cm"      # by string\n',
)


def test_comments_of_the_other_keys_stay(tmp_path: Path) -> None:
    """A key set and taken out again leaves the bytes as they were."""
    document = opened(tmp_path, COMMENTED, KIT_FILE)
    document.set_value(0, "route", "over the right shoulder")
    document.set_value(0, "holds", ["left flank"])
    document.set_value(0, "bore", "6 mm")
    hose = document.reading.kit.hoses[0]
    assert (hose.route, hose.holds, hose.bore_m) == ("over the right shoulder", ("left flank",), pytest.approx(0.006))
    for comment in ("# as sold", "# from the port", "# to the ring", "# by string"):
        assert comment in document.text
    for key in ("route", "holds", "bore"):
        document.set_value(0, key, None)
    assert document.text == COMMENTED


def test_an_edit_that_names_no_landmark_is_refused(tmp_path: Path) -> None:
    document = opened(tmp_path, COMMENTED, KIT_FILE)
    with pytest.raises(RefusedEdit, match='found "left hip rong", which is not a landmark'):
        document.set_value(0, "path", ["left flank", "left hip rong"])
    assert document.text == COMMENTED


def test_a_path_typed_on_one_line_is_the_same_path(tmp_path: Path) -> None:
    """The form parts landmarks with commas, so no landmark may have one in its name."""
    assert not [name for name in catalogue().landmarks if "," in name]
    document = opened(tmp_path, with_line(f"path = {json.dumps(PATH)}"), KIT_FILE)
    typed = document.raw_value(0, "path")
    assert value_of(field_named(Hose, "path"), typed) == PATH
    assert value_of(field_named(Hose, "path"), "") is None


def test_a_saved_kit_reads_the_same(tmp_path: Path) -> None:
    document = opened(tmp_path, COMMENTED, KIT_FILE)
    document.set_value(0, "route", "over the right shoulder")
    document.save()
    assert Document(document.path).reading.kit == document.reading.kit
