"""The balance as a section: text and JSON say what was worked out, to the last digit that is shown."""

import json
import re
from typing import Any

import jsonschema
import pytest

from kitbuilder.assess.buoyancy.balance import Balance, Moment
from kitbuilder.assess.buoyancy.buoyancy_model import Switches, switches_of
from kitbuilder.assess.buoyancy.lead_pieces import Pieces, format_pieces, lead_to_take
from kitbuilder.assess.figures import Figure
from kitbuilder.kit.resolved import NOTHING_LINKED, LinkedFiles, resolve
from kitbuilder.plans.ballast import what_if
from kitbuilder.report.balance import (
    BALANCE,
    WHAT_IF_WORDS,
    balance_section,
    details_page,
    format_asked,
    lead_page,
    switch_hints,
)
from kitbuilder.report.numbers import System, digits, shown, with_spread
from kitbuilder.report.page import Page
from kitbuilder.report.shapes import DEFINITIONS
from tests.assess.kits import PLAIN, WHOLE, WRONG, balance_of, beside, float_check, kit_of, shipped, swapped, without
from tests.assess.kits import with_header as headed
from tests.report.pages import page_json, page_text

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
ALL = [*WHOLE, WRONG]
PANE = 78
"""Columns of the pane of details in a terminal of 80, beside its scroll bar."""
EVIL = "\x1b[2J\u202e[red]x"


def of_config(name: str) -> Balance:
    """The balance of a kit that comes with the program."""
    found = shipped(name).balance
    assert found is not None
    return found


def plain(*, lead_kg: float | None = None, around: LinkedFiles | None = None, **header: object) -> Balance:
    """The balance of the plain kit, with so much lead in one piece unless it stays as it is."""
    kit = headed(kit_of(PLAIN), **header)
    if lead_kg is not None:
        kit = swapped(kit, "belt", mass_kg=lead_kg, pieces=1)
    return balance_of(kit, around)


def section_text(balance: Balance, system: System = METRIC, width: int = 100) -> str:
    return page_text(Page([balance_section(balance)]), system, width)


def on_one_line(text: str) -> str:
    return " ".join(text.split())


def lead_words(balance: Balance, system: System = METRIC) -> str:
    return on_one_line(page_text(lead_page(balance), system))


def data_of(balance: Balance) -> dict[str, Any]:
    """As a program reads it, after a trip through JSON and held against its shape."""
    data: dict[str, Any] = json.loads(json.dumps(page_json(Page([balance_section(balance)])), allow_nan=False))[
        "balance"
    ]
    jsonschema.Draft202012Validator({**BALANCE, "$defs": DEFINITIONS}).validate(data)
    return data


def rows_below(text: str, head: str) -> list[list[str]]:
    """The cells of the rows of a table of one line each, from the line after its head to the next blank line."""
    lines = text.splitlines()
    start = next(number for number, line in enumerate(lines) if line.strip().startswith(head)) + 1
    end = next((number for number in range(start, len(lines)) if not lines[number].strip()), len(lines))
    return [re.split(r"  +", line.strip()) for line in lines[start:end]]


# --- the lead ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_lead_is_shown_with_its_spread(name: str, system: System) -> None:
    """To a tenth of a kilogram or of a pound at most, first of all, and the pieces to take with it."""
    found = of_config(name)
    lead, pieces = with_spread(found.lead, "lead", system), getattr(found.pieces.words, system.value)
    assert re.fullmatch(r"−?\d+\.\d ± \d\.\d (kg|lb)|−?\d+ ± \d\d (kg|lb)", lead)
    ready = found.ready_kg and shown(found.ready_kg, "lead", system)
    more = f"; have {ready} ready for a check" if ready else ""
    assert page_text(lead_page(found), system).splitlines()[0] == f"{lead}; take {pieces}{more}"
    lines = section_text(found, system).splitlines()
    assert lines[1].split() == ["lead", "needed", *lead.split()]
    assert lines[2].split() == ["pieces", "to", "take", *pieces.split()]


