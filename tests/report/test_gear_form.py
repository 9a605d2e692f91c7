"""The form of an item of a gear file, and what a gear file offers to a kit."""

import pytest

from kitbuilder.assess.defaults import default_in_kit
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.gear import OwnedFirstStage, OwnedGauge
from kitbuilder.kit.items import Other
from kitbuilder.kit.owned import differing, taken_up
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.report.form import choices_of, format_default, typed_note, with_usual_unit
from kitbuilder.report.gear_form import default_in_gear, gear_rows, owned_choices, values_to_take_up
from tests.assess.kits import assessed, kit_of
from tests.report.test_gear import KIT, METRIC, TEXT, read


def test_the_rows_of_a_form_say_when_it_is_due() -> None:
    gear = read().gear
    assert gear is not None
    rows = {row.field.key: row for row in gear_rows(gear, {"made": "2021-05"}, 0, METRIC)}
    assert rows["made"].note == "due 1 May 2026"
    assert rows["condition"].note == "in order (default)"
    assert rows["cleaned"].note == "not given"
    header = {row.field.key: row for row in gear_rows(gear, {}, None, METRIC)}
    assert header["region"].note == "common practice only"


def test_what_a_preset_tells() -> None:
    """A brass gauge weighs 0.15 to 0.3 kg in the catalogue."""
    gauge = OwnedGauge(tag="gauge", preset="brass gauge")
    assert default_in_gear(gauge, field_named(OwnedGauge, "mass"), METRIC) == "0.15 kg to 0.30 kg, preset"
    assert default_in_gear(gauge, field_named(OwnedGauge, "inlet"), METRIC) == "gauge swivel, preset"
    assert default_in_gear(gauge, field_named(OwnedGauge, "make"), METRIC) == ""
    first = OwnedFirstStage(tag="first", preset="brass, yoke, 4 LP 2 HP")
    assert default_in_gear(first, field_named(OwnedFirstStage, "connection"), METRIC) == "yoke, preset"
    bare = OwnedGauge(tag="gauge")
    assert default_in_gear(bare, field_named(OwnedGauge, "mass"), METRIC) == ""


def test_a_day_is_reported_in_words_while_it_is_typed() -> None:
    gear = read().gear
    assert gear is not None
    field = field_named(type(gear.items[0]), "made")
    assert typed_note(gear, 0, field, METRIC) == "1 May 2021"


@pytest.mark.parametrize(
    ("written", "note"),
    [
        ("0.5 kg ± 0.1 kg", "= 0.50 ± 0.10 kg = 1.10 ± 0.22 lb"),
        ("0.5 kg", "= 0.50 kg = 1.10 lb"),
    ],
)
def test_a_reading_is_shown_with_its_spread_while_it_is_typed(written: str, note: str) -> None:
    """In both systems; 0.5 kg are 1.102 lb, 0.1 kg are 0.2205 lb, at 0.4536 kg in a pound."""
    gear = parse_as(
        f'format = 1\nholds = "gear"\nname = "x"\n\n[[other]]\ntag = "x"\nmass = "{written}"\n', GEAR_FILE
    ).gear
    assert gear is not None
    assert typed_note(gear, 0, field_named(type(gear.items[0]), "mass"), METRIC) == note


@pytest.mark.parametrize(
    ("typed", "text", "note"),
    [
        ("0.15", "0.15 kg", "= floats 0.15 kg = floats 0.33 lb"),
        ("sinks 150 g", "-150 g", "= sinks 0.15 kg = sinks 0.33 lb"),
        ("0.5 ± 0.1 negative", "-0.5 ± 0.1 kg", "= sinks 0.50 ± 0.10 kg = sinks 1.10 ± 0.22 lb"),
    ],
)
def test_a_buoyancy_is_typed_and_shown_with_its_sign_in_words(typed: str, text: str, note: str) -> None:
    """0.15 kg are 0.3307 lb."""
    field = field_named(Other, "buoyancy")
    assert with_usual_unit(field, typed, "", METRIC) == text
    item = f'[[other]]\ntag = "x"\nmass = "1 kg"\nbuoyancy = "{text}"\n'
    gear = parse_as(f'format = 1\nholds = "gear"\nname = "x"\n\n{item}', GEAR_FILE).gear
    assert gear is not None
    assert typed_note(gear, 0, field_named(type(gear.items[0]), "buoyancy"), METRIC) == note


