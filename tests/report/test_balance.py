"""The balance in words, rows and JSON: what is shown is what was worked out, to the last digit."""

import json
import re
from dataclasses import replace
from typing import Any

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.buoyancy_model import Switches, switches_of
from kitbuilder.assess.buoyancy.lead_pieces import Pieces
from kitbuilder.assess.buoyancy.trim import Pitch
from kitbuilder.assess.figures import Figure
from kitbuilder.kit.items import Kit
from kitbuilder.kit.resolved import NOTHING_LINKED, LinkedFiles, resolve
from kitbuilder.plans.ballast import what_if
from kitbuilder.report.balance import (
    WHAT_IF_WORDS,
    WIDTH,
    balance_json,
    balance_lines,
    bladder_word,
    brief_trim,
    check_rows,
    detail_lines,
    format_asked,
    format_lead,
    format_likely_lead,
    format_outcome,
    format_pieces,
    format_turn,
    lead_sentence,
    moment_lines,
    moment_rows,
    step_rows,
    switch_hints,
    trim_rows,
    what_if_rows,
)
from kitbuilder.report.diver import check_lines, check_row, procedure_lines
from kitbuilder.report.numbers import System, digits, shown, with_spread
from kitbuilder.report.origins import lead_origin_lines
from tests.assess.kits import (
    CONFIGS,
    PLAIN,
    WHOLE,
    WRONG,
    balance_of,
    beside,
    float_check,
    kit_of,
    shipped,
    swapped,
    with_header,
    without,
)

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
    kit = with_header(kit_of(PLAIN), **header)
    if lead_kg is not None:
        kit = swapped(kit, "belt", mass_kg=lead_kg, pieces=1)
    return balance_of(kit, around)


# --- the lead ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_lead_is_shown_with_its_spread(name: str, system: System) -> None:
    """To a tenth of a kilogram or of a pound."""
    found = of_config(name)
    assert format_lead(found, system) == with_spread(found.lead, "lead", system)
    assert re.fullmatch(r"−?\d+\.\d ± \d+\.\d (kg|lb)", format_lead(found, system))


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
    """Kilograms or pounds, whatever the reader's units; without the noughts behind the point."""
    pieces = Pieces(sum(size * count for size, count in counts), counts)
    assert format_pieces(pieces) == words


def test_the_sentence_says_how_far_the_lead_carried_is_off() -> None:
    """More, less, the same, or needless."""
    needed = plain().lead.value
    assert "carries 0.0 kg, " in lead_sentence(plain(lead_kg=1e-6), METRIC)
    assert lead_sentence(plain(lead_kg=needed + 2), METRIC).endswith(" kg, 2.0 kg more than that.")
    assert lead_sentence(plain(lead_kg=needed - 2), METRIC).endswith(" kg, 2.0 kg short of that.")
    assert lead_sentence(plain(lead_kg=needed + 0.01), METRIC).endswith(" kg, just that.")
    heavy = balance_of(swapped(kit_of(PLAIN), "tank", preset=None, metal="steel", volume_m3=12e-3, mass_kg=30.0,
                               working_pressure_pa=232e5))  # fmt: skip
    assert heavy.lead.value < 0
    told = lead_sentence(heavy, METRIC)
    assert told.startswith(f"Without any lead it is {shown(-heavy.lead.value, 'lead', METRIC)} too heavy to be neutral")
    assert told.endswith("The kit carries 6.0 kg.")


@pytest.mark.parametrize(
    ("system", "told"), [(METRIC, "Neutral at 5 m with 50 bar left"), (IMPERIAL, "Neutral at 16 ft with 725 psi left")]
)
def test_the_sentence_says_when_it_is_neutral(system: System, told: str) -> None:
    """At the stop, with the reserve, in the kit's water: 50 bar are 725 psi, 5 m are 16 ft."""
    assert lead_sentence(plain(), system).startswith(told)
    assert "and an empty wing, in " in lead_sentence(plain(), system)


def test_where_the_answer_comes_from_is_told() -> None:
    """A diver who is not told, one who is, one who looked; and a file that cannot be used."""
    assert format_likely_lead(plain(around=NOTHING_LINKED)).startswith("For a diver who is not told;")
    assert format_likely_lead(plain()).startswith("From stature and mass of the diver")
    assert format_likely_lead(plain(around=beside(float_check()))).startswith("From 1 float check and")
    two = beside(float_check(), float_check("other"), float_check("third", excluded=True))
    assert format_likely_lead(plain(around=two)).startswith("From 2 float checks and")
    told = format_likely_lead(plain(around=LinkedFiles("own.toml", diver_problems=(f"diver.toml:3: {EVIL}", "more"))))
    assert told == r"The diver file cannot be used: diver.toml:3: \x1b[2J\u202e[red]x"