def test_pieces_that_may_not_hold_the_stop_are_not_all_that_is_said() -> None:
    """The likely lead holds it in half of all cases; two checks that agree take the doubt away."""
    assert found_ready(of_config("twinset")) is not None
    twice = balance_of(kit_of(PLAIN), beside(float_check("a", lead_kg=5.8), float_check("b", lead_kg=5.8)))
    assert found_ready(twice) is None


def found_ready(balance: Balance) -> float | None:
    """The lead to have ready, as JSON has it; text and JSON say it or leave it out together."""
    said = "lead to have ready" in section_text(balance)
    data = data_of(balance)["lead_ready_kg"]
    assert said is (data is not None)
    return data


@pytest.mark.parametrize(
    ("counts", "words"),
    [
        (((1.0, 5),), "5 × 1 kg"),
        (((2.0, 2), (0.5, 1)), "2 × 2 kg + 1 × 0.5 kg"),
        (((0.45359237 * 2, 3),), "3 × 2 lb"),
        (((0.45359237 * 3, 1), (0.45359237, 2)), "1 × 3 lb + 2 × 1 lb"),
        (((10.0, 1),), "1 × 10 kg"),
        ((), "no lead"),
    ],
)
def test_pieces_are_counted_by_what_is_cast_on_them(counts: tuple[tuple[float, int], ...], words: str) -> None:
    """Kilograms or pounds, whatever the reader's units; without the zeros behind the point."""
    pieces = Pieces(sum(size * count for size, count in counts), counts)
    assert format_pieces(pieces) == words


def test_the_sentence_says_how_far_the_lead_carried_is_off() -> None:
    """More, less, the same, or needless."""
    needed = plain().lead.value
    assert "The kit carries 0.0 kg, " in lead_words(plain(lead_kg=1e-6))
    assert " kg, 2.0 kg more than needed." in lead_words(plain(lead_kg=needed + 2))
    assert " kg, 2.0 kg less than needed." in lead_words(plain(lead_kg=needed - 2))
    assert " kg, as much as needed." in lead_words(plain(lead_kg=needed + 0.01))
    heavy = balance_of(swapped(kit_of(PLAIN), "tank", preset=None, metal="steel", volume_m3=12e-3, mass_kg=30.0,
                               working_pressure_pa=232e5))  # fmt: skip
    assert heavy.lead.value < 0
    said = lead_words(heavy)
    too_heavy = shown(-heavy.lead.value, "lead", METRIC)
    assert f"Without any lead, diver and kit are {too_heavy} too heavy to be neutral at 5 m" in said
    assert " The kit carries 6.0 kg. " in said


def test_no_lead_is_needed_rather_than_less_than_none() -> None:
    """A reader who sees "-2.7 kg" takes it for a slip; programs get the number."""
    heavy = plain()._replace(lead=Figure(-2.7, {"all": 3.1}, ""), pieces=lead_to_take(-2.7))
    assert re.search(r"lead needed +none \(2\.7 ± 3\.1 kg too heavy\)", section_text(heavy))
    assert page_text(lead_page(heavy)).startswith("none (2.7 ± 3.1 kg too heavy)\n")
    assert data_of(heavy)["lead_needed_kg"]["value"] == -2.7


@pytest.mark.parametrize(
    ("system", "words"),
    [(METRIC, "to be neutral at 5 m with 50 bar left"), (IMPERIAL, "to be neutral at 16 ft with 725 psi left")],
)
def test_the_sentence_says_when_it_is_neutral(system: System, words: str) -> None:
    """At the stop, with the reserve, in the kit's water: 50 bar are 725 psi, 5 m are 16 ft."""
    assert f"Needed {words} and an empty wing, in ocean water." in lead_words(plain(), system)


def test_where_the_answer_comes_from_is_said() -> None:
    """A diver of whom nothing is known, one with a body, one with float checks; and a file that cannot be used."""
    assert "For an average diver; a diver file and" in lead_words(plain(around=NOTHING_LINKED))
    assert "Estimated from stature and mass; a float check" in lead_words(plain())
    assert "Based on 1 float check and" in lead_words(plain(around=beside(float_check())))
    two = beside(float_check(), float_check("other"), float_check("third", excluded=True))
    assert "Based on 2 float checks and" in lead_words(plain(around=two))
    broken = plain(around=LinkedFiles("own.toml", diver_problems=(f"diver.toml:3: {EVIL}", "more")))
    assert r"The diver file cannot be used: diver.toml:3: \x1b[2J\u202e[red]x" in lead_words(broken)


