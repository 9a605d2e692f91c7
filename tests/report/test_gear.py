"""A gear file in words and for programs: dates in words, what is due, where it is used, what to get."""

import json
from datetime import date

import pytest

from kitbuilder.assess.defaults import default_in_kit
from kitbuilder.assess.gear.gear import GearReport, report_on_gear
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.gear import GEAR_KINDS, GearHeader, Owned, OwnedFirstStage, OwnedGauge
from kitbuilder.kit.items import Cylinder, FirstStage
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.reader import ParseResult, parse_as
from kitbuilder.plans.gear import Needs, Use, Uses, kits_using, needs_of, uses_of
from kitbuilder.report.form import choices_of, format_default, typed_note
from kitbuilder.report.gear import (
    NO_KITS,
    date_rows,
    default_in_gear,
    detail_lines,
    format_owned,
    format_shortage,
    gear_json,
    gear_rows,
    gear_text,
    owned_choices,
)
from kitbuilder.report.numbers import System
from tests.assess.kits import assessed, kit_of
from tests.plans.test_gear import gear, hose, kit

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
DAY = date(2027, 1, 15)
TEXT = """\
format = 1
holds  = "gear"
name   = "cellar"
region = "United States"

[[hose]]
tag      = "B75"
body     = "rubber"
length   = "75 cm"
from_end = "LP 3/8"
to_end   = "second stage 9/16"
made     = "2021-05"

[[first_stage]]
tag          = "grey"
preset       = "brass, DIN, 4 LP 2 HP"
serviced     = "2026-03-02"
condition    = "to be watched"
oxygen_clean = true
kept_in      = "box"

[[cylinder]]
tag       = "tank"
preset    = "steel 12 L 232 long"
inspected = "2026-05-14"
tested    = "2021-11-03"

[[suit]]
tag       = "hood"
cut       = "hood"
thickness = "5 mm"

[[plug]]
tag    = "plugs"
pieces = 3
thread = "3/8-24 UNF"

[[adapter]]
tag     = "elbow"
adapter = "elbow 90"

[[o_ring]]
tag    = "rings"
pieces = 10
size   = "011"

[[lead]]
tag    = "lead"
pieces = 4
mass   = "1 kg"

[[gauge]]
tag    = "console"
preset = "console of 2 or 3"

[[other]]
tag = "box"
"""
KIT = """\
format = 1
name   = "Reef"
layout = "single"
gear = "gear.toml"

[[hose]]
tag    = "primary hose"
role   = "primary"
body   = "rubber"
length = "75 cm"
owned  = "B75"

[[hose]]
tag    = "long hose"
role   = "long hose"
body   = "rubber"
length = "210 cm"

[[lead]]
tag    = "belt"
mass   = "1 kg"
pieces = 6
"""


def read() -> ParseResult:
    reading = parse_as(TEXT, GEAR_FILE)
    assert reading.gear is not None, reading.problems
    return reading


def looked() -> tuple[GearReport, Uses, list[tuple[str, Needs]]]:
    """The gear file above, and a kit that names it."""
    reading, reef = read(), kit_of(KIT)
    assert reading.gear is not None
    uses = uses_of(reading.gear, [("reef.toml", reef)])
    look = report_on_gear(reading.gear, DAY, kits_using(uses), reading.lines)
    return look, uses, [("reef.toml", needs_of(resolve(reef), reading.gear))]


def item(tag: str) -> Owned:
    found = read().gear.item(tag)  # type: ignore[union-attr]
    assert found is not None
    return found


def printed(system: System = METRIC) -> str:
    look, uses, needs = looked()
    return gear_text("gear.toml", look, uses, needs, system)


# ---- words ----


@pytest.mark.parametrize(
    ("tag", "words"),
    [
        ("B75", "75 cm rubber, LP 3/8 to second stage 9/16"),
        ("grey", "brass, DIN, 4 LP 2 HP"),
        ("tank", "steel 12 L 232 long"),
        ("hood", "hood, 5 mm"),
        ("plugs", "3 × 3/8-24 UNF"),
        ("elbow", "1 × elbow 90"),
        ("rings", "10 × O-ring 011"),
        ("lead", "4 × 1.0 kg"),
        ("box", "other item"),
    ],
)
def test_what_a_item_is(tag: str, words: str) -> None:
    assert format_owned(item(tag), METRIC) == words


def test_what_a_hose_is_in_inches() -> None:
    """75 cm are 29.5 in."""
    assert format_owned(item("B75"), IMPERIAL).startswith("29.5 in rubber")


def test_dates_and_when_they_run_out() -> None:
    """Five years after 3 November 2021; a year after 14 May 2026; and nobody counts a test by custom."""
    gear = read().gear
    assert gear is not None
    assert date_rows(item("tank"), gear) == (
        "inspected 14 May 2026: due 14 May 2027 (custom)",
        "tested 3 November 2021: due 3 November 2026 (rule, United States)",
    )
    free = type(gear)(GearHeader(format=1, holds="gear", name="x"), gear.items)
    assert date_rows(item("tank"), free)[1] == "tested 3 November 2021"


