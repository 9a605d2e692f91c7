"""Float checks: what they teach, against a plain update written here; and those that cannot be used."""

from dataclasses import replace
from itertools import product
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from kitbuilder.assess.buoyancy.buoyancy_model import RESERVE, build_buoyancy_model, lead_sinks, total_buoyancy
from kitbuilder.assess.buoyancy.float_checks import Seen, evaluate_checks
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.water import assess_water
from kitbuilder.kit.diver import FloatCheck
from kitbuilder.kit.items import Cylinder, Kit, Lead
from kitbuilder.kit.resolved import LinkedFiles, resolve
from tests.assess.buoyancy.simulated import NORMAL_95
from tests.assess.kits import (
    OWN,
    PLAIN,
    WHOLE,
    balance_of,
    beside,
    config,
    float_check,
    kit_of,
    swapped,
    with_header,
    with_items,
    without,
)
from tests.laws import tried

KIT = kit_of(PLAIN)
DRY = without(PLAIN, "suit") + '\n[[drysuit]]\ntag = "drysuit"\npreset = "trilaminate shell"\nundersuit = "heavy"\n'
"""With 13 L of gas in the suit."""


def seen_by(by_kgf: float, **keys: object) -> FloatCheck:
    """Lead that was added means that it floated."""
    return FloatCheck(seen="floated" if by_kgf > 0 else "sank", by_kgf=by_kgf, **keys)  # type: ignore[arg-type]


CHECKS = st.lists(
    st.builds(
        seen_by,
        st.floats(-4, 4),
        tag=st.uuids().map(str),
        kit=st.just(OWN),
        lead_kg=st.floats(2, 10),
        depth_m=st.floats(0, 10),
        pressure_pa=st.floats(30e5, 150e5),
    ),
    min_size=1,
    max_size=4,
)


def seen(*checks: FloatCheck, kit: Kit = KIT, kits: tuple[tuple[str, Kit], ...] = ()) -> tuple[Seen, ...]:
    return evaluate_checks(resolve(kit, beside(*checks, kits=kits)))


HOVER_KG, PIECES_KG, SLIP_KG, SLIPS = 0.5, 0.3, 5.0, 0.1
"""How well a hover and lead in pieces are read, how large a slip is and how often: common practice, no source."""


def reading(each: Seen) -> float:
    return HOVER_KG if each.check.by_kgf is None else PIECES_KG


class Unknowns(NamedTuple):
    """The sources of error of a figure and of checks as unknowns, each zero ± one."""

    target: np.ndarray
    table: np.ndarray
    """One row for each check."""
    misses: np.ndarray


def unknowns_of(prior: Figure, checks: tuple[Seen, ...]) -> Unknowns:
    described = [(each.computed, each.measured - each.computed.value) for each in checks if each.computed]
    names = sorted({*prior.components, *(name for figure, _ in described for name in figure.components)})
    return Unknowns(
        np.array([prior.components.get(name, 0.0) for name in names]),
        np.array([[figure.components.get(name, 0.0) for name in names] for figure, _ in described]).reshape(
            -1, len(names)
        ),
        np.array([miss for _, miss in described]),
    )


def least_squares(prior: Figure, checks: tuple[Seen, ...], readings: list[float]) -> tuple[float, float]:
    """Value and spread of a figure after checks with these errors of reading, all of them good.

    One row for each unknown says that it is zero; one for each check says that it was seen as it was.
    """
    target, table, misses = unknowns_of(prior, checks)
    errors = np.array(readings)
    matrix = np.vstack([np.eye(len(target)), table / errors[:, None]])
    unknowns = np.linalg.lstsq(matrix, np.concatenate([np.zeros(len(target)), misses / errors]), rcond=None)[0]
    left = target @ np.linalg.inv(matrix.T @ matrix) @ target
    return prior.value + target @ unknowns, left**0.5