@pytest.mark.parametrize(("sex", "is_said"), [("male", False), ("female", True), (None, True)])
def test_what_is_assumed_of_women_stands_beside_their_lead(sex: str | None, is_said: bool) -> None:
    """The flotation of 98 men is all that was published; where it may be a woman, that is said."""
    said = lead_words(plain(around=beside(sex=sex)))
    assert ("Only men were measured: how women float is assumed." in said) == is_said


# --- the rows ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_moments_are_shown_as_worked_out(name: str, system: System) -> None:
    """Depth, what the gauges show, buoyancy with its spread, and the same with a full wing."""
    found = of_config(name)
    assert found.buoyancy_model.lift is not None
    for moment, row in zip(found.moments, rows_below(section_text(found, system), "moment "), strict=True):
        full = moment.buoyancy.value + found.buoyancy_model.lift.value
        assert row[0] == moment.name
        assert row[1] == shown(moment.depth_m, "depth", system)
        assert " ".join(row[3:-2]).split() == with_spread(moment.buoyancy, "lift", system).split()
        assert row[-2] == shown(full, "lift", system)


def test_each_pressure_is_named_once() -> None:
    """Two cylinders of 230 bar and a stage of 200: two pressures."""
    gauges = [row[2] for row in rows_below(section_text(of_config("twinset")), "moment ")]
    assert gauges == [
        "230, 200 bar", "230, 200 bar", "160, 133 bar", "60, 50 bar", "60, 50 bar", "60, 50 bar"
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("buoyancy", "words"),
    [
        (0.1, "floats up"),
        (0.04, "neutral"),  # shown as 0.0 kg
        (0.0, "neutral"),
        (-0.04, "neutral"),
        (-0.1, "wing under 1 % full"),
        (-9.0, "wing 49 % full"),
        (-18.4, "wing over 99 % full"),
        (-20.47, "wing lacks 2.0 kg"),
    ],
)
def test_what_the_wing_must_hold(buoyancy: float, words: str) -> None:
    """A bladder of 18 kg of fresh water lifts 18.47 kg in the sea: 1025 over 999."""
    found = plain()
    moments = tuple(moment._replace(buoyancy=Figure(buoyancy, {}, "")) for moment in found.moments)
    first = rows_below(page_text(details_page(found._replace(moments=moments))), "moment ")[0]
    assert first[-1] == words


def test_a_kit_without_a_bladder_says_so() -> None:
    """Nothing is shown for a full wing that is not there."""
    found = balance_of(kit_of(without(PLAIN, "wing")))
    text = page_text(details_page(found))
    assert {row[-1] for row in rows_below(text, "moment ")} <= {"lift not given", "floats up"}
    assert {moment["wing_full_kgf"] for moment in data_of(found)["moments"]} == {None}
    assert all(line == line.rstrip() for line in text.splitlines())


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_moments_stand_in_columns(name: str, system: System) -> None:
    """Signs of ± and decimal points below each other, whatever the gauges show."""
    lines = section_text(of_config(name), system).splitlines()
    start = next(number for number, line in enumerate(lines) if line.strip().startswith("moment ")) + 1
    rows = lines[start : start + 6]
    assert len({row.index(" ± ") for row in rows}) == 1
    words = [re.search(r"  (wing|jacket|floats|lift) ", row) for row in rows]
    assert len({found.start() for found in words if found}) == 1