# --- the rows ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_moments_are_shown_as_worked_out(name: str, system: System) -> None:
    """Depth, what the gauges show, buoyancy with its spread, and the same with a full wing."""
    found = of_config(name)
    for moment, row in zip(found.moments, moment_rows(found, system), strict=True):
        assert row.name == moment.name
        assert row.depth == shown(moment.depth_m, "depth", system)
        assert row.buoyancy.split() == with_spread(moment.buoyancy, "lift", system).split()
        assert found.buoyancy_model.lift is not None
        assert row.full == digits(moment.buoyancy.value + found.buoyancy_model.lift.value, "lift", system)


def test_each_pressure_is_named_once() -> None:
    """Two cylinders of 230 bar and a stage of 200: two pressures."""
    rows = moment_rows(of_config("twinset"), METRIC)
    assert [row.gas for row in rows] == [
        "230, 200 bar", "230, 200 bar", "160, 133 bar", "60, 50 bar", "60, 50 bar", "60, 50 bar"
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("buoyancy", "words"),
    [
        (0.1, "floats up"),
        (0.0, "wing 0 % full"),
        (-9.0, "wing 49 % full"),
        (-18.4, "wing 100 % full"),
        (-20.47, "lacks 2.0 kg"),
    ],
)
def test_what_the_wing_must_hold(buoyancy: float, words: str) -> None:
    """A bladder of 18 kg of fresh water lifts 18.47 kg in the sea: 1025 over 999."""
    found = plain()
    moment = found.moments[0]._replace(buoyancy=Figure(buoyancy, {}, ""))
    assert moment_rows(found._replace(moments=(moment,)), METRIC)[0].wing == words


def test_a_kit_without_a_bladder_says_so() -> None:
    """Nothing is shown for a full wing that is not there."""
    found = balance_of(kit_of(without(PLAIN, "wing")))
    rows = moment_rows(found, METRIC)
    assert {row.full for row in rows} == {""}
    assert {row.wing for row in rows} <= {"lift not told", "floats up"}
    assert all(line == line.rstrip() for line in moment_lines(found, METRIC))


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_moments_stand_in_columns(name: str, system: System) -> None:
    """Signs of ± and decimal points below each other, whatever the gauges show."""
    _, *lines = moment_lines(of_config(name), system)
    assert len({line.index(" ± ") for line in lines}) == 1
    words = [re.search(r"  (wing|floats|lacks|lift) ", line) for line in lines]
    assert len({found.start() for found in words if found}) == 1


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_every_what_if_is_told(name: str, system: System) -> None:
    """What fails, when, and how all floats then."""
    found = of_config(name)
    assert len(what_if_rows(found, system)) == len(found.what_ifs) > 0
    for asked, (label, value) in zip(found.what_ifs, what_if_rows(found, system), strict=True):
        what = WHAT_IF_WORDS[asked.name].format(bladder=bladder_word(found))
        assert label.startswith(f"{what}, at {shown(asked.depth_m, 'depth', system)} with ")
        assert value.split() == with_spread(asked.buoyancy, "lift", system).split()


def test_the_what_ifs_of_the_twinset() -> None:
    """It has a wing, a drysuit and a stage, and no lead that can be dropped."""
    labels = [label.partition(",")[0] for label, _ in what_if_rows(of_config("twinset"), METRIC)]
    assert labels == ["the wing fails", "the drysuit floods", "the stages are lost"]
    labels = [label.partition(",")[0] for label, _ in what_if_rows(of_config("cold-single"), METRIC)]
    assert labels == ["the wing fails", "the drysuit floods", "all droppable lead is dropped"]


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_trim_in_rows(name: str, system: System) -> None:
    """Which way a level diver turns at both ends, by kit and by body, and what would level him."""
    found = of_config(name)
    rows = dict(trim_rows(found, system))
    for label, end in (("gas full", found.trim.start), ("reserve", found.trim.end)):
        assert rows[label] == format_turn(end, system)
        assert rows[label].startswith(turn(end.moment, system))
    assert rows["kit, full"] == turn(found.trim.start.kit, system)
    assert rows["kit, reserve"] == turn(found.trim.end.kit, system)
    assert rows["body alone"] == turn(found.trim.end.body, system)
    pieces = found.trim.shift.pieces
    assert pieces is not None
    place = "upper cylinder" if pieces > 0 else "ankles"
    assert f"{shown(abs(pieces), 'lead', system)} of lead, waist to {place}" in rows.values()