def with_slips(prior: Figure, checks: tuple[Seen, ...]) -> tuple[float, float]:
    """The same when one check in ten is a slip: every combination of slips by itself, weighed by how well it explains.

    Source: Bayes' rule; a slip adds 5 kg, or as much as the check is off from all else.
    """
    _, table, misses = unknowns_of(prior, checks)
    answers, logs = [], []
    for slips in product((False, True), repeat=len(checks)):
        errors = [
            float(np.hypot(reading(each), max(SLIP_KG, abs(each.off)) if is_slip else 0.0))
            for each, is_slip in zip(checks, slips, strict=True)
        ]
        answers.append(least_squares(prior, checks, errors))
        covariance = (table @ table.T + np.diag(np.square(errors))) / NORMAL_95**2
        chance = sum(np.log(SLIPS if is_slip else 1 - SLIPS) for is_slip in slips)
        logs.append(chance - np.linalg.slogdet(covariance)[1] / 2 - misses @ np.linalg.solve(covariance, misses) / 2)
    weights = np.exp(np.array(logs) - max(logs))
    weights /= weights.sum()
    values, spreads = np.array(answers).T
    mean = weights @ values
    return float(mean), float(weights @ (spreads**2 + NORMAL_95**2 * (values - mean) ** 2)) ** 0.5


# --- what they teach --------------------------------------------------------------------------------------------------


@given(checks=CHECKS)
@example(checks=[seen_by(1.0, tag="one", kit=OWN, lead_kg=5.0), seen_by(-1.0, tag="other", kit=OWN, lead_kg=8.0)])
@tried(15)
def test_float_checks_teach_as_bayes_has_it(checks: list[FloatCheck]) -> None:
    """With the lead that is given, the stop is neutral; a moment is worth what all combinations of slips make of it."""
    found, before = balance_of(KIT, beside(*checks)), balance_of(KIT)
    assert all(each.is_counted for each in found.checks)
    stop = total_buoyancy(found.buoyancy_model, 5.0, RESERVE, found.lead.value)
    value, spread = with_slips(stop, found.checks)
    assert value == pytest.approx(0, abs=1e-4)
    for one, other in zip(before.moments, found.moments, strict=True):
        value, spread = with_slips(one.buoyancy, found.checks)
        assert other.buoyancy.value == pytest.approx(value, abs=1e-4)
        assert other.buoyancy.combined == pytest.approx(spread, rel=1e-4)


@given(checks=CHECKS)
@tried(15)
def test_each_check_is_held_against_all_else(checks: list[FloatCheck]) -> None:
    """By numpy's least squares of the others: what it misses by, and how far it may."""
    found = seen(*checks)
    for number, each in enumerate(found):
        others = found[:number] + found[number + 1 :]
        value, spread = least_squares(each.computed, others, [reading(other) for other in others])
        assert each.off == pytest.approx(each.measured - value, abs=1e-6)
        assert each.off_spread == pytest.approx(np.hypot(spread, reading(each)))
        assert each.contradicts == (abs(each.off) > each.off_spread)


@pytest.mark.parametrize("name", WHOLE)
@pytest.mark.parametrize("part", [-0.5, 0.3, 0.7])
def test_with_the_answer_of_a_check_the_stop_is_neutral(name: str, part: float) -> None:
    """The lead that is given makes the corrected total zero; and it goes where the check was."""
    kit = kit_of(config(name))
    lead = max(0.0, balance_of(kit).lead.value + part * balance_of(kit).lead.spread)
    check = float_check(lead_kg=lead)
    found = balance_of(kit, beside(check))
    others = (replace(item, mass_kg=1e-9) if isinstance(item, Lead) else item for item in kit.items)
    carried = Kit(kit.header, (*others, Lead(tag="answer", mass_kg=found.lead.value)))
    assert balance_of(carried, beside(check)).stop.buoyancy.value == pytest.approx(0, abs=1e-6)
    assert abs(found.lead.value - lead) < found.lead.spread
    assert abs(found.lead.value - lead) < abs(balance_of(kit).lead.value - lead)


def test_a_check_that_shows_what_was_expected_moves_nothing() -> None:
    """It only narrows the lead."""
    before = balance_of(KIT).lead
    after = balance_of(KIT, beside(float_check(lead_kg=before.value))).lead
    assert after.value == pytest.approx(before.value)
    assert after.spread < before.spread / 2


@pytest.mark.parametrize(("by", "measured"), [(None, 0.0), (1.0, 0.91), (-2.0, -1.82)])
def test_lead_taken_or_given_is_what_it_weighs_in_water(by: float | None, measured: float) -> None:
    """A kilogram of lead is 0.91 kgf in the sea; added lead means that it floated."""
    [found] = seen(float_check(seen="floated" if by and by > 0 else "sank" if by else "neutral", by_kgf=by))
    assert found.measured == pytest.approx(measured, abs=0.002)