@pytest.mark.parametrize("name", ["cold-single", "warm-single", "sidemount"])
def test_the_heads_of_the_moments_take_one_line_of_a_small_terminal(name: str) -> None:
    """Their title says that it is buoyancy; two lines of heads push the stop out of the pane."""
    found = of_config(name)
    lines = page_text(details_page(found), METRIC, 78).splitlines()
    head = lines[lines.index("Buoyancy over the dive") + 1]
    expected = ["moment", "depth", "gas left", f"{found.bladder} empty", f"{found.bladder} full", "to be neutral"]
    assert re.split(r"  +", head.strip()) == expected


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_every_what_if_is_listed(name: str, system: System) -> None:
    """What fails, when, and how all floats then."""
    found = of_config(name)
    rows = rows_below(section_text(found, system), "if ")
    assert len(rows) == len(found.what_ifs) > 0
    for asked, row in zip(found.what_ifs, rows, strict=True):
        assert row[0] == WHAT_IF_WORDS[asked.name].format(bladder=found.bladder)
        assert row[1] == shown(asked.depth_m, "depth", system)
        assert " ".join(row[3:]).split() == with_spread(asked.buoyancy, "lift", system).split()


def test_the_what_ifs_of_the_twinset() -> None:
    """It has a wing, a drysuit and a stage, and no lead that can be dropped."""
    names = [row[0] for row in rows_below(section_text(of_config("twinset")), "if ")]
    assert names == ["the wing fails", "the drysuit floods", "the stages are lost"]
    names = [row[0] for row in rows_below(section_text(of_config("cold-single")), "if ")]
    assert names == ["the wing fails", "the drysuit floods", "all droppable lead is dropped"]


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_next_steps_with_what_they_leave(name: str, system: System) -> None:
    """What narrows the lead most first, each to a tenth."""
    found = of_config(name)
    rows = rows_below(section_text(found, system), "what to do")
    assert len(rows) == len(found.measurement_priorities) > 0
    for step, row in zip(found.measurement_priorities, rows, strict=True):
        assert row == [step.what, shown(step.spread_after_kg, "lead", system)]


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({}, r"floated \d+\.\d kg (more|less) than computed"),
        ({"excluded": True}, r"not counted, the diver file excludes it; floated \d+\.\d kg (more|less) than computed"),
        ({"seen": "sank"}, r"not counted: .*how much lead was added or taken off.*"),
        ({"kit": "gone.toml"}, r"not counted: .*gone\.toml.* cannot be read"),
    ],
)
def test_what_a_float_check_says(keys: dict[str, Any], words: str) -> None:
    """Whether it counts, and why not."""
    found = plain(around=beside(float_check("pier", **keys)))
    [(tag, *result)] = rows_below(section_text(found, width=200), "float check ")
    assert tag == "pier"
    assert re.fullmatch(words, " ".join(result))


@pytest.mark.parametrize(("lead_kg", "off_kg", "way"), [(2.0, 3.3, "less"), (8.0, 2.2, "more")])
def test_how_much_more_or_less_it_floated(lead_kg: float, off_kg: float, way: str) -> None:
    """By hand: the plain kit floats by 5.1 kg without lead, each part to 0.1 kg; the sea leaves 0.91 of lead."""
    [(_, words)] = rows_below(section_text(plain(around=beside(float_check(lead_kg=lead_kg)))), "float check ")
    found = re.match(r"floated (\d+\.\d) kg (less|more) than computed", words)
    assert found is not None
    assert (float(found[1]), found[2]) == (pytest.approx(off_kg, abs=0.25), way)


def test_float_checks_that_contradict_each_other_say_so() -> None:
    """The same kit cannot be neutral with 2 kg and with 12."""
    found = plain(around=beside(float_check("one", lead_kg=2.0), float_check("other", lead_kg=12.0)))
    rows = rows_below(section_text(found), "float check ")
    assert [row[0] for row in rows] == ["one", "other"]
    assert all(row[1].endswith("; contradicts the rest") for row in rows)


def test_no_float_check_has_no_rows() -> None:
    """And no heading of none."""
    assert data_of(plain())["float_checks"] == []
    assert "Float checks" not in section_text(plain())


# --- all of it --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [60, PANE, 100])
@pytest.mark.parametrize("name", ALL)
def test_nothing_is_wider_than_the_page(name: str, width: int, system: System) -> None:
    """Every width has every word, except that blocks of rows have no head for what names them."""
    lines = section_text(of_config(name), system, width).splitlines()
    assert max(map(len, lines)) <= width
    narrow, wide = (set(section_text(of_config(name), system, at).split()) for at in (width, 100))
    assert wide - narrow <= {"moment"}