def turn(moment: Figure, system: System) -> str:
    """A moment in words, by hand: a pound-foot is 0.45359237 times 0.3048 kg·m; plus puts the head down."""
    factor, unit = {METRIC: (1.0, "kg·m"), IMPERIAL: (0.45359237 * 0.3048, "lb·ft")}[system]
    way = "down" if moment.value > 0 else "up"
    return f"head {way} {abs(moment.value) / factor:.1f} ± {moment.spread / factor:.1f} {unit}"


def pitch(at: float, low: float, high: float, *, steady: bool = True) -> Pitch:
    moment = Figure(-1.2, {"all": 0.4}, "")
    return Pitch("filled", moment, moment, moment, at, low, high, steady)


def test_where_he_comes_to_rest() -> None:
    """0.2 rad are 11.5 degrees; what may be off by a right angle is not named, nor where he turns away from."""
    up = "head up 1.2 ± 0.4 kg·m"
    assert format_turn(pitch(0.2, -0.05, 0.35), METRIC) == f"{up}, rests up 11° (down 3° to up 20°)"
    assert format_turn(pitch(0.004, -0.004, 0.2), METRIC) == f"{up}, rests level (level to up 11°)"
    assert format_turn(pitch(0.0, -0.9, 0.9), METRIC) == f"{up}, rests anywhere"
    assert format_turn(pitch(0.2, -0.05, 0.35, steady=False), METRIC) == f"{up}, held level by fins"
    assert format_turn(pitch(0.2, -0.05, 0.35), IMPERIAL).startswith("head up 8.7 ± 2.9 lb·ft, rests up 11°")


def test_lead_that_would_have_to_move_too_far_is_not_asked_to() -> None:
    """More than a metre is off the diver; a kit without lead has none to move."""
    assert [label for label, _ in trim_rows(plain(), METRIC)][-2:] == ["to level it", "or"]
    none = balance_of(kit_of(without(PLAIN, "belt")))
    little = plain(lead_kg=0.1)
    for found in (none, little):
        label, value = trim_rows(found, METRIC)[-1]
        assert label == "to level it"
        assert " of lead, waist to " in value


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_next_steps_with_what_they_leave(name: str, system: System) -> None:
    """The surest first, each to a tenth, below each other."""
    found = of_config(name)
    rows = step_rows(found, system)
    assert len(rows) == len(found.measurement_priorities) > 0
    for step, (what, value) in zip(found.measurement_priorities, rows, strict=True):
        assert what == step.what
        assert value.split() == [
            "±",
            digits(step.spread_after_kg, "lead", system),
            {METRIC: "kg", IMPERIAL: "lb"}[system],
        ]
    assert len({len(value) for _, value in rows}) == 1


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ({}, r"floated \d+\.\d kg (more|less) than computed"),
        ({"excluded": True}, r"not counted, it is excluded; floated \d+\.\d kg (more|less) than computed"),
        ({"seen": "sank"}, r"not counted: .*how much lead made it neutral.*"),
        ({"kit": "gone.toml"}, r"not counted: .*gone\.toml.* cannot be read"),
    ],
)
def test_what_a_float_check_says(keys: dict[str, Any], told: str) -> None:
    """By hand: the plain kit needs 5.5 kg of lead, of which the sea leaves 0.91: 3.2 kg and 2.3 kg off."""
    found = plain(around=beside(float_check("pier", **keys)))
    [(tag, words)] = check_rows(found, METRIC)
    assert tag == "pier"
    assert re.fullmatch(told, words)


@pytest.mark.parametrize(("lead_kg", "off_kg", "way"), [(2.0, 3.3, "less"), (8.0, 2.2, "more")])
def test_how_much_more_or_less_it_floated(lead_kg: float, off_kg: float, way: str) -> None:
    """By hand: the plain kit floats by 5.1 kg without lead, each part to 0.1 kg; the sea leaves 0.91 of lead."""
    [(_, words)] = check_rows(plain(around=beside(float_check(lead_kg=lead_kg))), METRIC)
    found = re.match(r"floated (\d+\.\d) kg (less|more) than computed", words)
    assert found is not None
    assert (float(found[1]), found[2]) == (pytest.approx(off_kg, abs=0.25), way)


