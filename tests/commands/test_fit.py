"""kitbuilder fit: the length for every hose, and what to buy."""

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import jsonschema
import pytest

from kitbuilder.report.fit import SHAPE
from kitbuilder.report.shapes import answer_schema
from tests.commands.run import CONFIGS, DIVER, GOOD, TWINSET, run, run_process

STOCK = str(CONFIGS / "stock.toml")
BODY = ("--stature", "178 cm", "--mass", "82 kg", "--sex", "male")


def answered(*words: str) -> dict[str, Any]:
    """The whole answer, as JSON has it."""
    done = run("fit", "--json", *words)
    assert done.returncode in (0, 1), done.stderr
    assert done.stderr == ""
    assert done.stdout.isascii()
    return json.loads(done.stdout)


def fitted(*words: str) -> dict[str, Any]:
    """What was found, without the envelope."""
    return answered(*words)["result"]


def measure(said: dict[str, Any], name: str) -> float:
    [value_m] = [measure["length_m"]["value"] for measure in said["body"]["measures"] if measure["name"] == name]
    return value_m


# --- what is printed --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("layout", "hoses"), [("single", 4), ("twinset", 5), ("sidemount", 6)])
def test_stature_mass_and_layout_are_enough_for_a_list_to_buy(layout: str, hoses: int) -> None:
    """Every hose gets a length to buy, how certain that is, and the threads of both ends; without any file."""
    done = run("fit", "--layout", layout, *BODY)
    assert (done.returncode, done.stderr) == (0, "")
    rows = re.findall(r"^\w.* cm  buy \d+ cm .* %  +\d+ ± +\d+ cm  landmarks$", done.stdout, re.MULTILINE)
    assert len(rows) == hoses
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


def test_json_has_what_the_files_say_in_si_units() -> None:
    """A hose of 61 cm whose string is 59 cm, on a body of 178 cm; lengths in metres, whatever was typed."""
    said = fitted(TWINSET)
    [hose] = [hose for hose in said["hoses"] if hose["tag"] == "necklace hose"]
    [demanded] = [need for need in hose["needs"] if need["pose"] == hose["demanded_in"]]
    assert (hose["length_m"], demanded["length_m"]["value"]) == pytest.approx((0.61, 0.59))
    assert (said["name"], said["layout"], said["to_buy"]) == ("Twinset, coast", "twinset", [])
    assert answered(TWINSET)["files"] == [{"file": TWINSET, "holds": "kit", "name": "Twinset, coast"}]
    assert measure(said, "stature") == pytest.approx(1.78)
    assert measure(fitted("--layout", "single", "--stature", "5 ft 10 in"), "stature") == pytest.approx(1.778)


def test_what_is_typed_beats_the_diver_file() -> None:
    """The file says 178 cm; the rest of what it says stays."""
    spoken, filed = (fitted(TWINSET, *words)["body"] for words in (("--stature", "190 cm"), ()))
    assert measure({"body": spoken}, "stature") == pytest.approx(1.90)
    assert (spoken["sex"], spoken["suit_m"], spoken["neck_turn_rad"]) == (
        filed["sex"],
        filed["suit_m"],
        filed["neck_turn_rad"],
    )


def test_a_diver_file_that_is_missing_is_reported_and_any_diver_is_fitted(tmp_path: Path) -> None:
    """The kit is fitted all the same."""
    (tmp_path / "kit.toml").write_text(Path(TWINSET).read_text("utf-8"), encoding="utf-8")
    done = run("fit", str(tmp_path / "kit.toml"))
    assert (done.returncode, done.stderr) == (0, "")
    assert "\nNot used: diver.toml is not in this folder.\n" in done.stdout
    assert "an average diver" in done.stdout


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_terminal_without_the_signs_gets_plain_ones(encoding: str) -> None:
    """A multiplication sign is not in ASCII; no traceback."""
    done = run_process("fit", "--layout", "single", *BODY, encoding=encoding)
    assert (done.returncode, done.stderr) == (0, "")
    assert ("1 x 75 cm" if encoding == "ascii" else "1 × 75 cm") in done.stdout


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