def test_the_details_have_every_part() -> None:
    """Moments, what ifs, trim, float checks, steps, and what is left out."""
    kit = kit_of(PLAIN + f"\n[[other]]\ntag = {json.dumps(EVIL)}\n")
    text = page_text(details_page(balance_of(kit, beside(float_check("pier")))))
    assert "at the stop" in text
    assert re.search(r"the wing fails +30 m +207 bar ", text)
    assert "Trim at the stop" in text
    assert re.search(r"pier +floated ", text)
    assert r'Left out, since it is not known how they float: "\x1b[2J\u202e[red]x".' in text
    assert "What to weigh next, and how much it narrows the lead" in text
    assert all(line.isprintable() for line in text.splitlines())


def test_what_was_asked_is_named() -> None:
    """Water and cylinders in place of the kit's own."""
    assert format_asked("fresh", "steel 10 L 232") == "in fresh water, with steel 10 L 232"
    assert format_asked("fresh", None) == "in fresh water"
    assert format_asked(None, "steel 10 L 232") == "with steel 10 L 232"
    assert format_asked(None, None) == ""


@pytest.mark.parametrize(
    ("name", "switches", "hints"),
    [
        ("warm-single", ("lead_dropped",), "1 jacket full  3 lead dropped  0 as it is"),
        ("cold-single", ("suit_flooded", "lead_dropped"), "1 wing full  2 suit flooded  3 lead dropped  0 as it is"),
        ("twinset", ("suit_flooded", "stages_lost"), "1 wing full  2 suit flooded  4 stages lost  0 as it is"),
        ("wrong-on-purpose", (), "1 jacket full  0 as it is"),
    ],
)
def test_only_what_would_change_anything_can_be_asked(name: str, switches: tuple[str, ...], hints: str) -> None:
    """A kit without a drysuit has none to flood."""
    kit = shipped(name).kit
    assert switches_of(kit) == switches
    keys = {"wing_full": "1", "suit_flooded": "2", "lead_dropped": "3", "stages_lost": "4", "as_it_is": "0"}
    found = switch_hints(kit, keys.__getitem__)
    assert found == f"What if:  {hints}"
    assert len(found) <= PANE


def asked_of(name: str, switches: Switches) -> Balance:
    kit = shipped(name).kit
    found = what_if(resolve(kit, kit.linked), None, None, switches)
    assert found is not None
    return found


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("switches", [Switches(suit_flooded=True), Switches(stages_lost=True)])
def test_what_comes_of_what_is_asked(switches: Switches, system: System) -> None:
    """The worst moment, what the bladder lifts, and the stop; with the lead the kit carries, and no further failure."""
    found = asked_of("twinset", switches)
    said = lead_words(found, system)
    for moment in (found.heaviest, found.stop):
        assert with_spread(moment.buoyancy, "lift", system) in said
    assert found.heaviest.name in said
    assert found.buoyancy_model.lift is not None
    assert f"the wing lifts {shown(found.buoyancy_model.lift.value, 'lead', system)}" in said
    assert "the lead that the kit carries" in said
    assert "If something fails" not in page_text(details_page(found), system)


@pytest.mark.parametrize("system", System)
def test_the_lead_that_is_left_is_named(system: System) -> None:
    """When the droppable lead is gone."""
    found = asked_of("cold-single", Switches(lead_dropped=True))
    assert "the lead left on the kit" in lead_words(found, system)
    left = shown(found.buoyancy_model.lead_kg - found.buoyancy_model.droppable_kg, "lead", system)
    assert f"All with the {left} of lead left on the kit." in page_text(details_page(found), system)


def test_a_full_wing_is_nothing_that_fails() -> None:
    """It shows in the curves only."""
    found = asked_of("twinset", Switches(wing_full=True))
    assert lead_words(found) == lead_words(of_config("twinset"))
    assert "If something fails" in page_text(details_page(found))


def test_a_jacket_is_called_one() -> None:
    """A kit with a jacket has no wing that may fail."""
    text = section_text(of_config("warm-single"))
    assert "jacket" in text
    assert "wing" not in text