def test_a_float_check_called_one_is_not_called_so_twice() -> None:
    """As a new one is, until it gets a name of its own."""
    lines = detail_lines(plain(around=beside(float_check("float check 2"), float_check("pier"))), METRIC)
    starts = [line.partition(": ")[0] for line in lines if "float check" in line.partition(":")[0]]
    assert starts[:2] == ["float check 2", "float check pier"]


def test_float_checks_that_contradict_each_other_say_so() -> None:
    """The same kit cannot be neutral with 2 kg and with 12."""
    found = plain(around=beside(float_check("one", lead_kg=2.0), float_check("other", lead_kg=12.0)))
    assert all(words.endswith("; contradicts the rest") for _, words in check_rows(found, METRIC))


def test_no_float_check_has_no_rows() -> None:
    """And no heading of none."""
    assert check_rows(plain(), METRIC) == ()
    assert not any("float check " in line for line in detail_lines(plain(), METRIC) if "if " in line[:3])


# --- the lines --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_details_fit_a_small_terminal(name: str, system: System) -> None:
    """No line is wrapped in its pane."""
    found = shipped(name)
    assert found.balance is not None
    for line in detail_lines(found.balance, system):
        assert len(line) <= PANE, line


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_lines_keep_within_their_width(name: str, system: System) -> None:
    """A hundred columns."""
    found = shipped(name)
    assert found.balance is not None
    lines = list(balance_lines(found.balance, system))
    assert max(map(len, lines)) <= WIDTH
    assert lines[0] == f"Lead: {format_lead(found.balance, system)}; take {format_pieces(found.balance.pieces)}"


def test_the_details_have_every_row() -> None:
    """Moments, what ifs, trim, float checks, steps, and what is left out."""
    kit = kit_of(PLAIN + f"\n[[other]]\ntag = {json.dumps(EVIL)}\n")
    around = beside(float_check("pier"))
    found = balance_of(kit, around)
    lines = detail_lines(found, METRIC)
    text = "\n".join(lines)
    assert "at the stop" in text
    assert "if the wing fails, at 30 m with 207 bar " in text
    assert "trim: gas full " in text
    assert "float check pier: floated " in text
    assert r"Left out, since nothing tells what they weigh: \x1b[2J\u202e[red]x" in text
    assert "What would make the lead surer, and how sure then:" in text
    assert all(line.isprintable() for line in lines)


def test_what_was_asked_is_told() -> None:
    """Water and cylinders in place of the kit's own."""
    assert format_asked("fresh", "steel 10 L 232") == "in fresh water, with steel 10 L 232"
    assert format_asked("fresh", None) == "in fresh water"
    assert format_asked(None, "steel 10 L 232") == "with steel 10 L 232"
    assert format_asked(None, None) == ""


@pytest.mark.parametrize(
    ("name", "switches", "hints"),
    [
        ("warm-single", ("lead_dropped",), "l jacket full  d drop lead  0 as it is"),
        ("cold-single", ("suit_flooded", "lead_dropped"), "l wing full  f flooded suit  d drop lead  0 as it is"),
        ("twinset", ("suit_flooded", "stages_lost"), "l wing full  f flooded suit  s lose stages  0 as it is"),
        ("wrong-on-purpose", (), "l jacket full  0 as it is"),
    ],
)
def test_only_what_would_change_anything_can_be_asked(name: str, switches: tuple[str, ...], hints: str) -> None:
    """A kit without a drysuit has none to flood."""
    kit = shipped(name).kit
    assert switches_of(kit) == switches
    assert switch_hints(kit) == f"What if:  {hints}"
    assert len(switch_hints(kit)) <= PANE


@pytest.mark.parametrize("system", System)
def test_what_comes_of_what_is_asked(system: System) -> None:
    """The worst moment, what the bladder lifts, and the stop; with the lead the kit carries."""
    kit = shipped("twinset").kit
    around = shipped("twinset").kit.linked
    for switches in (Switches(suit_flooded=True), Switches(stages_lost=True)):
        found = what_if(resolve(kit, around), None, None, switches)
        assert found is not None
        told = format_outcome(found, system)
        for moment in (found.heaviest, found.stop):
            assert with_spread(moment.buoyancy, "lift", system) in told
        assert found.heaviest.name in told
        assert found.buoyancy_model.lift is not None
        assert f"the wing lifts {shown(found.buoyancy_model.lift.value, 'lead', system)}" in told
        assert "the lead the kit carries" in told
        assert what_if_rows(found, system) == ()
    kit = shipped("cold-single").kit
    found = what_if(resolve(kit, shipped("cold-single").kit.linked), None, None, Switches(lead_dropped=True))
    assert found is not None
    assert "the lead left on the kit" in format_outcome(found, system)
    left = shown(found.buoyancy_model.lead_kg - found.buoyancy_model.droppable_kg, "lead", system)
    assert f"All with the {left} of lead left on the kit." in detail_lines(found, system)
    as_it_is = what_if(resolve(kit, around), None, None, Switches(wing_full=True))
    assert as_it_is is not None
    assert format_outcome(as_it_is, system) == ""
    assert what_if_rows(as_it_is, system) != ()


