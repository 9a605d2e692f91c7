"""kitbuilder fit: the length for every hose, and what to buy."""

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from tests.commands.run import CONFIGS, DIVER, GOOD, TWINSET, run

STOCK = str(CONFIGS / "stock.toml")
BODY = ("--stature", "178 cm", "--mass", "82 kg", "--sex", "male")


def fitted(*words: str) -> dict[str, Any]:
    """What was said, as JSON has it."""
    done = run("fit", "--json", *words)
    assert done.returncode in (0, 1), done.stderr
    assert done.stderr == ""
    assert done.stdout.isascii()
    return json.loads(done.stdout)


# --- what is printed --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("layout", "hoses"), [("single", 4), ("twinset", 5), ("sidemount", 6)])
def test_stature_mass_and_layout_are_enough_for_a_list_to_buy(layout: str, hoses: int) -> None:
    """Every hose gets a length to buy, how sure that is, and the threads of both ends; without any file."""
    done = run("fit", "--layout", layout, *BODY)
    assert (done.returncode, done.stderr) == (0, "")
    assert len(re.findall(r"^  .* ± +\d+ cm  marks .* %  buy ", done.stdout, re.MULTILINE)) == hoses
    said = fitted("--layout", layout, *BODY)
    assert sum(item["count"] for item in said["to_buy"]) == hoses
    assert all(item["first_stage_end"]["joint"] and item["device_end"]["joint"] for item in said["to_buy"])
    assert all(hose["buy"]["odds"] >= 0.75 for hose in said["hoses"])
    assert "3/8-24 UNF" in done.stdout


def test_a_kit_that_fits_has_nothing_to_buy() -> None:
    """0; its runs were measured by string, and the text says so."""
    done = run("fit", TWINSET)
    assert (done.returncode, done.stderr) == (0, "")
    assert "To buy: nothing" in done.stdout
    assert "by string" in done.stdout
    assert "kitbuilder advises and never certifies." in done.stdout


def test_text_keeps_within_a_hundred_columns() -> None:
    """In metric units; the tags of the shipped kits are short."""
    for words in ((TWINSET,), (GOOD, "--stock", STOCK), ("--layout", "sidemount", *BODY)):
        assert max(map(len, run("fit", *words).stdout.splitlines())) <= 100


def test_imperial_units_put_inches_first() -> None:
    """And centimetres in brackets; JSON stays in metres."""
    assert "84 in (210 cm)" in run("fit", TWINSET, "--units", "imperial").stdout
    assert fitted(TWINSET, "--units", "imperial") == fitted(TWINSET)


def test_one_string_changes_the_advice_for_that_hose_only() -> None:
    """62 cm for a primary that the landmarks give about 70 cm."""
    before, after = (fitted("--layout", "single", *BODY, *more) for more in ((), ("--run", "primary hose=62 cm")))
    pairs = list(zip(before["hoses"], after["hoses"], strict=True))
    assert [old["tag"] for old, new in pairs if old != new] == ["primary hose"]
    hose = after["hoses"][0]
    assert hose["by"] == "string"
    assert hose["buy"]["length_m"] < before["hoses"][0]["buy"]["length_m"]
    assert hose["string_less_estimate_m"]["value"] < 0


def test_a_larger_diver_of_the_same_build_gets_longer_hoses() -> None:
    """The options stand for the keys of the diver file; both bodies have a mass index of 25."""
    bodies = (("--stature", "160 cm", "--mass", "64 kg"), ("--stature", "2 m", "--mass", "100 kg"))
    small, large = (fitted("--layout", "single", *body)["hoses"] for body in bodies)
    lengths = [[hose["needs"][0]["length_m"]["value"] for hose in hoses] for hoses in (small, large)]
    assert all(less < more for less, more in zip(*lengths, strict=True))


def test_contradicting_measures_are_told() -> None:
    """A body mass index of 11 is no living body's."""
    text = " ".join(run("fit", "--layout", "single", "--stature", "190 cm", "--mass", "40 kg").stdout.split())
    assert "Doubtful: the diver's mass of 40 kg does not go with the other measures" in text


# --- stock and picture ------------------------------------------------------------------------------------------------


def test_a_stock_file_limits_the_advice_and_gives_prices(tmp_path: Path) -> None:
    """TOML or CSV; the row that is wrong is named, the others are used."""
    csv = tmp_path / "shelf.csv"
    csv.write_text(
        "length,body,from_end,to_end,price\n"
        '80 cm,rubber,LP 3/8,second stage 9/16,"25,50"\n'
        "75 cm,rubberr,LP 3/8,second stage 9/16,20\n"
        "100 cm,rubber,LP 3/8,second stage 9/16,30\n",
        encoding="utf-8",
    )
    said = fitted("--layout", "single", *BODY, "--stock", str(csv))
    primary = said["hoses"][0]
    assert primary["buy"]["length_m"] == pytest.approx(0.8)
    assert primary["buy"]["price"] == 25.5
    [problem] = said["problems"]
    assert "shelf.csv:3" in problem
    assert 'Did you mean "rubber"?' in problem
    assert said["price"] == pytest.approx(55.5)
    assert said["hoses_without_price"] == 2
    assert fitted(TWINSET, "--stock", STOCK)["currency"] == "EUR"


