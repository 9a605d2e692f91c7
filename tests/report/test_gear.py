"""The page of a gear file: dates, what is due, where items are used, what to buy."""

import re
from datetime import date

import jsonschema
import pytest

from kitbuilder.assess.gear.gear import GearReport, report_on_gear
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.gear import GEAR_KINDS, GearHeader, Owned, OwnedFirstStage
from kitbuilder.kit.items import Cylinder, FirstStage
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kitfile.reader import ParseResult, parse_as
from kitbuilder.plans.gear import Needs, Use, Uses, kits_using, needs_of, uses_of
from kitbuilder.report.gear import NO_KITS, SHAPE, gear_file_page, gear_page, item_page, needs_section, owned_list
from kitbuilder.report.gear_form import format_owned
from kitbuilder.report.numbers import System
from kitbuilder.report.owned import date_words
from kitbuilder.report.page import Page
from kitbuilder.report.shapes import DEFINITIONS
from kitbuilder.report.words import GEAR_CAUTION
from tests.assess.kits import kit_of
from tests.plans.test_gear import gear, hose, kit
from tests.report.pages import page_json, page_text

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


def page() -> Page:
    look, uses, needs = looked()
    return gear_page("gear.toml", look, uses, needs)


def flat(text: str) -> str:
    return " ".join(text.split())


def to_buy(found: ResolvedKit, *owned: Owned, system: System = METRIC) -> str:
    """What one kit needs more than a gear file of these items."""
    need = needs_of(found, gear(*owned))
    return flat(page_text(Page([needs_section([("kit.toml", need)])]), system, 200))


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
def test_what_an_item_is(tag: str, words: str) -> None:
    assert format_owned(item(tag), METRIC) == words


def test_what_a_hose_is_in_inches() -> None:
    """75 cm are 29.5 in."""
    assert format_owned(item("B75"), IMPERIAL).startswith("29.5 in rubber")


def test_dates_and_when_they_run_out() -> None:
    """Five years after 3 November 2021; a year after 14 May 2026; common practice asks for no pressure test."""
    gear = read().gear
    assert gear is not None
    assert date_words(item("tank"), gear) == {
        "inspected": "14 May 2026, due 14 May 2027",
        "tested": "3 November 2021, due 3 November 2026 by rule",
    }
    free = type(gear)(GearHeader(format=1, holds="gear", name="x"), gear.items)
    assert date_words(item("tank"), free)["tested"] == "3 November 2021"


def test_what_to_buy_has_its_ends_and_threads() -> None:
    """The kit has six pieces of 1 kg, the gear file four; 1 kg is 2.2 lb."""
    needs = looked()[2]
    metric, imperial = (flat(page_text(Page([needs_section(needs)]), system, 200)) for system in System)
    assert (
        "1 × hose, 210 cm (84 in), rubber LP 3/8 (male 3/8-24 UNF) to second stage 9/16 (female 9/16-18 UNF) "
        'For "long hose"'
    ) in metric
    assert "1 × hose, 84 in (210 cm), rubber" in imperial
    assert '2 × lead, 1.0 kg each For "belt"' in metric
    assert "2 × lead, 2.2 lb each" in imperial


def test_a_hose_measured_without_its_ends_says_so() -> None:
    assert "75 cm (30 in) without its ends, rubber" in to_buy(resolve(kit(hose(measured="hose only"))))


def test_what_has_to_be_clean_says_so() -> None:
    """29 CFR 1910.430: gear for more than 40 % oxygen is cleaned for it."""
    rich = Cylinder(tag="tank", preset="steel 12 L 232 long", oxygen=0.5)
    stage = FirstStage(tag="first", preset="brass, DIN, 4 LP 2 HP", on="tank")
    grey = OwnedFirstStage(tag="grey", preset=stage.preset)
    assert "1 × first stage, brass, DIN, 4 LP 2 HP, clean for oxygen" in to_buy(resolve(kit(rich, stage)), grey)