def test_a_check_speaks_of_its_own_water_depth_gas_and_lead() -> None:
    """Computed for what it says, not for the plan."""
    check = float_check(lead_kg=3.0, depth_m=2.0, pressure_pa=80e5, water="fresh")
    [found] = seen(check)
    fresh = with_header(KIT, density_kg_m3=None, water="fresh")
    buoyancy_model = build_buoyancy_model(resolve(fresh, LinkedFiles(diver=beside().diver)), assess_water(fresh.header))
    assert found.computed.value == pytest.approx(total_buoyancy(buoyancy_model, 2.0, 80e5, 3.0).value)


@pytest.mark.parametrize(
    ("keys", "less_kg"),
    [
        ({}, 0.0),
        ({"pressure_pa": 50e5, "stage_pressure_pa": 50e5}, 0.0),
        ({"pressure_pa": 80e5}, 11.1 * 30 * 0.00119),
        ({"stage_pressure_pa": 110e5}, 7 * 60 * 0.00125),
        ({"pressure_pa": 80e5, "stage_pressure_pa": 110e5}, 11.1 * 30 * 0.00119 + 7 * 60 * 0.00125),
    ],
)
def test_a_check_with_a_stage_takes_the_pressure_of_both_gases(keys: dict[str, float], less_kg: float) -> None:
    """By hand: a litre at a bar and 20 °C is 1.19 g of air, 1.25 g of 50 % oxygen; 11.1 and 7 L; 8 % for compression.

    What is not given is at its reserve of 50 bar.
    """
    stage = Cylinder(tag="stage", preset="aluminium 7 L 207", carried="stage", oxygen=0.5)
    kit = with_items(KIT, stage)
    [plain], [found] = seen(float_check(), kit=kit), seen(float_check(**keys), kit=kit)
    assert plain.computed.value - found.computed.value == pytest.approx(less_kg, rel=0.08, abs=1e-9)


def test_what_differs_from_dive_to_dive_is_no_more_known_after_a_check() -> None:
    """Three hovers in a drysuit leave 8 % of its 13 L of gas for the next dive, and 1 / √3 of it for those before."""
    dry = kit_of(DRY)
    lead = balance_of(dry).lead.value
    checked = balance_of(dry, beside(*(float_check(tag, lead_kg=lead) for tag in ("one", "two", "three"))))
    assert checked.stop.buoyancy.spread > 0.08 * 13 * 1.025 * (1 + 1 / 3) ** 0.5
    assert checked.stop.buoyancy.components["from dive to dive: gas in drysuit"] == pytest.approx(0.08 * 13 * 1.025)


@pytest.mark.parametrize("water", [None, "ocean"])
def test_a_check_in_the_water_of_the_kit_is_in_that_very_water(water: str | None) -> None:
    """A kit that does not name its water is used in the ocean, at the temperature it gives."""
    cold = with_header(KIT, density_kg_m3=None, temperature_k=275.15)
    [plain] = seen(float_check(), kit=cold)
    [named] = seen(float_check(water=water), kit=cold)
    assert named.computed == plain.computed


def test_a_check_in_another_kit_counts() -> None:
    """It tells of the same body and suit, but not of a cylinder that this kit has not."""
    other = swapped(KIT, "tank", preset="steel 10 L 232")
    check = float_check(kit="other.toml", lead_kg=4.0)
    found = balance_of(KIT, beside(check, kits=(("other.toml", other),)))
    assert found.checks[0].is_counted
    buoyancy_model = build_buoyancy_model(resolve(other, LinkedFiles(diver=beside().diver)), assess_water(other.header))
    assert found.checks[0].computed.value == pytest.approx(total_buoyancy(buoyancy_model, 5.0, RESERVE, 4.0).value)
    own = balance_of(KIT, beside(float_check(lead_kg=4.0)))
    assert own.lead.spread < found.lead.spread < balance_of(KIT).lead.spread


# --- those that cannot be used ----------------------------------------------------------------------------------------


def test_an_excluded_check_is_shown_and_not_counted() -> None:
    """What is computed for it can still be read."""
    [found] = seen(float_check(lead_kg=20.0, excluded=True))
    assert (found.is_counted, found.contradicts, found.because) == (False, False, "the diver file excludes it")
    assert found.computed is not None
    with_it, without_it = (balance_of(KIT, beside(*checks)).lead for checks in ([found.check], []))
    assert with_it == without_it