@pytest.mark.parametrize(
    ("words", "doubtful"),
    [
        (("--stature", "190 cm", "--mass", "40 kg"), "mass, 40 kg,"),
        (("--chest", "60 cm", "--mass", "150 kg"), "chest circumference, 60 cm,"),
    ],
)
def test_contradicting_measures_are_reported(words: tuple[str, ...], doubtful: str) -> None:
    """A body mass index of 11 is no living body's, nor is a child's chest on 150 kg; all is fitted none the less."""
    done = run("fit", "--layout", "single", *words)
    assert (done.returncode, done.stderr) == (0, "")
    assert f"Doubtful: the diver's {doubtful} does not match the other measures" in " ".join(done.stdout.split())
    assert "To buy" in done.stdout


def test_measures_that_go_together_are_not_doubted() -> None:
    """178 cm and 82 kg."""
    assert "Doubtful" not in run("fit", "--layout", "single", *BODY).stdout


# --- stock and picture ------------------------------------------------------------------------------------------------


def test_a_stock_file_limits_the_advice_and_gives_prices(tmp_path: Path) -> None:
    """TOML or CSV; the row that is wrong is named, the others are used."""
    csv = tmp_path / "shelf.csv"
    csv.write_text(
        "length,body,from_end,to_end,price\n"
        '80 cm,rubber,LP 3/8,second stage 9/16,"25,50"\n'
        "75 cm,rubberr,LP 3/8,second stage 9/16,20\n"
        "120 cm,rubber,LP 3/8,second stage 9/16,30\n",
        encoding="utf-8",
    )
    answer = answered("--layout", "single", *BODY, "--stock", str(csv))
    said = answer["result"]
    primary = said["hoses"][0]
    assert primary["buy"]["length_m"] == pytest.approx(0.8)
    assert primary["buy"]["price"] == 25.5
    [problem] = answer["problems"]
    assert "shelf.csv:3" in problem["message"]
    assert 'Did you mean "rubber"?' in problem["message"]
    assert said["price"] == pytest.approx(55.5)
    assert said["hoses_without_price"] == 2
    assert fitted(TWINSET, "--stock", STOCK)["currency"] == "EUR"


def test_a_table_of_toml_that_is_wrong_is_named_and_the_others_are_used(tmp_path: Path) -> None:
    """Line 6 is where the second hose says its body."""
    shelf = tmp_path / "shelf.toml"
    shelf.write_text(
        'format = 1\nholds = "stock"\nname = "a shelf"\n[[hose]]\nlength = "75 cm"\nbody = "ruber"\n'
        '[[hose]]\nlength = "80 cm"\nbody = "rubber"\n',
        encoding="utf-8",
    )
    done = run("fit", "--layout", "single", *BODY, "--stock", str(shelf))
    assert (done.returncode, done.stderr) == (0, "")
    assert 'shelf.toml:6: hose no. 1, body: found "ruber".' in " ".join(done.stdout.split())
    assert re.search(r"^lengths of +a shelf$", done.stdout, re.MULTILINE)
    assert re.search(r"^primary hose .* buy 80 cm \(32 in\) ", done.stdout, re.MULTILINE)


@pytest.mark.parametrize(
    ("stock", "says"),
    [
        (TWINSET, "this file holds a kit, not a stock"),
        (DIVER, "this file holds a diver, not a stock"),
        (str(CONFIGS), "this is a folder"),
        ("nowhere.csv", "there is no such file"),
    ],
)
def test_what_is_no_stock_file_is_refused(stock: str, says: str) -> None:
    """2, in a line that begins with the name of the file."""
    done = run("fit", "--layout", "single", "--stock", stock)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(stock)
    assert says in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_an_empty_stock_says_so_and_hoses_are_to_be_made(tmp_path: Path) -> None:
    """Nothing can be had from it."""
    (tmp_path / "empty.csv").write_text("", encoding="utf-8")
    answer = answered("--layout", "single", *BODY, "--stock", str(tmp_path / "empty.csv"))
    assert "it contains no hose" in answer["problems"][0]["message"]
    assert all(item["is_made"] for item in answer["result"]["to_buy"])


