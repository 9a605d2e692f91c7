"""Lead, lift and what may fail; and what the balance cannot be worked out without."""

from dataclasses import replace

import pytest

from kitbuilder.assess.findings import About, Amount, Finding
from kitbuilder.kit.resolved import NOTHING_LINKED
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import PLAIN, assessed, beside, changed, config, float_check, with_keys, without
from tests.assess.rules.cases import CAUTION, DANGER, NOTICE, WARNING, Case, assert_holds, check, of_item

GIVEN = beside()
GONE = NOTHING_LINKED._replace(diver_problems=("me.toml is not in this folder.",))
"""The kit names a diver file, and it is not there."""
LEAD, MUCH, LIFT, FAILED = "lead for stop", "much lead", "lift of the wing", "failed wing"
FLOODED, DROPPED, LOST, TRIM, BALANCE = "flooded drysuit", "dropped lead", "lost stage", "trim", "balance"
DIVER_FILE = "diver file"


def belt(kilograms: float, more: str = "", text: str = PLAIN) -> str:
    """The plain kit with so much lead on the belt; it needs 5.7 kg ± 2.8 kg.

    5.6 kg as added up beside its text, and 0.1 kg since the volume of its cylinder, 11.0 to 11.3 L, is 11.125 L in the
    mean and other ranges lean as well. What it may be off by, by hand from the ranges of the catalogue, in kilograms of
    lead (over 1 - 1025/11340), `even` being 1.96 over the root of 3: density of the body 82 x 1025 x 26 / 1019^2, 2.31;
    shell even x 1.3 x (1 - 1025/2700), 1.00; outside 0.6 x 1.025, 0.68; squeeze of 7.3 L of foam, of which its sources
    leave 67 to 81 %, even x 0.07 x 7.3 x 1.025, 0.67; breath even x 0.25 x 1.025, 0.32; wing even x 0.25, 0.31; the
    foam's density, stretch, thickness, linings, coverage and area 0.27, 0.27, 0.25, 0.25, 0.24, 0.21; the volume of the
    cylinder, its valve, casting of the lead 0.18, 0.16, 0.17; the gauge 5 bar x 11.1 L x 1.2 g/L/bar, 0.08. Their
    squares add up to 7.9.
    """
    return changed(text, ('mass = "1 kg"\npieces = 6\n', f'mass = "{kilograms / 2} kg"\npieces = 2\n{more}'))


def lift(kilograms: float, text: str) -> str:
    return with_keys(text, "wing", lift=f"{kilograms} kg")


DRYSUIT = '\n[[drysuit]]\ntag = "drysuit"\npreset = "trilaminate shell"\n'
DRY = without(PLAIN, "suit") + DRYSUIT + 'undersuit = "heavy"\n'
"""With 13 L of gas in the suit it needs about 16 kg: body +0.7, cylinder and gas +1.2, gas of the suit +13.3.

Flooded at 30 m with 16 kg of lead and the gas full it is 15 kg heavy, ± 3.
"""
SECOND = '\n[[cylinder]]\ntag = "second"\npreset = "steel 18 L 232"\n'
HEAVY_WITHOUT_LEAD = with_keys(without(PLAIN, "belt"), "tank", preset="steel 12 L 300")
STAGE = '\n[[cylinder]]\ntag = "stage"\npreset = "steel 7 L 232"\ncarried = "stage"\n'
UNKNOWN = '\n[[cylinder]]\ntag = "found in a shed"\n'


def worn(
    rule: str,
    signal: int | None,
    item: str | None,
    key: str | None,
    wrong: str,
    right: str,
    says: tuple[str, ...],
    do: tuple[str, ...] = (),
) -> Case:
    """A case worn by a diver of 82 kg and 178 cm."""
    return Case(rule, signal, item, key, wrong, right, says, do, beside_wrong=GIVEN, beside_right=GIVEN)  # type: ignore[arg-type]