def test_what_to_get_has_its_ends_and_threads() -> None:
    (shortage, lead) = looked()[2][0][1].shortages
    assert format_shortage(shortage, METRIC) == (
        "1 × hose, 210 cm (84 in), rubber: LP 3/8 (male 3/8-24 UNF) to second stage 9/16 (female 9/16-18 UNF)"
    )
    assert format_shortage(lead, METRIC) == "2 × lead, 1.0 kg a piece"
    assert format_shortage(lead, IMPERIAL) == "2 × lead, 2.2 lb a piece"


def test_a_hose_measured_without_its_ends_says_so() -> None:
    (shortage,) = needs_of(resolve(kit(hose(measured="hose only"))), gear()).shortages
    assert "75 cm (30 in) without its ends" in format_shortage(shortage, METRIC)


def test_what_has_to_be_clean_says_so() -> None:
    """29 CFR 1910.430: gear for more than 40 % oxygen is cleaned for it."""
    rich = Cylinder(tag="tank", preset="steel 12 L 232 long", oxygen=0.5)
    stage = FirstStage(tag="first", preset="brass, DIN, 4 LP 2 HP", on="tank")
    mine = gear(OwnedFirstStage(tag="grey", preset=stage.preset))
    (shortage,) = needs_of(resolve(kit(rich, stage)), mine).shortages
    assert format_shortage(shortage, METRIC) == "1 × first stage, brass, DIN, 4 LP 2 HP, clean for oxygen"


def test_all_there_is_to_say_about_a_item() -> None:
    look, uses, _ = looked()
    number = [entry.tag for entry in look.gear.items].index("B75")
    assert detail_lines(look, number, uses, METRIC) == [
        "Used: reef.toml (primary hose)",
        "CAUTION: replacement of a rubber hose has been due since 1 May 2026: 5 years after it was made on 1 May 2021, "
        "by custom. Rubber hardens and cracks with the years, from inside as well. Some wait until 1 May 2028, but no "
        "longer. Replace the hose, however good it looks. Until then bend it every few centimetres, and slide the "
        "sleeves back to see the crimps.",
        "Made 1 May 2021: due 1 May 2026 (custom)",
    ]
    first = detail_lines(look, 1, uses, METRIC)
    assert first[0] == "Used: in no kit"
    assert any(line.startswith("Not checked: when it was cleaned is not told") for line in first)
    assert "To be watched; clean for oxygen; kept in box" in first


# ---- the text ----


def test_the_text() -> None:
    text = printed()
    assert text.startswith(
        "gear.toml\ncellar · 10 items · on 15 January 2027 · rules of United States\n\nhose, 1\n  B75"
    )
    assert "  WARNING  tank: due (line 26)\n           pressure test by rule, US has been due since" in text
    assert "Findings: 1 warning, 1 caution, 1 notice" in text
    assert "Not checked: 2" in text
    assert "Set serviced (line 52)." in " ".join(text.split())
    assert "To get, for each kit by itself\n  reef.toml, Reef\n    1 × hose, 210 cm (84 in), rubber: " in text
    assert "for long hose" in text


@pytest.mark.parametrize("system", System)
def test_no_line_is_longer_than_the_page(system: System) -> None:
    assert max(map(len, printed(system).splitlines())) <= 100


def test_kinds_stand_in_one_order_whatever_the_file() -> None:
    heads = [line.partition(",")[0] for line in printed().splitlines() if line and not line.startswith(" ")]
    titles = [record.title for record in GEAR_KINDS.values()]
    kinds = [head for head in heads if head in titles]
    assert kinds == sorted(kinds, key=titles.index)
    assert len(kinds) == 10


def test_a_gear_file_that_no_kit_names() -> None:
    look, _, _ = looked()
    assert NO_KITS in gear_text("gear.toml", look, {}, [], METRIC)


def test_an_empty_gear_file() -> None:
    reading = parse_as(TEXT[: TEXT.index("\n[[")], GEAR_FILE)
    assert reading.gear is not None
    text = gear_text("x", report_on_gear(reading.gear, DAY, {}, reading.lines), {}, [], METRIC)
    assert "nothing in it yet" in text
    assert "Findings: none" in text


def test_what_a_terminal_would_obey_is_written_out() -> None:
    """Every word of the file may hold an escape."""
    text = TEXT.replace('"B75"', '"B\\u001b[31m"').replace('"box"', '"b\\u202eox"').replace('"cellar"', '"c\\u0007"')
    reading = parse_as(text, GEAR_FILE)
    assert reading.gear is not None
    look = report_on_gear(reading.gear, DAY, {}, reading.lines)
    shown = gear_text("gear.toml", look, {"B\x1b[31m": (Use("r\x1b.toml", "h\x1b"),)}, [], METRIC)
    for number in range(len(look.gear.items)):
        shown += "".join(detail_lines(look, number, {}, METRIC))
    assert all(character.isprintable() or character == "\n" for character in shown)