def test_an_unmarked_lp_hose_is_never_sold_as_an_hp_one(tmp_path: Path) -> None:
    """A row that tells neither end may be either."""
    (tmp_path / "bare.csv").write_text("length,body\n75 cm,rubber\n90 cm,rubber\n", encoding="utf-8")
    said = fitted("--layout", "single", *BODY, "--stock", str(tmp_path / "bare.csv"))
    made = {item["service"] for item in said["to_buy"] if item["is_made"]}
    assert "HP" in made


def test_the_picture_is_written(tmp_path: Path) -> None:
    """An SVG with every hose's letter; the kit itself is never written over."""
    path = tmp_path / "routes.svg"
    path.write_text("an older picture", encoding="utf-8")
    assert run("fit", TWINSET, "--svg", str(path)).returncode == 0
    drawn = ElementTree.parse(path).getroot()
    assert drawn.tag == "{http://www.w3.org/2000/svg}svg"
    texts = [text.text or "" for text in drawn.iter("{http://www.w3.org/2000/svg}text")]
    assert "Twinset, coast" in texts
    for letter, tag in zip("abcde", ("long", "wing", "necklace", "drysuit", "gauge"), strict=True):
        assert letter in texts
        assert any(text.startswith(f"{tag} hose: needs ") for text in texts)
    kit = tmp_path / "kit.toml"
    kit.write_text(Path(TWINSET).read_text("utf-8"), encoding="utf-8")
    before = kit.read_bytes()
    done = run("fit", str(kit), "--svg", str(kit))
    assert done.returncode == 2
    assert f'--svg: found "{kit}". Name a file that ends in .svg' in done.stderr
    assert kit.read_bytes() == before


# --- what is refused --------------------------------------------------------------------------------------------------

REFUSED = [
    ((), "fit: name a kit file or --layout."),
    ((TWINSET, "--layout", "single"), "fit: name a kit file or --layout, not both."),
    (("--layout", "singel"), 'Did you mean "single"?'),
    (("--layout", "single", "--stature", "20 cm"), 'stature: found "20 cm". Accepted: from 120 to 220 cm'),
    (("--layout", "single", "--chest", "4 m"), 'chest: found "4 m". Accepted: from 60 to 180 cm'),
    (("--layout", "single", "--mass", "2 m"), 'mass: "2 m" is a length, not a mass'),
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
    ((DIVER,), "this file holds a diver, not a kit. Name a kit file here"),
    ((STOCK,), "this file holds a stock, not a kit. Name a kit file here"),
    ((str(CONFIGS),), "this is a folder"),
    (("--layout", "single", "--stature", "178"), 'stature: "178" has no unit'),
    (("--layout", "single", "--neck-turns", "stif"), 'Did you mean "stiff"?'),
    (("--layout", "single", "--run", "=62 cm"), 'found no hose ""'),
    (("--layout", "single", "--svg", "no/such/folder/a.svg"), "Nothing was written"),
]