def test_all_there_is_to_say_about_an_item() -> None:
    look, uses, _ = looked()
    number = [entry.tag for entry in look.gear.items].index("B75")
    caution, _, finding, _, *fields = page_text(item_page(look, number, uses), width=1000).splitlines()
    assert caution == GEAR_CAUTION
    assert finding == (
        'CAUTION  "B75": replacement of a rubber hose has been due since 1 May 2026: 5 years after it was made on '
        "1 May 2021, by common practice. Some wait until 1 May 2028. Rubber hardens and cracks with age, "
        "also from inside. Replace the hose, however good it looks. Until then bend it every few "
        "centimetres, and slide the sleeves back to see the crimps. (rule of thumb)"
    )
    assert fields == ["used  reef.toml (primary hose)", "made  1 May 2021, due 1 May 2026"]
    first = page_text(item_page(look, 1, uses), width=200).splitlines()
    assert "used      in no kit" in first
    assert "state     to be watched; clean for oxygen; kept in box" in first
    assert any(line.startswith("unchecked ") and "when the item was cleaned" in line for line in first)


def test_the_list_has_the_gear_file_first() -> None:
    """Then its items in the order of the file."""
    head, *rows = page_text(Page([owned_list(looked()[0].gear)]), width=200).splitlines()
    assert head.split() == ["item", "what", "it", "is"]
    assert [row.split("  ")[0] for row in rows] == [
        "gear", "B75", "grey", "tank", "hood", "plugs", "elbow", "rings", "lead", "console", "box",
    ]  # fmt: skip
    assert rows[0].endswith("  cellar")
    assert rows[5].endswith("  3 × 3/8-24 UNF")


# ---- the text ----


def test_the_text() -> None:
    text = page_text(page())
    assert text.startswith(
        "gear.toml\ncellar · 10 items · on 15 January 2027 · rules of United States\n\n"
        "Findings: 1 warning, 1 caution, 1 notice\n"
        '  WARNING  "tank": due (line 26)\n           Pressure test by rule, US has been due since'
    )
    assert "Not checked: 2\n" in text
    assert "Set serviced (line 52)." in flat(text)
    assert "To buy, for each kit by itself\n  reef.toml, Reef\n    1 × hose, 210 cm (84 in), rubber\n" in text
    assert 'For "long hose"' in text
    assert "never certifies" in text


def test_what_is_due_next_stands_soonest_first() -> None:
    """By hand: a test of November 2021 holds five years, rubber of May 2021 too, a service of 2026 one year."""
    look, uses, needs = looked()
    found = page_json(gear_page("gear.toml", look, uses, needs))["next_due"]
    assert [row["on"] for row in found] == sorted(row["on"] for row in found)
    tank, hose_row = (next(row for row in found if row["tag"] == tag) for tag in ("tank", "B75"))
    assert (tank["on"], tank["is_due"]) == ("2026-11-03", True)
    assert (hose_row["on"], hose_row["is_due"]) == ("2026-05-01", True)
    assert found[0]["tag"] == "B75"
    assert "Due next, the soonest first" in page_text(gear_file_page(look, needs))


def test_the_items_stand_in_a_table_for_each_kind() -> None:
    """With the columns that any of them fills."""
    lines = page_text(page(), width=200).splitlines()
    tables = {title: lines[number + 1 :] for number, title in enumerate(lines)}
    rows = {title: [re.split(r"\s{2,}", row.strip()) for row in below[:2]] for title, below in tables.items()}
    assert rows["hose, 1"] == [
        ["item", "what", "made", "used in"],
        ["B75", "75 cm rubber, LP 3/8 to second stage 9/16", "1 May 2021, due 1 May 2026", "reef.toml (primary hose)"],
    ]
    assert rows["plug, 1"] == [["item", "pieces", "what"], ["plugs", "3", "3/8-24 UNF"]]
    assert rows["cylinder, 1"] == [
        ["item", "what", "inspected", "tested", "used in"],
        [
            "tank",
            "steel 12 L 232 long",
            "14 May 2026, due 14 May 2027",
            "3 November 2021, due 3 November 2026 by rule",
            "in no kit",
        ],
    ]
    assert rows["first stage, 1"][1][1] == "brass, DIN, 4 LP 2 HP; to be watched; clean for oxygen; kept in box"
    assert rows["other item, 1"] == [["item", "used in"], ["box", "in no kit"]]


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [60, 80, 100])
def test_no_line_is_longer_than_the_page_and_no_word_is_divided(system: System, width: int) -> None:
    text = page_text(page(), system, width)
    assert max(map(len, text.splitlines())) <= width
    assert set(text.split()) <= set(page_text(page(), system, 1000).split())