@pytest.mark.parametrize("word", ["sank", "floated"])
def test_sank_or_floated_needs_the_lead_that_made_it_neutral(word: str) -> None:
    """By how much is not known, so it is not counted."""
    by = 1.0 if word == "floated" else -1.0
    [vague], [described] = seen(float_check(seen=word)), seen(float_check(seen=word, by_kgf=by))
    assert vague.because == "the file does not say how much lead was added or taken off"
    assert described.is_counted


@pytest.mark.parametrize(
    ("word", "by", "because"),
    [
        ("floated", -1.0, "the diver floated, but lead was taken off"),
        ("sank", 1.0, "the diver sank, but lead was added"),
        (None, 1.0, "the file does not say what was seen"),
        (None, None, "the file does not say what was seen"),
    ],
)
def test_what_cannot_have_been_seen_is_not_counted(word: str | None, by: float | None, because: str) -> None:
    """A slip of the sign teaches nothing, nor does a check that was only written down; what is computed is shown."""
    described = float_check(seen=word, by_kgf=by, lead_kg=20.0)
    [found] = seen(described)
    assert (found.is_counted, found.contradicts, found.because) == (False, False, because)
    assert found.computed is not None
    assert balance_of(KIT, beside(described)).lead == balance_of(KIT).lead


def test_a_check_counts_while_the_kit_is_made_of_what_it_was() -> None:
    """Recognised by what was written down then; nothing written down is taken for the same kit."""
    then = "aluminium 11.1 L 207; full suit 7 mm; single-cylinder wing"
    same, other, not_given = seen(
        float_check("same", worn=then.replace("7 mm", "5 mm")),
        float_check("other", worn=then),
        float_check("not given"),
    )
    assert same.is_counted
    assert not_given.is_counted
    assert other.because == "the kit has changed since: then full suit 7 mm, now full suit 5 mm"


def test_a_check_in_another_kit_looks_at_that_kit() -> None:
    """What is changed is the kit that was worn, not the one that is asked about."""
    other = swapped(KIT, "tank", preset="steel 10 L 232")
    then = "full suit 5 mm; single-cylinder wing; steel 10 L 232"
    [found] = seen(float_check(kit="other.toml", worn=then), kits=(("other.toml", other),))
    assert found.is_counted
    [found] = seen(float_check(kit="other.toml", worn=then), kits=(("other.toml", KIT),))
    assert found.because == "the kit has changed since: then steel 10 L 232, now aluminium 11.1 L 207"


def test_a_check_in_a_kit_that_is_gone_is_reported() -> None:
    """By the name of its file."""
    [found] = seen(float_check(kit="gone.toml"))
    assert found.because == "gone.toml, the kit that was worn, is not in this folder or cannot be read"
    assert found.computed is None


def test_a_check_in_a_kit_without_a_known_cylinder_is_reported() -> None:
    """Nothing can be computed for it."""
    bare = Kit(KIT.header, KIT.items[1:])
    [found] = seen(float_check(kit="bare.toml"), kits=(("bare.toml", bare),))
    assert "cylinders of bare.toml" in found.because


def test_without_a_diver_there_are_no_checks() -> None:
    """They stand in the diver's file."""
    assert evaluate_checks(resolve(KIT, LinkedFiles(OWN))) == ()


# --- contradictions ---------------------------------------------------------------------------------------------------

GOOD = tuple(float_check(f"good {number}", lead_kg=lead) for number, lead in enumerate((5.3, 5.6, 5.9)))
BAD = float_check("slip", lead_kg=15.0)


def test_agreeing_checks_contradict_nothing() -> None:
    """Three within a breath of each other."""
    assert not any(found.contradicts for found in seen(*GOOD))


@pytest.mark.parametrize("place", range(4))
def test_one_that_contradicts_the_others_is_found(place: int) -> None:
    """Wherever it stands: neutral with 15 kg where three others tell 5.6 kg, so it floated by 9.4 kg more."""
    checks = [*GOOD]
    checks.insert(place, BAD)
    found = seen(*checks)
    [slip] = [each for each in found if each.check is BAD]
    assert slip.contradicts
    assert slip.off == pytest.approx(9.4 * (1 - 1025 / 11340), abs=0.5)
    assert max(found, key=lambda each: abs(each.off) / each.off_spread) is slip