@pytest.mark.parametrize(("words", "said"), REFUSED, ids=[" ".join(words)[-40:] for words, _ in REFUSED])
def test_what_cannot_be_done_is_refused_in_a_sentence(words: tuple[str, ...], said: str) -> None:
    """2; nothing on the standard output, no traceback."""
    done = run("fit", *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert "Traceback" not in done.stderr
    assert len(done.stderr.splitlines()) == 1


def broken_kit(folder: Path) -> Path:
    path = folder / "kit.toml"
    path.write_text('format = 1\nname = "x"\nlayout = "singel"\nwater = "occean"\n', encoding="utf-8")
    return path


def test_a_broken_kit_is_refused_in_json_too(tmp_path: Path) -> None:
    """2, without a result; each problem in its parts."""
    path = broken_kit(tmp_path)
    done = run("fit", str(path), "--json")
    assert (done.returncode, done.stderr) == (2, "")
    answer = json.loads(done.stdout)
    jsonschema.Draft202012Validator(answer_schema("fit", SHAPE)).validate(answer)
    assert (answer["result"], answer["files"]) == (None, [])
    assert [(problem["file"], problem["line"], problem["place"]) for problem in answer["problems"]] == [
        (str(path), 3, "layout"),
        (str(path), 4, "water"),
    ]
    assert answer["problems"][0]["found"] == '"singel"'
    assert '"single"' in answer["problems"][0]["accepted"]


def test_a_stock_that_cannot_be_read_is_refused_in_json_too() -> None:
    """The kit was read and is named; there is no result."""
    done = run("fit", TWINSET, "--json", "--stock", DIVER)
    answer = json.loads(done.stdout)
    assert (done.returncode, done.stderr, answer["result"]) == (2, "", None)
    assert [problem["file"] for problem in answer["problems"]] == [DIVER]
    assert "not a stock" in answer["problems"][0]["message"]


@pytest.mark.parametrize("words", [(TWINSET,), (GOOD, "--stock", STOCK), ("--layout", "sidemount", *BODY)])
def test_json_keeps_to_its_schema_in_both_units(words: tuple[str, ...]) -> None:
    """Whether hoses are kept, bought from a shelf, or bought of any length."""
    answer = answered(*words)
    jsonschema.Draft202012Validator(answer_schema("fit", SHAPE)).validate(answer)
    assert answered(*words, "--units", "imperial") == answer


def test_a_broken_kit_is_refused_with_its_lines(tmp_path: Path) -> None:
    """2; a line a problem, with file and line in front."""
    path = broken_kit(tmp_path)
    done = run("fit", str(path))
    assert (done.returncode, done.stdout) == (2, "")
    problems = done.stderr.splitlines()
    assert [problem.split(": ")[0] for problem in problems] == [f"{path}:3", f"{path}:4"]
    assert 'Did you mean "single"?' in problems[0]


def test_a_picture_that_cannot_be_written_is_said_before_anything_is_printed(tmp_path: Path) -> None:
    """A folder of that name is in the way."""
    (tmp_path / "a.svg").mkdir()
    done = run("fit", TWINSET, "--svg", str(tmp_path / "a.svg"))
    assert (done.returncode, done.stdout) == (2, "")
    assert "Nothing was written there." in done.stderr
    answer = json.loads(run("fit", TWINSET, "--json", "--svg", str(tmp_path / "a.svg")).stdout)
    assert answer["result"] is None
    assert "Nothing was written there." in answer["problems"][0]["message"]


@pytest.mark.parametrize("words", [("--units", "nautical"), ("--run",), ("--jason",), (TWINSET, GOOD)])
def test_words_that_are_not_understood(words: tuple[str, ...]) -> None:
    """2, with the usage and nothing on the standard output."""
    done = run("fit", "--layout", "single", *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("usage: kitbuilder")


def test_a_guess_ends_as_a_question() -> None:
    """Without a full stop behind it."""
    assert run("fit", "--layout", "single", "--sex", "mail").stderr.endswith('Did you mean "male"?\n')


@pytest.mark.parametrize("option", ["--svg", "--stock"])
def test_a_name_of_no_characters_is_no_file(option: str) -> None:
    """As a script gives when its variable is not set."""
    assert run("fit", "--layout", "single", option, "").returncode == 2


def test_something_to_buy_gives_one() -> None:
    """As with findings of a check."""
    done = run("fit", GOOD, "--run", "primary hose=90 cm")
    assert done.returncode == 1
    assert re.search(r"^  1 × 100 cm \(40 in\), LP, rubber", done.stdout, re.MULTILINE)


def test_the_shopping_list_alone_is_one_sheet(tmp_path):
    """The same list as below the hoses; JSON has everything all the same."""
    asked = ("fit", "--layout", "twinset", "--stature", "178 cm", "--mass", "82 kg")
    whole, alone = run(*asked).stdout, run(*asked, "--to-buy").stdout
    bought = whole[whole.index("To buy") :].partition("\n\n")[0]
    assert bought.count("\n") > 3
    assert bought in alone
    assert len(alone.splitlines()) < 40
    assert run(*asked, "--to-buy", "--json").stdout == run(*asked, "--json").stdout
    run(*asked, "--to-buy", "-o", f"{tmp_path}/list.html")
    assert '<body class="sheet">' in (tmp_path / "list.html").read_text("utf-8")