def test_an_empty_stock_says_so_and_hoses_are_to_be_made(tmp_path: Path) -> None:
    """Nothing can be had from it."""
    (tmp_path / "empty.csv").write_text("", encoding="utf-8")
    said = fitted("--layout", "single", *BODY, "--stock", str(tmp_path / "empty.csv"))
    assert "there is no hose in it" in said["problems"][0]
    assert all(item["is_made"] for item in said["to_buy"])


def test_an_unmarked_lp_hose_is_never_sold_as_an_hp_one(tmp_path: Path) -> None:
    """A row that tells neither end may be either."""
    (tmp_path / "bare.csv").write_text("length,body\n75 cm,rubber\n90 cm,rubber\n", encoding="utf-8")
    said = fitted("--layout", "single", *BODY, "--stock", str(tmp_path / "bare.csv"))
    made = {item["service"] for item in said["to_buy"] if item["is_made"]}
    assert "HP" in made


def test_the_picture_is_written(tmp_path: Path) -> None:
    """An SVG with every hose's letter; the kit itself is never written over."""
    path = tmp_path / "routes.svg"
    assert run("fit", TWINSET, "--svg", str(path)).returncode == 0
    assert ElementTree.parse(path).getroot().tag.endswith("svg")
    kit = tmp_path / "kit.toml"
    kit.write_text(Path(TWINSET).read_text("utf-8"), encoding="utf-8")
    before = kit.read_bytes()
    done = run("fit", str(kit), "--svg", str(kit))
    assert done.returncode == 2
    assert "ends in .svg" in done.stderr
    assert kit.read_bytes() == before


# --- what is refused --------------------------------------------------------------------------------------------------

REFUSED = [
    ((), "neither a kit file nor --layout"),
    ((TWINSET, "--layout", "single"), "or both"),
    (("--layout", "singel"), 'Did you mean "single"?'),
    (("--layout", "single", "--stature", "20 cm"), 'stature: found "20 cm". Accepted: from 120 to 220 cm'),
    (("--layout", "single", "--chest", "4 m"), 'chest: found "4 m". Accepted: from 60 to 180 cm'),
    (("--layout", "single", "--mass", "2 m"), "mass: "),
    (("--layout", "single", "--sex", "mail"), 'Did you mean "male"?'),
    (
        ("--layout", "single", "--run", "primary hose"),
        'found "primary hose". Accepted: the tag of a hose, =, and its run',
    ),
    (("--layout", "single", "--run", "primry hose=62 cm"), 'Did you mean "primary hose"?'),
    (("--layout", "single", "--run", "primary hose=0 cm"), "Accepted: from 3 to 500 cm"),
    (("--layout", "single", "--run", "primary hose=6 m"), "Accepted: from 3 to 500 cm"),
    (("--layout", "single", "--stock", "nowhere.csv"), "there is no such file"),
    (("nowhere.toml",), "there is no such file"),
    ((DIVER,), "is a diver file"),
    ((STOCK,), "is a stock file"),
    (("--layout", "single", "--svg", "no/such/folder/a.svg"), "Nothing was written"),
]


@pytest.mark.parametrize(("words", "said"), REFUSED, ids=[" ".join(words)[-40:] for words, _ in REFUSED])
def test_what_cannot_be_done_is_refused_in_a_sentence(words: tuple[str, ...], said: str) -> None:
    """2; nothing on the standard output, no traceback."""
    done = run("fit", *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_something_to_buy_gives_one() -> None:
    """As with findings of a check."""
    done = run("fit", GOOD, "--run", "primary hose=90 cm")
    assert done.returncode == 1
    assert re.search(r"^  1 × 100 cm \(40 in\), LP, rubber", done.stdout, re.MULTILINE)


# --- stock files by themselves ----------------------------------------------------------------------------------------


def test_a_stock_file_can_be_checked(tmp_path: Path) -> None:
    """0 for a sound one; 1 with its broken rows named; 2 for one that cannot be used."""
    done = run("check", STOCK)
    assert (done.returncode, done.stderr) == (0, "")
    assert "stock file, can be read · 19 hoses" in done.stdout
    broken = tmp_path / "s.csv"
    broken.write_text("length,body\n75 cm,rubber\n75,rubber\n", encoding="utf-8")
    done = run("check", str(broken))
    assert done.returncode == 1
    assert "s.csv:3" in done.stderr
    broken.write_text("colour\nred\n", encoding="utf-8")
    assert run("check", str(broken)).returncode == 2
    assert json.loads(run("check", "--json", STOCK).stdout)[0]["hoses"] == 19