def test_one_slip_among_three_good_checks_hardly_moves_the_lead() -> None:
    """By hand: three agree on 5.6 kg; that the fourth, 9.4 kg off, is the good one takes three slips at once.

    The lead stays to a tenth of a kilogram, and nearly as certain as if the slip were excluded.
    """
    without_it = balance_of(KIT, beside(*GOOD)).lead
    with_it = balance_of(KIT, beside(*GOOD, BAD)).lead
    excluded = balance_of(KIT, beside(*GOOD, float_check("slip", lead_kg=15.0, excluded=True))).lead
    assert with_it.value == pytest.approx(without_it.value, abs=0.1)
    assert without_it.spread - 1e-3 <= with_it.spread < 1.1 * without_it.spread < 0.5
    assert excluded == without_it


def test_a_slip_of_two_kilograms_is_not_shown_as_certain() -> None:
    """Alone it may as well be a body that floats more: the spread has room for it. A second check shows it.

    A hover is read to 0.5 kg; two that agree are known to about 0.4, and one to no less than 0.7. Two that are 2 kg
    apart, where one of them is a slip, leave both leads inside.
    """
    alone = balance_of(KIT, beside(float_check("slip", lead_kg=7.6))).lead
    both = balance_of(KIT, beside(float_check("slip", lead_kg=7.6), float_check("good", lead_kg=5.6)))
    third = balance_of(
        KIT,
        beside(float_check("slip", lead_kg=7.6), float_check("good", lead_kg=5.6), float_check("next", lead_kg=5.5)),
    )
    assert alone.spread > 0.7
    assert all(each.contradicts for each in both.checks)
    assert both.lead.value - both.lead.spread < 5.6 < 7.6 < both.lead.value + both.lead.spread
    assert third.lead.value == pytest.approx(5.55, abs=0.1)
    assert third.lead.spread < 0.6


@pytest.mark.parametrize("name", [*WHOLE, "plain"])
def test_two_hovers_that_contradict_each_other_leave_the_lead_wide(name: str) -> None:
    """Neutral with 4 kg of lead more than computed and with 4 kg less: neither is adopted, and both are flagged.

    They are 8 kg apart, and each alone is off by more than body and suit allow or nearly so. Two that agree narrow it.
    """
    kit = KIT if name == "plain" else kit_of(config(name))
    # A hover with less than no lead cannot be made: it sank with none, and lead of the kit was taken off.
    middle = balance_of(kit).lead
    low = float_check("low", seen="sank", by_kgf=-4.0, lead_kg=middle.value)
    high = float_check("high", seen="floated", by_kgf=4.0, lead_kg=middle.value)
    found = balance_of(kit, beside(low, high))
    assert all(each.contradicts for each in found.checks)
    assert found.lead.value == pytest.approx(middle.value, abs=0.3)
    assert found.lead.spread > 0.6 * middle.spread
    agreeing = (float_check("one", lead_kg=middle.value), float_check("other", lead_kg=middle.value + 0.2))
    assert balance_of(kit, beside(*agreeing)).lead.spread < 0.6 * found.lead.spread


def test_an_absurd_check_leaves_the_answer_wide_and_flagged() -> None:
    """Floated with 30 kg and wanted 14 more, where 5.6 kg ± 3 are computed: it hardly narrows the lead."""
    check = float_check(seen="floated", by_kgf=14.0, lead_kg=30.0)
    before, after = balance_of(KIT), balance_of(KIT, beside(check))
    [found] = after.checks
    assert found.contradicts
    assert found.off == pytest.approx((44 - 5.6) * (1 - 1025 / 11340), abs=0.3)
    assert after.lead.spread > 0.8 * before.lead.spread
    sober = balance_of(KIT, beside(float_check(seen="floated", by_kgf=1.0, lead_kg=5.0)))
    assert sober.lead.spread < 0.3 * before.lead.spread
    assert after.lead.value == pytest.approx(before.lead.value, abs=0.5)


def test_a_single_check_may_contradict_body_suit_and_cylinder() -> None:
    """Neutral with 30 kg, where 5.6 kg ± 3 are computed."""
    [found] = seen(float_check(lead_kg=30.0))
    assert found.contradicts
    assert found.off == pytest.approx(found.measured - found.computed.value)
    assert lead_sinks(assess_water(KIT.header)) * (30.0 - 5.6) == pytest.approx(found.off, abs=0.3)