def test_kinds_stand_in_one_order_whatever_the_file() -> None:
    heads = [line.partition(",")[0] for line in page_text(page()).splitlines() if line and not line.startswith(" ")]
    titles = [record.title for record in GEAR_KINDS.values()]
    kinds = [head for head in heads if head in titles]
    assert kinds == sorted(kinds, key=titles.index)
    assert len(kinds) == 10


def test_a_gear_file_that_no_kit_names() -> None:
    look, _, _ = looked()
    assert NO_KITS in page_text(gear_page("gear.toml", look, {}, []))
    assert NO_KITS in page_text(gear_file_page(look, []))


def test_a_kit_that_needs_nothing_more() -> None:
    look, uses, _ = looked()
    needs = [("reef.toml", Needs("Reef", (), ()))]
    assert "reef.toml: nothing, all of it is owned" in page_text(gear_page("gear.toml", look, uses, needs))


def test_an_empty_gear_file() -> None:
    reading = parse_as(TEXT[: TEXT.index("\n[[")], GEAR_FILE)
    assert reading.gear is not None
    text = page_text(gear_page("x", report_on_gear(reading.gear, DAY, {}, reading.lines), {}, []))
    assert "nothing in it yet" in text
    assert "Findings: none" in text


def test_what_a_terminal_would_obey_is_written_out() -> None:
    """Every word of the file may hold an escape."""
    text = TEXT.replace('"B75"', '"B\\u001b[31m"').replace('"box"', '"b\\u202eox"').replace('"cellar"', '"c\\u0007"')
    reading = parse_as(text, GEAR_FILE)
    assert reading.gear is not None
    look = report_on_gear(reading.gear, DAY, {}, reading.lines)
    uses: Uses = {"B\x1b[31m": (Use("r\x1b.toml", "h\x1b"),)}
    (lack,) = [shortage for shortage in looked()[2][0][1].shortages if shortage.hose]
    needs = [("r\x1b.toml", Needs("n\x07", (), (lack._replace(tags=("t\x1b",)),)))]
    shown = page_text(gear_page("gear.toml", look, uses, needs)) + page_text(gear_file_page(look, needs))
    for number in range(len(look.gear.items)):
        shown += page_text(item_page(look, number, uses))
    assert all(character.isprintable() or character == "\n" for character in shown)


# ---- for programs ----


def test_the_json() -> None:
    found = page_json(page())
    jsonschema.validate(found, SHAPE | {"$defs": DEFINITIONS})
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
    hose, plugs = found["items"][0], found["items"][4]
    assert hose["what"] == "75 cm rubber, LP 3/8 to second stage 9/16"
    assert (plugs["what"], plugs["pieces"], plugs["condition"]) == ("3 × 3/8-24 UNF", 3, "in order")
    assert hose["used"] == [{"file": "reef.toml", "tag": "primary hose"}]
    assert [(row["item"], row["signal"]) for row in found["findings"]] == [
        ("tank", "warning"),
        ("B75", "caution"),
        ("grey", "notice"),
    ]
    assert {row["line"] for row in found["not_checked"]} == {14, 52}


def test_the_json_of_what_a_kit_needs() -> None:
    """The piece of lead is 1 kg, the hose 2.1 m."""
    (reef,) = page_json(page())["kits"]
    assert (reef["file"], reef["name"], reef["taken"]) == ("reef.toml", "Reef", {"primary hose": "B75"})
    long, lead = reef["to_buy"]
    assert (long["kind"], long["pieces"], long["for"], long["mass_kg"]) == ("hose", 1, ["long hose"], None)
    assert (long["length_m"], long["measured"], long["body"]) == (2.1, "end to end", "rubber")
    assert long["device_end"] == {"name": "second stage 9/16", "joint": "9/16-18 UNF", "gender": "female"}
    assert (lead["kind"], lead["pieces"], lead["for"], lead["mass_kg"]) == ("lead", 2, ["belt"], 1.0)
    assert (lead["length_m"], lead["device_end"]) == (None, None)
