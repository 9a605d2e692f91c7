"""kitbuilder trip: what a trip weighs, and how it goes into the bags."""

import json
import shutil
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from kitbuilder.report.shapes import answer_schema
from kitbuilder.report.trip import SHAPE
from tests.commands.run import CONFIGS, GOOD, run
from tests.kitfile.support import TRIPS

ROUNDED = 0.015
"""In kg. JSON has a hundredth of a kilogram where the spread is above 1 kg: each of three figures is off by 5 g."""
REEF = str(CONFIGS / "trip-reef.toml")
WRECK = str(CONFIGS / "trip-wreck.toml")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the shipped files."""
    return Path(shutil.copytree(CONFIGS, tmp_path / "configs"))


def asked(path: Path | str) -> tuple[int, dict[str, Any]]:
    """The exit code and the answer, held against the schema."""
    done = run("trip", str(path), "--json")
    answer: dict[str, Any] = json.loads(done.stdout)
    jsonschema.validate(answer, answer_schema("trip", SHAPE))
    assert done.stderr == ""
    return done.returncode, answer


def changed(path: Path, old: str, new: str) -> Path:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


# ---- the trips that come along ----


@pytest.mark.parametrize("path", TRIPS, ids=lambda path: path.stem)
def test_both_trips_fit_and_every_limit_holds_at_95_percent(path: Path) -> None:
    code, answer = asked(path)
    result = answer["result"]
    assert (code, result["missing"], result["not_weighed"], result["unusable"]) == (0, [], [], [])
    limited = [*result["bags"], *result["sums"], *result["bags_home"], *result["sums_home"]]
    chances = [each["chance"] for each in limited if each["limit_kg"] is not None]
    assert len(chances) >= 4
    assert min(chances) >= 0.95


@pytest.mark.parametrize("path", TRIPS, ids=lambda path: path.stem)
def test_the_bags_weigh_what_the_items_weigh(path: Path) -> None:
    """As a program reads it. The empty bags are those of the file. `tests/plans/test_trip_packing.py` is exact."""
    result = asked(path)[1]["result"]
    masses = {"trip-reef": 2.6 + 0.9, "trip-wreck": 2.8 + 1.4 + 1.0}[path.stem]
    bags = sum(bag["mass_kg"]["value"] for bag in result["bags"])
    items = sum(item["mass_kg"]["value"] for bag in result["bags"] for item in bag["items"])
    assert bags == pytest.approx(items + masses, abs=ROUNDED)
    assert items == pytest.approx(result["weights"]["bring_kg"]["value"], abs=ROUNDED)
    home = sum(bag["mass_kg"]["value"] for bag in result["bags_home"])
    assert home == pytest.approx(result["weights"]["home_kg"]["value"] + masses, abs=ROUNDED)
    water = sum(item["water_kg"]["value"] for item in result["wet"])
    assert home - bags == pytest.approx(water, abs=ROUNDED)


@pytest.mark.parametrize(("trip", "kit"), [("trip-reef", "warm-single"), ("trip-wreck", "twinset")])
def test_an_item_weighs_what_check_says(trip: str, kit: str) -> None:
    """But for cylinders, which check weighs with their gas. Each item of the kit is packed, rented or left, once."""
    kit_file = str(CONFIGS / f"{kit}.toml")
    [checked] = json.loads(run("check", "--items", "--json", kit_file).stdout)["result"]["files"]
    by_check = {item["tag"]: item["mass_kg"] for item in checked["weigh_in"]["rows"]}
    result = asked(CONFIGS / f"{trip}.toml")[1]["result"]
    packed = {item["tag"]: item["mass_kg"] for bag in result["bags"] for item in bag["items"]}
    away = [item["tag"] for item in result["not_brought"]]
    assert sorted([*(tag for tag in packed if tag in by_check), *away]) == sorted(by_check)
    assert not [tag for tag in packed if tag in by_check and packed[tag] != by_check[tag]]


def test_the_text_has_one_page_with_everything_to_act_on() -> None:
    """The parts in their order; the reason where a rule decides."""
    done = run("trip", REEF)
    assert (done.returncode, done.stderr) == (0, "")
    words = " ".join(done.stdout.split())
    parts = (
        "Two weeks on the reef · 2031-05-10 to 2031-05-24",
        "All 22 items fit: duffel 15.1 of 23 kg, backpack 5.4 of 8 kg; every limit holds with over 99 %.",
        "Way out, dry",
        "In duffel",
        "mask 0.21 ± 0.05 kg better in the cabin: breakable item; no dive without a mask",
        "spare camera batteries 0.10 ± 0.05 kg A spare battery that shorts can burn.",
        "Confirm limits and rules with the airline",
        "Way home, wet",
        "What it weighs bring 17.",
        "with the bags way out way home in the hold 15.",
        "Room",
        "What to weigh first",
        "Not brought",
        "Spares for a day boat: 1.",
        'Rules that decide "spare camera batteries" A spare battery that shorts can burn.',
        "Cover the terminals, or put each into a bag of its own. Carry it in the cabin. Confirm with the airline.",
        "Source: Dangerous Goods Regulations, table 2.3.A",
        "Findings: none",
        "never certifies",
    )
    places = [words.find(part) for part in parts]
    assert -1 not in places, parts[places.index(-1)]
    assert places == sorted(places)


def test_the_price_of_several_rentals_is_said_once() -> None:
    """From the file: 180 for all cylinders together, no other price."""
    result = json.loads(run("trip", WRECK, "--json").stdout)["result"]
    assert [item["price"] for item in result["not_brought"] if item["price"] is not None] == [180.0]
    assert sum(item["do"] == "rent" for item in result["not_brought"]) > 3


def test_what_the_airline_has_approved_says_what_to_carry_and_do() -> None:
    """The file has the torch of the wreck trip among what each of its legs approved."""
    said = " ".join(run("trip", WRECK).stdout.split())
    words = "The airline has approved it. Carry the airline's answer. Switch the device off, and protect it"
    assert '"canister torch" A battery of lithium ion between 100 and 160 Wh needs the approval' in said
    assert words in said
    rules = json.loads(run("trip", WRECK, "--json").stdout)["result"]["rules"]
    assert {each["approved"] for each in rules if each["tags"] == ["canister torch"]} == {True}


# ---- trips with something wrong ----


def test_a_limit_that_is_too_low_leaves_items_over_and_says_what_to_do(folder: Path) -> None:
    """5.2 kg of the duffel's 9 go to what is allowed nowhere else; nobody sells more, so that luggage is proposed."""
    path = changed(folder / "trip-reef.toml", '"23 kg"', '"9 kg"')
    path.write_text(path.read_text("utf-8").replace("price_per_kilogram", "# price_per_kilogram"), "utf-8")
    code, answer = asked(path)
    assert code == 1
    missing = answer["result"]["missing"]
    assert missing
    assert {(each["why"], each["need"], each["proposed"]) for each in missing} == {("no room", "extra", True)}
    text = " ".join(run("trip", str(path)).stdout.split())
    assert "There is no room left for it." in text
    assert "Proposal: leave it at home; most dives can be done without it." in text


