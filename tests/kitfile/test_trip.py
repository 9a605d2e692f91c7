"""Trip files: what they say, how they are edited, and how they bring the kits of their folder."""

from pathlib import Path
from shutil import copy

import pytest

from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.file_kinds import KIT_FILE, TRIP_FILE
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.kit.trip import Bag, Leave, Leg, Luggage, Option, OwnRule, Pin, Rent
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.read import read, read_written
from kitbuilder.kitfile.reader import parse_as
from tests.kitfile.support import CONFIGS, GOOD_TRIP, TRIPS, opened

HEAD = 'format = 1\nholds = "trip"\nname = "x"\n'
KIT = """\
format = 1
name = "kit"
layout = "single"
water = "fresh"
temperature = "6 °C"
diver = "me.toml"

[[cylinder]]
tag = "cylinder"
preset = "steel 12 L 232 long"

[[lead]]
tag = "belt"
mass = "1 kg"
rented = true

[[other]]
tag = "knife"
preset = "knife"
"""
DIVER = 'format = 1\nholds = "diver"\nname = "{}"\n'


def trip_in(folder: Path, lines: str) -> ResolvedTrip:
    """A trip in a folder that has two kits and two divers."""
    for name in ("one", "two"):
        (folder / f"{name}.toml").write_text(KIT, "utf-8")
    for name in ("me", "buddy"):
        (folder / f"{name}.toml").write_text(DIVER.format(name), "utf-8")
    path = folder / "trip.toml"
    path.write_text(HEAD + lines, "utf-8")
    reading = read(path)
    assert reading.problems == ()
    assert isinstance(reading.contents, ResolvedTrip)
    return reading.contents


def test_everything_a_trip_may_say() -> None:
    """In SI; by the definitions of the units: 1 lb is 0.45359237 kg, 1 Wh is 3600 J."""
    trip = read_written(GOOD_TRIP, TRIP_FILE).trip
    assert trip is not None
    header = trip.header
    assert header.kits == ("kit.toml", "other.toml")
    assert (header.wet_kg, header.wet_spread_kg, header.likelihood) == (2.5, 1.0, pytest.approx(0.9))
    assert [type(entry) for entry in trip.items] == [Rent, Rent, Leave, Luggage, Bag, Leg, Pin, Option, OwnRule]
    assert (trip.rents[0].price, trip.rents[1].every) == (60, "lead")
    camera, bag, leg = trip.luggage[0], trip.bags[0], trip.legs[0]
    assert camera.mass_kg == pytest.approx(3 * 0.45359237)
    assert camera.battery_j == pytest.approx(18.5 * 3600)
    assert bag.size_m == pytest.approx((19 * 0.0254, 0.3, 0.2))
    assert leg.handling_kg == pytest.approx(70 * 0.45359237)
    assert (leg.battery_most_j, leg.price_per_kilogram, leg.hold_edges_m) == (160 * 3600, 12.5, pytest.approx(1.58))
    assert [entry.label for entry in trip.items] == [
        "rental 1", "every lead", "left 1", "camera", "backpack", "long flight", "pin 1", "option 1", "rule 1",
    ]  # fmt: skip