CASES = [
    # --- lead ---
    worn(
        LEAD,
        WARNING,
        "belt",
        "mass",
        belt(1),
        belt(8),  # 2.1 kg more than the 5.6 that are needed, of which 5 % need more
        says=(
            "with the reserve left the diver floats up from the stop: the kit carries 1.0 kg of lead and needs "
            "about 5.5 kg, anything from 3 to 8.5",
        ),
        do=(
            "Take 6 × 1 kg",
            "Confirm it in the water with a float check at the end of a shallow dive that needs no stop",
            "Confirm it in the water with a float check at the end of a shallow dive that needs no stop",
        ),
    ),
    worn(
        LEAD,
        CAUTION,
        "belt",
        "mass",
        belt(5),
        belt(8),
        says=("the kit may carry too little lead for the stop: 5.0 kg; it needs about 5.5 kg, anything from 3 to 8.5",),
        do=("Take 6 × 1 kg", "Confirm it in the water"),
    ),
    # As much as is likely needed holds the stop in half of all cases.
    worn(
        LEAD,
        CAUTION,
        "belt",
        "mass",
        belt(6),
        belt(8),
        says=(
            "it is not certain that the lead holds the stop: the kit carries 6.0 kg and needs about 5.5 kg, "
            "anything from 3 to 8.5",
        ),
        do=("Make a float check first, at the end of a shallow dive that needs no stop", "Bring "),
    ),
    # About 1.3 kg too heavy without any lead, ± 3.2: a cylinder that sinks by 3 kg more. By 0.84 of the spread, less
    # the 0.3 kg of a breath, up to 1.0 kg may be needed.
    worn(
        LEAD,
        CAUTION,
        None,
        None,
        HEAVY_WITHOUT_LEAD,
        belt(6, text=with_keys(PLAIN, "tank", preset="steel 12 L 300")),
        says=("by the best estimate the stop needs no lead, but it may need up to 1.0 kg; the kit carries none",),
        do=("Make a float check first", "Bring 1.0 kg of lead"),
    ),
    Case(
        LEAD,
        CAUTION,
        "belt",
        "mass",
        belt(6),
        belt(6),
        says=("it is not certain that the lead holds the stop",),
        do=("Make a float check first",),
        beside_wrong=GIVEN,
        beside_right=beside(float_check(lead_kg=5.8)),  # known well
    ),
    worn(
        LEAD,
        CAUTION,
        "belt",
        "mass",
        belt(12),
        belt(8),
        says=("the kit carries 12.0 kg of lead, and the stop needs ",),
        do=("Remove lead, one piece at a time",),
    ),
    worn(
        LEAD,
        CAUTION,
        "belt",
        "mass",
        # A steel cylinder that sinks by 3 kg more, and no suit: too heavy without any lead.
        belt(6, text=with_keys(without(PLAIN, "suit"), "tank", preset="steel 12 L 300")),
        belt(8),
        says=("the kit carries 6.0 kg of lead, and the stop needs none", " too heavy"),
        do=("bring spare lead",),
    ),
    worn(
        MUCH,
        CAUTION,
        "belt",
        "mass",
        belt(16),
        belt(15),
        says=("the kit carries 16.0 kg of lead; few divers carry more than 15.0 kg",),
        do=("Check the number and its unit",),
    ),
    # --- lift: with 8 kg of lead it is 7.0 kg heavy at 30 m with the gas full, ± 3 ---
    worn(
        LIFT,
        DANGER,
        "wing",
        "lift",
        lift(5, belt(8)),
        lift(18, belt(8)),
        says=("at depth the kit pulls down with about ", "the full bladder lifts about 5.1 kg"),
        do=("bring spare lead",),
    ),
    worn(
        LIFT,
        WARNING,
        "wing",
        "lift",
        lift(8, belt(8)),
        lift(18, belt(8)),
        says=("the full bladder lifts about 8.2 kg",),
        do=("a bladder with more lift",),
    ),
    worn(
        LIFT,
        CAUTION,
        "wing",
        "lift",
        lift(10, belt(8)),
        lift(18, belt(8)),
        says=("the full bladder lifts about 10.3 kg",),
        do=("a bladder with more lift",),
    ),
    # --- what may fail: about 4.5 kg can be swum up against ---
    worn(
        FAILED,
        WARNING,
        "wing",
        None,
        belt(8),
        belt(4),
        says=(
            "if the wing fails at 30 m with full cylinders, the kit pulls down with about ",
            "No lead can be dropped",
        ),
        do=("Make some lead droppable",),
    ),
    worn(
        FAILED,
        NOTICE,
        "wing",
        None,
        belt(8, "droppable = true\n"),
        belt(4, "droppable = true\n"),
        says=("Dropping the droppable lead leaves 0.0 kg",),
        do=("Practise dropping the lead with one hand, left and right",),
    ),
    worn(
        FAILED,
        CAUTION,
        "wing",
        None,
        belt(20, text=DRY),
        belt(16, text=DRY),
        says=("No lead can be dropped",),
        do=("Make some lead droppable",),
    ),
    worn(
        FLOODED,
        WARNING,
        "drysuit",
        None,
        lift(10, belt(16, text=DRY)),
        lift(30, belt(16, text=DRY)),
        says=(
            "if the drysuit floods at 30 m with full cylinders, 13.3 kg of its lift is gone",
            "the full bladder lifts about 10.3 kg",
        ),
        do=("a bladder with more lift",),
    ),
    worn(
        FLOODED,
        CAUTION,
        "drysuit",
        None,
        lift(16, belt(16, text=DRY)),
        lift(30, belt(16, text=DRY)),
        says=("the full bladder lifts about 16.4 kg",),
        do=("a bladder with more lift",),
    ),
    worn(
        DROPPED,
        NOTICE,
        "belt",
        "droppable",
        belt(6, "droppable = true\n"),
        belt(6),
        says=("if all droppable lead is lost at the stop, the diver floats up with about ",),
        do=("Split the lead into pieces that are dropped one by one",),
    ),
    worn(
        DROPPED,
        NOTICE,
        "belt",
        "droppable",
        belt(6, "droppable = true\n"),
        # What is left holds the stop: 4 kg that stay and 12 that go, of which 5.6 were needed.
        belt(2, "droppable = true\n") + '\n[[lead]]\ntag = "harness"\nmass = "12 kg"\n',
        says=("floats up with ",),
        do=("Keep some of it on the harness",),
    ),
    worn(
        LOST,
        WARNING,
        "stage",
        "carried",
        belt(1) + STAGE,
        belt(9) + STAGE,
        says=("without its stages the kit ", "the reserve in the other cylinders"),
        do=("Carry enough lead for the stop without stages",),
    ),
    worn(
        LOST,
        CAUTION,
        "stage",
        "carried",
        belt(5) + STAGE,
        belt(9) + STAGE,
        says=("without its stages the kit ",),
        do=("Carry enough lead for the stop without stages",),
    ),
    worn(
        LOST,
        CAUTION,
        "stage",
        "carried",
        belt(7) + STAGE,
        belt(9) + STAGE,
        says=("without its stages the kit may float up from the stop",),
        do=("Carry enough lead for the stop without stages",),
    ),
    # --- trim: the lead in front of the belly, so that he comes to rest ---
    worn(
        TRIM,
        CAUTION,
        None,
        None,
        belt(8, 'behind = "-40 cm"\nalong = "140 cm"\n'),
        belt(8, 'behind = "-40 cm"\nplace = "chest"\n'),
        says=("at the stop the kit turns a level diver head-up with about ", "left alone, it floats head-up at "),
        do=("The balance shows how far to move lead, and where to",),
    ),
    worn(
        TRIM,
        CAUTION,
        None,
        None,
        belt(8, 'behind = "-40 cm"\nalong = "-80 cm"\n'),
        belt(8, 'behind = "-40 cm"\nplace = "chest"\n'),
        says=("at the stop the kit turns a level diver head-down with about ", "left alone, it floats head-down at "),
        do=("The balance shows how far to move lead, and where to",),
    ),
    # --- what is missing ---
    worn(
        BALANCE,
        None,
        None,
        "",
        without(PLAIN, "tank"),
        PLAIN,
        says=("lead and balance: the kit has no cylinder. Add one",),
    ),
    worn(
        BALANCE,
        None,
        None,
        "",
        without(PLAIN, "tank") + UNKNOWN,
        PLAIN,
        says=("lead and balance: no cylinder has a preset or all of its stamps",),
    ),
    # As beside `belt`, but for the body, by hand: density 77 x 1025 x 36 / 1008^2, 3.06; mass by the flotation of the
    # body (1.7 % of 31 kg) and by its skin (0.425 of the foam's 3.2 kg), 1.0; sex, in the same way, 0.9. All: 13.8.
    Case(
        BALANCE,
        None,
        None,
        "diver",
        PLAIN,
        PLAIN,
        says=(
            "stature and mass of the diver: taken as 169 cm ± 18 cm and 77 kg ± 31 kg",
            "known only to ± 3.7 kg",
        ),
        beside_right=GIVEN,
    ),
    Case(
        DIVER_FILE,
        CAUTION,
        None,
        "diver",
        PLAIN,
        PLAIN,
        says=("the diver file cannot be used: me.toml is not in this folder.",),
        do=("Fix the diver file, or name another one",),
        beside_wrong=GONE,
        beside_right=GIVEN,
    ),
    Case(
        DIVER_FILE,
        CAUTION,
        None,
        "diver",
        without(PLAIN, "tank"),  # no balance, and named all the same
        PLAIN,
        says=('me.toml:5: mass: found "5 kg".',),
        do=("Fix the diver file, or name another one",),
        beside_wrong=NOTHING_LINKED._replace(
            diver_problems=('me.toml:5: mass: found "5 kg". Accepted: from 30 to 200 kg.',)
        ),
        beside_right=NOTHING_LINKED,  # a kit that names no diver
    ),
    worn(
        BALANCE,
        None,
        "drysuit",
        "undersuit",
        PLAIN + DRYSUIT,
        PLAIN + DRYSUIT + 'suit_gas = "9 L"\n',
        says=('the gas in "drysuit": its lift is left out',),
    ),
    worn(
        BALANCE,
        None,
        "wing",
        "lift",
        with_keys(PLAIN, "wing", preset=None, lift=None, mass="1.4 kg", buoyancy="0 kg"),
        with_keys(PLAIN, "wing", preset=None, mass="1.4 kg", buoyancy="0 kg"),
        says=('the lift of "wing"',),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


def test_without_a_belt_too_little_lead_is_said_of_the_kit() -> None:
    """There is no piece to point at."""
    [finding] = of_item(assessed(without(PLAIN, "belt"), GIVEN), LEAD, None)
    assert (finding.signal, finding.key) == (WARNING, None)
    assert_holds(sentence(finding.what, System.METRIC), ("the kit carries 0.0 kg of lead",))


def test_what_is_ready_for_the_check_holds_the_stop_with_95_per_cent() -> None:
    """By hand: of a spread of 1.96 deviations, 95 % lie below 1.645; a breath of 0.3 kg is made up for."""
    for carried in (1, 5, 6):
        needs, spread, ready = ready_for(carried)
        assert ready == pytest.approx(needs + 1.645 / 1.96 * spread - 0.3)
        assert not of_item(assessed(belt(ready + 0.1), GIVEN), LEAD, "belt")
        assert of_item(assessed(belt(ready - 0.1), GIVEN), LEAD, "belt")


def ready_for(carried_kg: float) -> tuple[float, float, float]:
    """What the finding on lead says of a kit that carries so much: needed, its spread, and ready for the check [kg]."""
    [finding] = of_item(assessed(belt(carried_kg), GIVEN), LEAD, "belt")
    [needs] = (piece for piece in finding.what if isinstance(piece, About))
    [ready] = (piece.value for piece in finding.do if isinstance(piece, Amount))
    return needs.value, (needs.high - needs.low) / 2, ready


def test_after_one_check_another_is_asked_for() -> None:
    """One check, 2 kg from what is computed, leaves the lead of a drysuit unclear."""
    given = beside(float_check(lead_kg=14.0))
    [finding] = of_item(assessed(belt(15, text=DRY), given), LEAD, "belt")
    assert_holds(sentence(finding.do, System.METRIC), ("Make another float check first",))


def test_pieces_are_those_the_diver_has() -> None:
    """Of 2 kg each: 5.6 kg take three."""
    diver = replace(GIVEN.diver, header=replace(GIVEN.diver.header, lead_sizes_kg=(2.0,)))
    twos = GIVEN._replace(diver=diver)
    [finding] = of_item(assessed(belt(1), twos), LEAD, "belt")
    for system in System:
        assert_holds(sentence(finding.do, system), ("Take 3 × 2 kg",))


def test_pieces_are_in_pounds_for_a_reader_of_pounds() -> None:
    """By hand: 5.6 kg less the 0.3 of a breath are 5.3 kg, 11.7 lb: two of 5 lb and one of 2."""
    [finding] = of_item(assessed(belt(1), GIVEN), LEAD, "belt")
    assert_holds(sentence(finding.do, System.IMPERIAL), ("Take 2 × 5 lb + 1 × 2 lb",))


def test_no_lead_is_asked_for_by_a_check_that_contradicts_the_rest() -> None:
    """Neutral with 30 kg, where 5.6 ± 3 are computed: the check is to be fixed, not the lead."""
    for slip, advice in ((False, "Take 7 × 1 kg"), (True, "First correct the float check that contradicts the rest")):
        given = beside(float_check(lead_kg=30.0 if slip else 7.0))
        [finding] = of_item(assessed(belt(1), given), LEAD, "belt")
        text = sentence(finding.do, System.METRIC)
        assert_holds(text, (advice, "Confirm it in the water"))
        assert ("Take " in text) != slip


def test_a_diver_file_that_cannot_be_used_is_said_once() -> None:
    """And not, in addition, that no diver is given; each of several problems is a finding."""
    found = assessed(PLAIN, GONE)
    assert not [item for item in found.unchecked if "stature" in sentence(item.because, System.METRIC)]
    problems = ("me.toml:4: one item.", "me.toml:5: another.")
    two = of_item(assessed(PLAIN, NOTHING_LINKED._replace(diver_problems=problems)), DIVER_FILE, None)
    for finding, problem in zip(two, problems, strict=True):
        assert_holds(sentence(finding.what, System.METRIC), (problem,))


def test_the_worst_moment_is_the_one_that_is_named() -> None:
    """Without foam the diver is heaviest as soon as he goes in, and stays so until he breathes."""
    [finding] = of_item(assessed(lift(5, belt(12, text=without(PLAIN, "suit"))), GIVEN), LIFT, "wing")
    assert sentence(finding.what, System.METRIC).startswith("going in the kit pulls down with about ")


def test_no_lead_that_is_not_there_is_to_be_dropped() -> None:
    """Two large cylinders pull down too far by themselves, without lead and with lead that all can be dropped."""
    heavy = with_keys(PLAIN, "tank", preset="steel 18 L 232") + SECOND
    [bare] = of_item(assessed(without(heavy, "belt"), GIVEN), FAILED, "wing")
    [belted] = of_item(assessed(belt(4, "droppable = true\n", heavy), GIVEN), FAILED, "wing")
    assert isinstance(bare, Finding)
    assert isinstance(belted, Finding)
    assert "lead" not in sentence(bare.what, System.METRIC)
    says = [sentence(found.do, System.METRIC) for found in (bare, belted)]
    assert says == [
        "Carry lighter cylinders or a second source of lift. Practise using it.",
        "Carry less lead or a second source of lift. Practise using it.",
    ]


def test_a_jacket_is_not_called_a_wing() -> None:
    """The shipped guest has a jacket; nothing that is said of it is about a wing."""
    said = [str((each.what, each.why, each.do)) for each in assessed(config("pair/guest")).findings]
    assert any("if the jacket fails" in each for each in said)
    assert not any("wing" in each for each in said)