def test_what_a_leg_sells_beyond_its_limit_is_bought(folder: Path) -> None:
    """One kilogram of 12 EUR: without spares, all that is brought weighs 0.15 kg more than the bag may."""
    path = changed(folder / "trip-reef.toml", '"23 kg"', '"12 kg"')
    path.write_text(path.read_text("utf-8").replace('"day boat"', '"none"'), "utf-8")
    result = asked(path)[1]["result"]
    assert (result["missing"], result["price"], result["price_at_least"]) == ([], 12.0, 12.0)
    assert result["price_home"] == 12.0
    assert result["bought"] == [
        {"leg": "flight", "what": "kilogram", "number": 1, "bag": "duffel", "price": 12.0},
    ]  # fmt: skip
    text = " ".join(run("trip", str(path)).stdout.split())
    assert "flight 1 kg above the limit of duffel 12.00 EUR" in text
    assert "Together 12.00 EUR. No cheaper way takes as much along." in text
    # The lightest of the luggage is enough: without it, something of the duffel has room in the backpack.
    assert result["unpaid"] == [{"tag": "spare camera batteries", "do": "leave", "lighter_kg": 0.1}]
    assert 'Or buy nothing: leave "spare camera batteries" (0.10 kg) at home.' in text


OPTIONS = """
[[option]]
item  = "clothes"
do    = "rent"
price = 40

[[option]]
item  = "fins"
do    = "rent"
price = 10

[[option]]
every = "suit"
do    = "wear"
"""


def test_the_cheapest_option_is_taken_and_shown_with_its_price(folder: Path) -> None:
    """A suit that is worn is free, fins cost 10 EUR and a kilogram 12 EUR: 1.5 kg less is enough for a bag of 12 kg."""
    path = changed(folder / "trip-reef.toml", '"23 kg"', '"12 kg"')
    path.write_text(path.read_text("utf-8") + OPTIONS, "utf-8")
    result = asked(path)[1]["result"]
    assert (result["missing"], result["price"], result["bought"]) == ([], 0.0, [])
    assert [(each["tag"], each["do"], each["price"]) for each in result["instead"]] == [("suit", "wear", None)]
    text = " ".join(run("trip", str(path)).stdout.split())
    assert "suit wear it 1.50 kg" in text
    assert "1 step without a price counted as free." in text