def test_every_kind_and_every_key_stands_in_the_good_trip() -> None:
    """So that what reads it has been through everything."""
    rows = read_written(GOOD_TRIP, TRIP_FILE).rows
    for table, record in (("", TRIP_FILE.header), *TRIP_FILE.kinds.items()):
        keys = {key for name, row in rows if name == table for key in row}
        assert keys | {"every"} >= {field.key for field in fields_of(record)}, table


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('kits = ["../one.toml"]', '"../one.toml". Write the name of a .toml file in the same folder'),
        ('kits = ["one.toml", "one.toml"]', "appears twice"),
        ('kits = "one.toml"', 'Write a list of names of files: ["warm-single.toml"]'),
        ("wet = 2", "a number without a unit"),
        ('likelihood = "30 %"', "from 50 to 99.9 %"),
        ('[[bag]]\ntag = "b"\ngoes = "roof"\nmass = "1 kg"', '"cabin", "hold", "body"'),
        ('[[bag]]\ntag = "b"\ngoes = "hold"', "bag \"b\", mass: this key is missing"),
        ('[[bag]]\ntag = "b"\ngoes = "hold"\nmass = "1 kg"\nsize = ["1 m", "2 cm"]', "Write 3"),
        ('[[luggage]]\ntag = "b"\nmass = "1 kg"\nbattery = "5 Ah"', '"3.7 V x 5 Ah"'),
        ('[[luggage]]\ntag = "b"\nmass = "1 kg"\nbatery = "5 Wh"', 'Did you mean "battery"?'),
        ("[[pin]]\nitem = \"first\"", "bag: this key is missing"),
        ("[[leave]]\nkit = \"one.toml\"", "item: this key is missing"),
        ('[[option]]\nitem = "knife"\ndo = "sell"', '"leave", "rent", "wear"'),
        ('[[option]]\nitem = "knife"', "do: this key is missing"),
        ('[[option]]\nitem = "knife"\ndo = "rent"\nprice = -3', "price"),
        ('[[rule]]\nitem = "knife"\ngoes = "body"', '"cabin", "hold", "nowhere"'),
        ("[[leg]]\ntag = \"f\"\nhold_pieces = 41", "from 0 to 40"),
        ("[[spare]]\ntag = \"f\"", "[[rent]], [[leave]], [[luggage]], [[bag]], [[leg]], [[pin]], [[option]], [[rule]]"),
        ('[[bag]]\ntag = "b"\ngoes = "hold"\nmass = "1 kg"\n[[leg]]\ntag = "b"', "a second time"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_with_what_is_accepted(line: str, says: str) -> None:
    problems = parse_as(HEAD + line, TRIP_FILE).problems
    assert len(problems) == 1
    assert says in problems[0].located("trip.toml")


@pytest.mark.parametrize("path", [*TRIPS, GOOD_TRIP], ids=lambda path: path.stem)
def test_a_trip_is_no_kit(path: Path) -> None:
    reading = read_written(path, KIT_FILE)
    assert reading.contents is None
    assert "this file holds a trip, not a kit" in reading.problems[0].found


def test_an_edit_changes_its_line_alone_and_is_undone(tmp_path: Path) -> None:
    """Keys set, a rental added and a bag renamed, with what refers to it; then back, step by step."""
    document = opened(tmp_path, (CONFIGS / "trip-reef.toml").read_text("utf-8"), TRIP_FILE)
    before = document.text
    document.set_value(None, "water", "ocean")
    assert document.text == before.replace('water      = "salty sea" ', 'water      = "ocean" ')
    document.add_item("leave", {"item": "mask"}, after=1)
    assert '[[leave]]\nitem = "mask"\n' in document.text
    contents = document.reading.contents
    assert contents is not None
    backpack = next(number for number, entry in enumerate(contents.items) if entry.tag == "backpack")
    document.rename_tag(backpack, "rucksack")
    trip = document.reading.trip
    assert trip is not None
    assert [pin.bag for pin in trip.pins] == ["rucksack"]
    with pytest.raises(RefusedEdit, match="from 0 to 40 kg"):
        document.set_value(backpack, "mass", "50 kg")
    assert [document.undo() for _ in range(4)] == [True, True, True, False]
    assert document.text == before
    assert document.redo()


def test_a_saved_trip_is_read_again(tmp_path: Path) -> None:
    path = Path(copy(CONFIGS / "trip-wreck.toml", tmp_path))
    document = Document(path)
    assert document.file is TRIP_FILE
    document.set_value(None, "to", "2031-09-14")
    document.save()
    again = read_written(path).trip
    assert again is not None
    assert again.header.to is not None
    assert again.header.to.isoformat() == "2031-09-14"


# ---- with its kits ----


def test_a_trip_brings_its_kits_to_the_water_there(tmp_path: Path) -> None:
    """What was measured at home does not hold there; without a word, the kit keeps its own."""
    there = trip_in(tmp_path, 'kits = ["one.toml"]\nwater = "ocean"\n').kits[0].kit
    assert there is not None
    assert (there.header.water, there.header.temperature_k) == ("ocean", None)
    home = trip_in(tmp_path, 'kits = ["one.toml"]\n').kits[0].kit
    assert home is not None
    assert (home.header.water, home.header.temperature_k) == ("fresh", pytest.approx(279.15))


def test_each_kit_is_worn_by_its_diver(tmp_path: Path) -> None:
    """In the order of the lists; a kit without one keeps its own."""
    trip = trip_in(tmp_path, 'kits = ["one.toml", "two.toml"]\ndivers = ["buddy.toml"]\n')
    divers = [travelling.kit.linked.diver for travelling in trip.kits if travelling.kit]
    assert [diver.header.name for diver in divers if diver] == ["buddy", "me"]


def test_a_kit_that_is_not_there_or_broken_is_named(tmp_path: Path) -> None:
    (tmp_path / "broken.toml").write_text("format = 1\n", "utf-8")
    trip = trip_in(tmp_path, 'kits = ["absent.toml", "broken.toml", "me.toml", "one.toml"]\n')
    assert [travelling.kit is not None for travelling in trip.kits] == [False, False, False, True]
    said = [" ".join(travelling.problems) for travelling in trip.kits]
    assert said[0] == "absent.toml is not in this folder."
    assert "name: this key is missing" in said[1]
    assert "this file holds a diver, not a kit" in said[2]


def test_what_happens_to_each_item(tmp_path: Path) -> None:
    """The kit says that its lead is rented; what is rented and left at home is left."""
    lines = """
kits = ["one.toml", "two.toml"]
[[rent]]
every = "cylinder"
kit = "one.toml"
[[rent]]
item = "knife"
kit = "two.toml"
[[leave]]
item = "knife"
"""
    fates = {(item.file, item.item.tag): item.fate for item in trip_in(tmp_path, lines).every_item()}
    assert fates == {
        ("one.toml", "cylinder"): Fate.RENT,
        ("one.toml", "belt"): Fate.RENT,
        ("one.toml", "knife"): Fate.LEAVE,
        ("two.toml", "cylinder"): Fate.BRING,
        ("two.toml", "belt"): Fate.RENT,
        ("two.toml", "knife"): Fate.LEAVE,
    }