# --- JSON -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ALL)
def test_json_has_the_values_worked_out(name: str) -> None:
    """Every figure with value, spread and origin, to a hundredth of the spread."""
    found = of_config(name)
    model, data = found.buoyancy_model, data_of(found)
    assert data["water"] == model.water.name
    assert_is(data["lead_needed_kg"], found.lead)
    assert data["lead_carried_kg"] == pytest.approx(model.lead_kg, rel=1e-5)
    assert [(piece["mass_kg"], piece["count"]) for piece in data["pieces"]] == [
        (pytest.approx(size, rel=1e-5), count) for size, count in found.pieces.metric.counts
    ]
    for said, moment in zip(data["moments"], found.moments, strict=True):
        assert_is_moment(found, said, moment)
    for said, asked in zip(data["what_if"], found.what_ifs, strict=True):
        assert (said["name"], said["depth_m"], said["gas"]) == (asked.name, pytest.approx(asked.depth_m), asked.gas)
        assert_is(said["buoyancy_kgf"], asked.buoyancy)
    assert_is(data["lift_kgf"], model.lift)
    assert_is(data["suit_gas_kgf"], model.suit_gas)
    assert_is(data["body_kgf"], found.body)
    assert [step["lead_spread_kg"] for step in data["next_steps"]] == [
        pytest.approx(step.spread_after_kg, rel=1e-5) for step in found.measurement_priorities
    ]
    items = model.kit.items
    assert [step["item"] for step in data["next_steps"]] == [
        None if step.item is None else items[step.item].tag for step in found.measurement_priorities
    ]


def assert_is(said: dict[str, Any] | None, figure: Figure | None) -> None:
    if figure is None:
        assert said is None
        return
    assert said is not None
    assert said["value"] == pytest.approx(figure.value, abs=figure.spread / 100 or 1e-5)
    assert said["spread"] == pytest.approx(figure.spread, rel=0.005, abs=1e-9)
    assert said["origin"] == figure.origin


def assert_is_moment(found: Balance, said: dict[str, Any], moment: Moment) -> None:
    assert (said["name"], said["depth_m"], said["gas"]) == (moment.name, pytest.approx(moment.depth_m), moment.gas)
    assert said["gauges_pa"] == [pytest.approx(gauge, rel=1e-5) for gauge in found.gauges_pa(moment.gas)]
    assert_is(said["buoyancy_kgf"], moment.buoyancy)
    assert said["wing_full_kgf"] == pytest.approx(found.when_full_kgf(moment.buoyancy), rel=1e-5)


def test_json_of_float_checks() -> None:
    """Those that count, those that do not and why, and those that cannot be computed."""
    around = beside(
        float_check("one", by_kgf=1.0), float_check("out", excluded=True), float_check("gone", kit="x.toml")
    )
    found = plain(around=around)
    one, out, gone = data_of(found)["float_checks"]
    first = found.checks[0]
    assert (one["tag"], one["counted"], one["because"], one["contradicts"]) == ("one", True, "", False)
    assert_is(one["computed_kgf"], first.computed)
    assert one["measured_kgf"] == pytest.approx(first.measured, rel=1e-5)
    assert (one["off_kgf"], one["off_spread_kgf"]) == pytest.approx((first.off, first.off_spread), rel=1e-5)
    assert (out["counted"], out["because"]) == (False, "the diver file excludes it")
    assert gone["computed_kgf"] is None


def test_what_is_left_out_is_in_json() -> None:
    """By its tag."""
    assert data_of(balance_of(kit_of(PLAIN + '\n[[other]]\ntag = "box"\n')))["left_out"] == ["box"]


def test_json_has_what_was_asked() -> None:
    """In its values, and by the name of the water."""
    asked = what_if(resolve(kit_of(PLAIN), beside()), "fresh", "steel 10 L 232")
    assert asked is not None
    assert_is(data_of(asked)["lead_needed_kg"], asked.lead)
    assert data_of(asked)["water"] == "fresh"


def test_the_lead_reads_the_same_in_text_and_in_json() -> None:
    """One page gives both."""
    found = plain()
    value = data_of(found)["lead_needed_kg"]["value"]
    assert f" {digits(value, 'lead', METRIC)} ± " in section_text(found)
