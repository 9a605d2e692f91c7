"""What else comes off and goes on in a changeover, by hand: lead by its pieces, suits by their cut, what is worn."""

from collections import Counter

import pytest

from kitbuilder.kit.resolved import NOTHING_LINKED, resolve
from kitbuilder.plans.ballast import counterparts
from kitbuilder.plans.changeover import plan_changeover
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import PLAIN, assessed, beside, changed, kit_of, shipped, without

MADE = ("make", "plug in")
LESS_LEAD = changed(PLAIN, ("pieces = 6", "pieces = 4"))
DRYSUIT = '\n[[drysuit]]\ntag = "dry one"\npreset = "trilaminate shell"\n'


def moved(first: str, second: str) -> list[str]:
    """The steps in which items come off and go on that are no part of a regulator."""
    plan = plan_changeover(assessed(first, beside()), assessed(second, beside()))
    said = [sentence(step.what, System.METRIC) for step in plan.steps]
    return [line for line in said if line.startswith(("Comes off: ", "Goes on: "))]


def test_what_is_in_both_kits_stays() -> None:
    """Of six pieces of lead four, the wing and the cylinder; a thicker suit is another suit."""
    thicker = changed(LESS_LEAD, ('"5 mm"', '"7 mm"'))
    assert moved(PLAIN, thicker) == [
        "Comes off: full suit of 5 mm; 2 × lead of 1.00 kg.",
        "Goes on: full suit of 7 mm.",
    ]
    assert moved(thicker, PLAIN) == [
        "Comes off: full suit of 7 mm.",
        "Goes on: full suit of 5 mm; 2 × lead of 1.00 kg.",
    ]


def test_from_a_kit_to_itself_nothing_moves() -> None:
    """Neither off nor on."""
    assert moved(PLAIN, PLAIN) == []


def test_what_is_worn_and_new_goes_on() -> None:
    """A drysuit in place of the suit of foam; the wing, which stays, is not named."""
    assert moved(PLAIN, without(PLAIN, "suit") + DRYSUIT) == [
        "Comes off: full suit of 5 mm.",
        'Goes on: "dry one".',
    ]


@pytest.mark.parametrize(
    ("stamps", "steel"),
    [
        ("", "steel 10 L 232"),  # 11.1 L at 207 bar hold as much as 9.9 L at 232
        ('volume = "7.8 L"\n', "steel 7 L 232"),  # 7.8 L at 207 bar hold as much as 7.0 L at 232
        ('working_pressure = "130 bar"\nvolume = "9 L"\n', "steel 5 L 232"),  # as much as 5.0 L
    ],
)
def test_the_counterpart_of_a_cylinder_holds_as_much_as_is_stamped_on_it(stamps: str, steel: str) -> None:
    """A stamp beats the preset: volume times pressure, by hand."""
    preset = 'preset = "aluminium 11.1 L 207"\n'
    kit = kit_of(changed(PLAIN, (preset, preset + stamps)))
    assert counterparts(resolve(kit, NOTHING_LINKED)) == (steel,)


def test_how_hard_to_tighten_is_said_with_both_ends() -> None:
    """As in `catalogue/bench_work.toml`: 3 to 4.5 Nm in a 3/8 port, 4.5 to 7 Nm in a 7/16 port; common practice."""
    plan = plan_changeover(shipped("twinset"), shipped("sidemount"))
    said = [sentence(step.what, System.METRIC) for step in plan.steps if "Then tighten" in str(step.what)]
    assert said
    for line in said:
        assert "LP with" in line
        assert "3.0 N·m to 4.5 N·m" in line
    assert any("HP with" in line and "4.5 N·m to 7.0 N·m" in line for line in said)


def test_the_tools_are_those_that_the_steps_name() -> None:
    """Each spanner or key that a step takes, once; none where nothing is loosened."""
    plan = plan_changeover(shipped("twinset"), shipped("sidemount"))
    works = [step.work for step in plan.steps if step.work]
    named = {tool for work in works for tool in (work.turn_with, work.hold_with) if tool}
    assert named <= set(plan.tools)
    assert "14 mm (9/16 in), on some hoses 15 or 16 mm" in plan.tools
    assert list(plan.tools) == sorted(set(plan.tools))
    assert plan_changeover(shipped("twinset"), shipped("twinset")).tools == ()


@pytest.mark.parametrize(("first", "second"), [("twinset", "sidemount"), ("cold-single", "twinset")])
def test_the_rings_are_those_of_the_joints_and_plugs_that_the_steps_make(first: str, second: str) -> None:
    """What is only undone needs none: its ring goes with it."""
    plan = plan_changeover(shipped(first), shipped(second))
    made = Counter(ring for step in plan.steps if step.work and step.verb in MADE for ring in step.work.o_rings)
    assert made
    assert plan.rings == dict(made)
