"""The checklist, carried out on a model of the bench: what comes of it is the other kit, and nothing else."""

from itertools import permutations

import pytest
from hypothesis import given

from kitbuilder.assess.assessment import Assessment
from kitbuilder.kit.items import Kit
from kitbuilder.plans.changeover import Changeover, plan_changeover
from kitbuilder.plans.changeover.build import build_of
from kitbuilder.plans.changeover.match import Match, match_builds
from kitbuilder.plans.changeover.step import CHECK, WORK, Step
from kitbuilder.plans.changeover.steps import steps_of
from kitbuilder.report.changeover import tick_key
from tests.assess.kits import WHOLE, shipped
from tests.laws import tried
from tests.plans.bench_model import Bench, what_is_wanted
from tests.plans.test_changeover_optimal import kits

PAIRS = list(permutations(WHOLE, 2))


@pytest.fixture(scope="module")
def assessments() -> dict[str, Assessment]:
    return {name: shipped(name) for name in WHOLE}


def bench_after(match: Match, steps: tuple[Step, ...]) -> Bench:
    to_get = {key: match.target.parts[key] for key in match.bought}
    return Bench(match.source, match.store, to_get).carry_out(steps)


def assert_is_built(bench: Bench, match: Match) -> None:
    assert bench.what_is_built() == what_is_wanted(match.target)
    assert max(bench.loosened.values(), default=0) <= 1, "something is loosened twice"
    stages = [part for part in match.target.parts.values() if part.kind == "first_stage"]
    assert len(bench.on_valve) == len(stages)


@pytest.mark.parametrize(("first", "second"), PAIRS)
def test_the_steps_alone_build_the_other_kit(assessments, first: str, second: str) -> None:
    plan = plan_changeover(assessments[first], assessments[second])
    assert_is_built(bench_after(plan.match, plan.steps), plan.match)


@tried(150)
@given(kits(closed=True), kits(closed=True))
def test_so_they_do_from_any_kit_to_any_other(first: Kit, second: Kit) -> None:
    match = match_builds(build_of(first), build_of(second))
    steps = steps_of(match, ())
    assert_is_built(bench_after(match, steps), match)
    assert len({tick_key(step) for step in steps}) == len(steps), "two steps share a tick"


@tried(75)
@given(kits(closed=True), kits(closed=True))
def test_the_way_back_undoes_the_way_there(first: Kit, second: Kit) -> None:
    """What the way there leaves is the second kit joint by joint, under its names; from there the way back is taken."""
    there = match_builds(build_of(first), build_of(second))
    middle = bench_after(there, steps_of(there, ()))
    back = match_builds(build_of(second), build_of(first))
    again = middle.taken_up_as(there).carry_out(steps_of(back, ()))
    assert again.what_is_built() == what_is_wanted(there.source)


@pytest.mark.parametrize(("first", "second"), PAIRS)
def test_the_phases_follow_one_another(assessments, first: str, second: str) -> None:
    """No phase is taken up again once it was left; steps are numbered through."""
    steps = plan_changeover(assessments[first], assessments[second]).steps
    phases = list(dict.fromkeys(step.phase for step in steps))
    assert [phases.index(step.phase) for step in steps] == sorted(phases.index(step.phase) for step in steps)
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))


@pytest.mark.parametrize(("first", "second"), PAIRS)
def test_every_joint_says_what_it_takes(assessments, first: str, second: str) -> None:
    for step in plan_changeover(assessments[first], assessments[second]).steps:
        if step.verb in ("undo", "make", "plug in", "plug out", "close"):
            assert step.work is not None, step.what
            assert step.work.turn_with
            assert step.work.how


def test_leak_function_and_on_body_checks_come_last(assessments) -> None:
    plan = plan_changeover(assessments["twinset"], assessments["sidemount"])
    last_joint = max(step.number for step in plan.steps if step.verb == "make")
    checks = [step for step in plan.steps if step.verb == CHECK]
    assert min(step.number for step in checks) > last_joint
    said = " ".join(str(step.what) for step in checks)
    for word in ("Vacuum", "Bubbles", "Intermediate pressure", "Inflators", "head left", "Balance"):
        assert word in said


def text_of(plan: Changeover) -> str:
    return "\n".join("".join(str(piece) for piece in step.what) for step in plan.steps)


def test_the_valve_check_says_what_each_valve_takes(assessments) -> None:
    """By hand from the file: the right post feeds primary and wing, the left one the rest; in the order of the file."""
    said = text_of(plan_changeover(assessments["sidemount"], assessments["twinset"]))
    assert "Valve of right post closed. Gas still reaches: necklace, gauge, drysuit. No gas: primary, wing." in said
    assert "Valve of left post closed. Gas still reaches: primary, wing. No gas: necklace, gauge, drysuit." in said


def test_nothing_to_do_is_nothing_undone(assessments) -> None:
    """From a kit to itself nothing is loosened; the check in the water is left."""
    plan = plan_changeover(assessments["twinset"], assessments["twinset"])
    assert {step.verb for step in plan.steps} <= {WORK, CHECK}
    assert "Balance" in text_of(plan)
    assert plan.match.cost == (0, 0, 0, 0)