# ---- for programs ----


def test_the_json() -> None:
    look, uses, needs = looked()
    found = json.loads(json.dumps(gear_json("gear.toml", look, uses, needs, METRIC)))
    assert (found["file"], found["holds"], found["day"], found["region"]) == (
        "gear.toml",
        "gear",
        "2027-01-15",
        "United States",
    )
    tank = found["items"][2]
    assert tank["dates"] == {"inspected": "2026-05-14", "tested": "2021-11-03"}
    assert [(due["on"], due["region"], due["is_due"]) for due in tank["due"]] == [
        ("2026-11-03", "United States", True),
        ("2027-05-14", None, False),
    ]
    assert found["items"][0]["used"] == [{"file": "reef.toml", "tag": "primary hose"}]
    assert [(row["item"], row["signal"]) for row in found["findings"]] == [
        ("tank", "warning"),
        ("B75", "caution"),
        ("grey", "notice"),
    ]
    assert {row["line"] for row in found["not_checked"]} == {14, 52}
    (reef,) = found["kits"]
    assert reef["taken"] == {"primary hose": "B75"}
    assert [(row["kind"], row["pieces"], row["for"]) for row in reef["to_get"]] == [
        ("hose", 1, ["long hose"]),
        ("lead", 2, ["belt"]),
    ]
    assert reef["to_get"][0]["device_end"] == {
        "name": "second stage 9/16",
        "joint": "9/16-18 UNF",
        "gender": "female",
    }


# ---- forms ----


def test_the_rows_of_a_form_say_when_it_is_due() -> None:
    gear = read().gear
    assert gear is not None
    rows = {row.field.key: row for row in gear_rows(gear, {"made": "2021-05"}, 0, METRIC)}
    assert rows["made"].note == "due 1 May 2026"
    assert rows["condition"].note == "in order, unless said"
    assert rows["cleaned"].note == "not told"
    header = {row.field.key: row for row in gear_rows(gear, {}, None, METRIC)}
    assert header["region"].note == "custom alone"


def test_what_a_preset_tells() -> None:
    """A brass gauge weighs 0.15 to 0.3 kg in the catalogue."""
    gauge = OwnedGauge(tag="gauge", preset="brass gauge")
    assert default_in_gear(gauge, field_named(OwnedGauge, "mass"), METRIC) == "0.15 kg to 0.30 kg, preset"
    assert default_in_gear(gauge, field_named(OwnedGauge, "inlet"), METRIC) == "gauge swivel, preset"
    assert default_in_gear(gauge, field_named(OwnedGauge, "make"), METRIC) == ""
    bare = OwnedGauge(tag="gauge")
    assert default_in_gear(bare, field_named(OwnedGauge, "mass"), METRIC) == ""


def test_a_day_is_told_in_words_while_it_is_typed() -> None:
    gear = read().gear
    assert gear is not None
    field = field_named(type(gear.items[0]), "made")
    assert typed_note(gear, 0, field, METRIC) == "1 May 2021"


def test_what_a_item_may_be_kept_in() -> None:
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


def test_what_a_item_of_a_kit_may_be() -> None:
    """The items of its kind in the gear file, each with what it is."""
    assert [choice.word for choice in owned_choices(read().gear, "gauge", METRIC)] == ["console"]
    assert owned_choices(read().gear, "hose", METRIC)[0].note == "75 cm rubber, LP 3/8 to second stage 9/16"
    assert owned_choices(None, "hose", METRIC) == ()


@pytest.mark.parametrize(
    ("key", "line", "told"),
    [
        ("mass", 'mass = "0.2 kg"', "0.20 kg, from the gear file"),
        ("make", 'make = "grey"', "grey, from the gear file"),
        ("swivel_pin", "swivel_pin = true", "yes, from the gear file"),
        ("to_end", "", "second stage 9/16, from the gear file"),
        ("bore", "", "6.4"),
    ],
)
def test_what_the_gear_file_tells_of_a_item_of_a_kit(key: str, line: str, told: str) -> None:
    """Where the kit says nothing; what neither says is as usual: 6.4 mm is the bore of a rubber hose."""
    gear = parse_as(TEXT.replace('made     = "2021-05"', line), GEAR_FILE).gear
    assessment = assessed(KIT)
    found = assessed(KIT, assessment.kit.linked._replace(gear=gear))
    field = field_named(type(found.kit.items[0]), key)
    taken = format_default(default_in_kit(found, 0, field), METRIC)
    assert taken.startswith(told)
    assert taken.endswith("from the gear file") == ("from the gear file" in told)