def test_a_jacket_is_called_one() -> None:
    """A kit with a jacket has no wing that may fail."""
    assert bladder_word(of_config("warm-single")) == "jacket"
    assert bladder_word(of_config("twinset")) == "wing"
    text = "\n".join(detail_lines(of_config("warm-single"), METRIC)) + lead_sentence(of_config("warm-single"), METRIC)
    assert "jacket" in text
    assert "wing" not in text


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_where_room_is_scarce_the_trim_is_two_lines(name: str, system: System) -> None:
    """They fit beside the plot in a terminal of 80 columns."""
    found = of_config(name)
    full, end = brief_trim(found, system)
    assert full == ("full", turn(found.trim.start.moment, system).replace(" ± ", "±"))
    assert end == ("end", turn(found.trim.end.moment, system).replace(" ± ", "±"))
    assert all(len(f"{label:<5}{value}") <= 31 for label, value in (full, end))


@pytest.mark.parametrize("system", System)
def test_the_origins_of_the_lead_begin_with_the_lead(system: System) -> None:
    """As it is shown."""
    assert lead_origin_lines(plain(), system)[0].startswith(f"Lead {format_lead(plain(), system)}: ")


# --- JSON -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ALL)
def test_json_has_the_values_worked_out(name: str) -> None:
    """Every figure with value, spread and origin, unrounded, after a trip through JSON."""
    found = of_config(name)
    data = json.loads(json.dumps(balance_json(found), allow_nan=False))
    assert data["water"] == found.buoyancy_model.water.name
    assert data["lead_needed_kg"] == told_of(found.lead)
    assert data["lead_carried_kg"] == found.buoyancy_model.lead_kg
    assert [(piece["mass_kg"], piece["count"]) for piece in data["pieces"]] == list(found.pieces.counts)
    assert [moment["name"] for moment in data["moments"]] == [moment.name for moment in found.moments]
    for told, moment in zip(data["moments"], found.moments, strict=True):
        assert (told["depth_m"], told["gas"]) == (moment.depth_m, moment.gas)
        assert told["buoyancy_kgf"] == told_of(moment.buoyancy)
    for told, asked in zip(data["what_if"], found.what_ifs, strict=True):
        assert (told["name"], told["depth_m"], told["gas"]) == (asked.name, asked.depth_m, asked.gas)
        assert told["buoyancy_kgf"] == told_of(asked.buoyancy)
    assert data["lift_kgf"] == (told_of(found.buoyancy_model.lift) if found.buoyancy_model.lift else None)
    assert data["suit_gas_kgf"] == (told_of(found.buoyancy_model.suit_gas) if found.buoyancy_model.suit_gas else None)
    assert data["body_kgf"] == told_of(found.body)
    for told, end in ((data["trim"]["gas_full"], found.trim.start), (data["trim"]["reserve"], found.trim.end)):
        assert (told["pitch_rad"], told["low_rad"], told["high_rad"]) == (
            end.pitch_rad, end.pitch_low_rad, end.pitch_high_rad
        )  # fmt: skip
        assert told["moment_kgf_m"] == told_of(end.moment)
        assert told["kit_moment_kgf_m"] == told_of(end.kit)
        assert told["body_moment_kgf_m"] == told_of(end.body)
        assert told["steady"] is end.is_steady
    assert [step["lead_spread_kg"] for step in data["measurement_priorities"]] == [
        s.spread_after_kg for s in found.measurement_priorities
    ]


def told_of(figure: Figure) -> dict[str, Any]:
    return {"value": figure.value, "spread": figure.spread, "origin": figure.origin}