def test_what_an_item_may_be_kept_in() -> None:
    """Anything but itself, boxes and bags first."""
    gear = read().gear
    assert gear is not None
    choices = choices_of(gear, 0, field_named(type(gear.items[0]), "kept_in"), METRIC)
    assert choices[0].word == "box"
    assert len(choices) == len(gear.items) - 1
    assert "B75" not in [choice.word for choice in choices]


def test_a_first_stage_sits_on_a_cylinder() -> None:
    """The tag of one kind of item: only those are offered."""
    text = KIT + '\n[[first_stage]]\ntag = "first"\n\n[[cylinder]]\ntag = "tank"\npreset = "steel 12 L 232 long"\n'
    found = kit_of(text)
    number = [each.tag for each in found.items].index("first")
    choices = choices_of(found, number, field_named(type(found.items[number]), "on"), METRIC)
    assert [choice.word for choice in choices] == ["tank"]


def test_what_an_item_of_a_kit_may_be() -> None:
    """The items of its kind in the gear file, each with what it is."""
    kit = resolve(kit_of(KIT), LinkedFiles(gear=read().gear))
    assert owned_choices(kit, 0, METRIC)[0][:2] == ("B75", "75 cm rubber, LP 3/8 to second stage 9/16")
    assert owned_choices(kit, 1, METRIC)[0].note.startswith('is "primary hose" already; 75 cm rubber, ')
    assert owned_choices(resolve(kit_of(KIT)), 0, METRIC) == ()


HOSE = """format = 1
name = "x"
layout = "single"

[[hose]]
tag = "mine"
role = "primary"
body = "braided"
length = "30 in"
mass = "0.2 kg"
make = "red"
"""


@pytest.mark.parametrize(
    ("further", "values"),
    [
        # Body and length are the kit's to give, so they are set; the mass of another hose is taken out.
        ('mass = "0.3 kg"', {"owned": "B75", "body": "rubber", "length": "29.52756 in", "mass": None}),
        # What only one of the two gives stays as it is.
        ('measured = "hose only"', {"owned": "B75", "body": "rubber", "length": "29.52756 in",
                                    "measured": "hose only"}),
    ],
)  # fmt: skip
def test_an_item_takes_up_what_the_gear_file_gives(further: str, values: dict[str, str | None]) -> None:
    """A length stays in the unit that it was written in: 75 cm are 29.52756 in, at 2.54 cm."""
    gear = parse_as(TEXT.replace('made     = "2021-05"', further), GEAR_FILE).gear
    assert gear is not None
    entry = gear.item("B75")
    assert entry is not None
    item = kit_of(HOSE).items[0]
    assert values_to_take_up(item, entry, {"length": "30 in"}, METRIC) == values
    taken = taken_up(item, entry)
    assert differing(taken, entry) == ()
    assert taken.owned == "B75"


@pytest.mark.parametrize(
    ("key", "line", "spoken"),
    [
        ("mass", 'mass = "0.2 kg"', "0.20 kg, from the gear file"),
        ("make", 'make = "grey"', "grey, from the gear file"),
        ("swivel_pin", "swivel_pin = true", "yes, from the gear file"),
        ("to_end", "", "second stage 9/16, from the gear file"),
        ("bore", "", "6.4"),
    ],
)
def test_what_the_gear_file_tells_of_an_item_of_a_kit(key: str, line: str, spoken: str) -> None:
    """Where the kit says nothing; what neither says is as usual: 6.4 mm is the bore of a rubber hose."""
    gear = parse_as(TEXT.replace('made     = "2021-05"', line), GEAR_FILE).gear
    assessment = assessed(KIT)
    found = assessed(KIT, assessment.kit.linked._replace(gear=gear))
    field = field_named(type(found.kit.items[0]), key)
    taken = format_default(default_in_kit(found, 0, field), METRIC)
    assert taken.startswith(spoken)
    assert taken.endswith("from the gear file") == ("from the gear file" in spoken)