FLIGHT = '[[leg]]\ntag          = "flight"'
BAD = {
    "no bags": ('[[bag]]\ntag    = "duffel"', '[[luggage]]\ntag    = "duffel"', 2, ""),
    "no such kit": (
        '"warm-single.toml"',
        '"gone.toml"',
        2,
        "A kit file cannot be used: gone.toml is not in this folder.",
    ),
    "a bag heavier than its limit": (
        '"2.6 kg"',
        '"30 kg"',
        1,
        '"duffel" is heavier than its limit when empty, by "flight".',
    ),
    "a limit of zero": ('"23 kg"', '"0 kg"', 1, '"duffel" may not come: the limit there is zero, by "flight".'),
    "legs that contradict": (
        FLIGHT,
        f'[[leg]]\ntag = "bus"\nhold_pieces = 0\ncabin_pieces = 0\n{FLIGHT}',
        1,
        '"bus" takes nothing, neither in the hold nor in the cabin.',
    ),
    "two legs": (
        FLIGHT,
        f'[[leg]]\ntag = "hop"\nhold_piece = "20 kg"\n{FLIGHT}',
        0,
        'One piece in the hold: "flight" would allow 23.00 kg; the strictest leg counts.',
    ),
    "an item heavier than every limit": (
        '"5.5 kg"',
        '"50 kg"',
        1,
        '"clothes": It is heavier than every limit allows. Rent one there, or buy a higher limit.',
    ),
    "rented and left": (
        '[[pin]]\nitem = "first"\nbag  = "backpack"',
        '[[rent]]\nitem = "fins"\n[[leave]]\nitem = "fins"',
        1,
        '"fins" is rented and left at home. An item cannot be both. It counts as left at home.',
    ),
    "pinned to no bag": (
        'bag  = "backpack"',
        'bag  = "rucksack"',
        1,
        '"first": It is pinned to a bag that there is not. Correct the name of the bag.',
    ),
    "a battery without its energy": (
        'battery   = "3.7 V x 2.6 Ah"         #',
        'battery_type = "lithium ion" #',
        1,
        'The energy of the battery of "camera in its housing" is not known.',
    ),
    "an option of what may not be worn": (
        FLIGHT,
        f'[[option]]\nitem = "spare camera batteries"\ndo = "leave"\n[[option]]\nitem = "first"\ndo = "rent"\n{FLIGHT}',
        1,
        '"first" has a fixed bag. The option to rent it has no effect.',
    ),
    "a mass that is none": ('"5.5 kg"', '"much"', 2, ""),
}
"""What is changed in the file, the exit code, and the sentence that says what is wrong."""


@pytest.mark.parametrize("name", BAD)
def test_a_bad_trip_has_an_answer_and_no_traceback(name: str, folder: Path) -> None:
    old, new, code, sentence = BAD[name]
    path = changed(folder / "trip-reef.toml", old, new)
    before = path.read_bytes()
    done = run("trip", str(path))
    assert (asked(path)[0], done.returncode) == (code, code)
    assert sentence in " ".join(done.stdout.split())
    assert "Traceback" not in done.stderr
    assert path.read_bytes() == before


def test_a_kit_with_an_error_is_named_and_the_luggage_is_packed(folder: Path) -> None:
    path = folder / "warm-single.toml"
    path.write_text(path.read_text("utf-8").replace("\nformat", "\nformt", 1), "utf-8")
    done = run("trip", str(folder / "trip-reef.toml"))
    assert done.returncode == 2
    words = " ".join(done.stdout.split())
    assert "a kit file cannot be used: warm-single.toml:1: format: this key is missing." in words
    assert "clothes 5.50" in words


def test_a_kit_that_is_missing_is_named_and_the_rest_is_packed(folder: Path) -> None:
    path = changed(folder / "trip-reef.toml", '["warm-single.toml"]', '["warm-single.toml", "gone.toml"]')
    code, answer = asked(path)
    assert code == 2
    assert "gone.toml" in answer["problems"][0]["message"]
    assert answer["result"]["bags"][0]["items"]
    assert answer["result"]["proved"] is False
    [first, *_] = answer["result"]["findings"]
    assert (first["rule"], first["signal"]) == ("kits of the trip", "warning")
    text = run("trip", str(path)).stdout
    assert 'A kit is missing: "gone.toml". What follows is about the other 22 items alone.' in " ".join(text.split())
    assert "Proved" not in text