def test_json_of_float_checks() -> None:
    """Those that count, those that do not and why, and those that cannot be computed."""
    around = beside(
        float_check("one", by_kgf=1.0), float_check("out", excluded=True), float_check("gone", kit="x.toml")
    )
    found = plain(around=around)
    one, out, gone = json.loads(json.dumps(balance_json(found)))["float_checks"]
    assert (one["tag"], one["counted"], one["because"], one["contradicts"]) == ("one", True, "", False)
    assert one["computed_kgf"] == told_of(figure_of(found, 0))
    assert one["measured_kgf"] == found.checks[0].measured
    assert (one["off_kgf"], one["off_spread_kgf"]) == (found.checks[0].off, found.checks[0].off_spread)
    assert (out["counted"], out["because"]) == (False, "it is excluded")
    assert gone["computed_kgf"] is None


def figure_of(found: Balance, number: int) -> Figure:
    computed = found.checks[number].computed
    assert computed is not None
    return computed


def numbers_of(data: object, path: str = "") -> dict[str, float]:
    """Every number in JSON data, by the names on the way to it."""
    if isinstance(data, dict):
        return {k: v for key, value in data.items() for k, v in numbers_of(value, f"{path}/{key}").items()}
    if isinstance(data, list):
        return {k: v for number, value in enumerate(data) for k, v in numbers_of(value, f"{path}/{number}").items()}
    return {path: data} if isinstance(data, (int, float)) and not isinstance(data, bool) else {}


@pytest.mark.parametrize("name", ALL)
def test_every_number_in_json_has_its_unit_in_a_name(name: str) -> None:
    """Kilograms, kilogram-force, metres and radians; a count is a count."""
    data = balance_json(of_config(name))
    for path in numbers_of(data):
        key = next(word for word in reversed(path.split("/")) if word not in ("value", "spread") and not word.isdigit())
        assert key.endswith(("_kg", "_kgf", "_m", "_rad", "count")), path


def test_what_is_left_out_is_in_json() -> None:
    """By its tag."""
    assert balance_json(balance_of(kit_of(PLAIN + '\n[[other]]\ntag = "box"\n')))["left_out"] == ["box"]


def test_json_does_not_ask_for_units() -> None:
    """The switches of what was asked are in its values, and nothing in it is rounded."""
    kit: Kit = kit_of(PLAIN)
    asked = what_if(resolve(kit, beside()), "fresh", "steel 10 L 232")
    assert asked is not None
    assert balance_json(asked)["lead_needed_kg"]["value"] == asked.lead.value
    assert balance_json(asked)["water"] == "fresh"


# --- the diver's page -------------------------------------------------------------------------------------------------


def test_a_float_check_in_the_list_says_whether_it_counts() -> None:
    """Its tag, with nothing in it that a terminal would obey."""
    assert check_row(float_check("pier")) == "pier"
    assert check_row(float_check(EVIL, excluded=True)) == r"\x1b[2J\u202e[red]x, not counted"


def test_a_float_check_tells_what_it_says_of_a_shipped_kit() -> None:
    """The same words as on the balance of that kit."""
    around = beside(float_check("pier", kit="twinset.toml", lead_kg=2.0))
    diver = around.diver
    assert diver is not None
    told, computed = check_lines(diver, 0, CONFIGS / "diver.toml", METRIC)
    kit = shipped("twinset").kit
    found = assess(resolve(kit, around._replace(own="twinset.toml"))).balance
    assert found is not None
    [(_, words)] = check_rows(found, METRIC)
    assert told == f"What it tells: {words}."
    assert computed.startswith(f"Computed without it: {with_spread(figure_of(found, 0), 'lift', METRIC)}")
    assert check_lines(diver, None, CONFIGS / "diver.toml", METRIC) == []


def test_a_float_check_in_a_kit_that_is_gone_says_so() -> None:
    """By its file name."""
    diver = beside(float_check("pier", kit="gone.toml")).diver
    assert diver is not None
    [line] = check_lines(diver, 0, CONFIGS / "diver.toml", METRIC)
    assert "gone.toml" in line
    named = replace(diver, items=(float_check("pier", kit=EVIL),))
    assert all(line.isprintable() for line in check_lines(named, 0, CONFIGS / "diver.toml", METRIC))


@pytest.mark.parametrize("system", System)
def test_the_procedure_fits_its_pane_and_says_when_to_stop(system: System) -> None:
    """In the reader's units."""
    lines = procedure_lines(system)
    assert max(map(len, lines)) <= PANE
    assert {METRIC: "5 m, with 50 bar", IMPERIAL: "16 ft, with 725 psi"}[system] in lines[0]
    assert any("buddy" in line for line in lines)
    assert any("Stop if anything is amiss" in line for line in lines)