def test_another_kind_of_file_is_named() -> None:
    done = run("trip", GOOD)
    assert (done.returncode, done.stdout) == (2, "")
    assert "not a trip" in done.stderr


def test_the_likelihood_that_the_trip_asks_for_is_said(folder: Path) -> None:
    path = changed(folder / "trip-reef.toml", 'currency   = "EUR"', 'likelihood = "80 %"')
    assert asked(path)[1]["result"]["likelihood"] == pytest.approx(0.8)
    assert "Each limit holds with a probability of 80 % or more" in " ".join(run("trip", str(path)).stdout.split())


# ---- a new trip ----


def test_a_new_trip_is_written_and_packed(folder: Path) -> None:
    """Kits may be named with the folder that the file is in; a second time nothing is overwritten."""
    words = ("trip", str(folder / "my-trip"), "--new", str(folder / "warm-single.toml"), "--new", "twinset")
    answers = ("--allowance", "2 x 23 hold, 8 cabin", "--rent", "lead", "--days", "2031-05-10 to 2031-05-24")
    done = run(*words, *answers)
    written = tomllib.loads((folder / "my-trip.toml").read_text(encoding="utf-8"))
    assert "my trip · 2031-05-10 to 2031-05-24\n" in done.stdout
    assert written["kits"] == ["warm-single.toml", "twinset.toml"]
    assert written["rent"] == [{"every": "lead"}]
    assert [(leg["hold_pieces"], leg["hold_piece"], leg["cabin_piece"]) for leg in written["leg"]] == [
        (2, "23 kg", "8 kg")
    ]
    text = (folder / "my-trip.toml").read_bytes()
    again = run(*words)
    assert (again.returncode, again.stdout) == (2, "")
    assert "exists already" in again.stderr
    assert (folder / "my-trip.toml").read_bytes() == text


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (["--new", "nosuch"], "nosuch.toml: there is no such file."),
        (["--new", "warm-single", "--allowance", "99"], 'trip: --allowance: found "99".'),
        (["--new", "warm-single", "--rent", "beer"], 'trip: --rent: found "beer".'),
        (["--new", "warm-single", "--days", "soon"], 'trip: --days: found "soon".'),
        (["--rent", "lead"], 'trip: found --rent "lead" without --new.'),
    ],
)
def test_a_new_trip_with_wrong_answers_writes_nothing(folder: Path, words: list[str], complaint: str) -> None:
    before = sorted(folder.iterdir())
    done = run("trip", str(folder / "my-trip.toml"), *words)
    assert done.returncode == 2
    assert complaint in done.stderr
    assert sorted(folder.iterdir()) == before


def test_a_new_trip_where_none_can_be_says_why_once_and_writes_nothing(folder: Path) -> None:
    """A kit elsewhere, a folder, a file that is there, a folder that is not: what is accepted, and a name that is."""
    trips = folder / "trips"
    trips.mkdir()
    (folder / "my-trip.toml").write_text("", encoding="utf-8")
    before = sorted(folder.rglob("*"))
    kit = str(folder / "warm-single.toml")
    for file, named, complaint in (
        (str(trips / "a3.toml"), kit, f'name the trip file beside it, "{folder / "a3.toml"}".'),
        (str(trips / "a3.toml"), "../warm-single.toml", "The kits of a trip lie in its folder: "),
        (str(folder), "warm-single.toml", f'Name the new file in it, such as "{folder / "my-trip2.toml"}".'),
        (str(folder / "my-trip"), kit, f'Name another file, such as "{folder / "my-trip2.toml"}".'),
        (str(folder / "gone" / "a.toml"), "warm-single", "Create it first, or name another folder. "),
    ):
        done = run("trip", file, "--new", named)
        assert (done.returncode, done.stdout) == (2, ""), file
        assert complaint in done.stderr
        assert done.stderr.count("\n") == 1
        assert sorted(folder.rglob("*")) == before
    assert "make a new trip file" in run("trip", str(folder / "nope.toml")).stderr
    assert "Name a trip file in it" in run("trip", str(folder)).stderr


def test_a_time_that_no_search_takes_is_refused(folder: Path) -> None:
    done = run("trip", str(folder / "trip-reef.toml"), "--time", "-1")
    assert (done.returncode, done.stdout) == (2, "")
    assert "trip: --time: found -1. Accepted: from 0 to 3600 seconds" in done.stderr
