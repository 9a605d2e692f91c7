"""Float checks: what they teach, against a plain update written here; and those that cannot be used."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kitbuilder.assess.afloat import RESERVE, float_of, lead_sinks, put_afloat
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.float_checks import Seen, look_at_checks
from kitbuilder.assess.water import assess_water
from kitbuilder.kit.diver import Beside, FloatCheck
from kitbuilder.kit.things import Kit, Lead
from tests.assess.kits import OWN, PLAIN, WHOLE, balance_of, beside, config, float_check, kit_of, swapped, with_header

KIT = kit_of(PLAIN)
CHECKS = st.lists(
    st.builds(
        FloatCheck,
        tag=st.uuids().map(str),
        kit=st.just(OWN),
        seen=st.just("sank"),
        by_kgf=st.floats(-4, 4),
        lead_kg=st.floats(2, 10),
        depth_m=st.floats(0, 10),
        pressure_pa=st.floats(30e5, 150e5),
    ),
    min_size=1,
    max_size=4,
)


def seen(*checks: FloatCheck, kit: Kit = KIT, kits: tuple[tuple[str, Kit], ...] = ()) -> tuple[Seen, ...]:
    return look_at_checks(kit, beside(*checks, kits=kits))


def least_squares(prior: Figure, checks: tuple[Seen, ...]) -> tuple[float, float]:
    """Value and spread of a figure after the checks: every source of error is one unknown, nought give or take one.

    One row for each unknown says that it is nought; one for each check says that it was seen as it was. The reading of
    a check is divided out, as its own error.
    """
    told = [(each.computed, each.measured) for each in checks if each.is_counted and each.computed]
    readings = [next(source for source in figure.shares if source.startswith("reading of")) for figure, _ in told]
    names = sorted({*prior.shares, *(name for figure, _ in told for name in figure.shares)} - set(readings))
    rows, right = [np.eye(len(names))], [np.zeros(len(names))]
    for (figure, measured), reading in zip(told, readings, strict=True):
        error = figure.shares[reading]
        rows.append(np.array([[figure.shares.get(name, 0.0) / error for name in names]]))
        right.append(np.array([(measured - figure.value) / error]))
    matrix = np.vstack(rows)
    unknowns = np.linalg.lstsq(matrix, np.concatenate(right), rcond=None)[0]
    target = np.array([prior.shares.get(name, 0.0) for name in names])
    left = target @ np.linalg.inv(matrix.T @ matrix) @ target
    return prior.value + target @ unknowns, left**0.5


# --- what they teach --------------------------------------------------------------------------------------------------


@given(checks=CHECKS)
@settings(max_examples=15, deadline=None)
def test_float_checks_teach_as_least_squares_do(checks: list[FloatCheck]) -> None:
    """Source: numpy's least squares over the unknowns themselves; with the lead that is told, the stop is neutral."""
    found, before = balance_of(KIT, beside(*checks)), balance_of(KIT)
    value, spread = least_squares(float_of(found.afloat, 5.0, RESERVE, found.lead.value), found.checks)
    assert value == pytest.approx(0, abs=1e-6)
    assert found.lead.spread == pytest.approx(spread / (1 - 1025 / 11340))
    for one, other in zip(before.moments, found.moments, strict=True):
        value, spread = least_squares(one.buoyancy, found.checks)
        assert (other.buoyancy.value, other.buoyancy.spread) == (pytest.approx(value, abs=1e-6), pytest.approx(spread))


@pytest.mark.parametrize("name", WHOLE)
@pytest.mark.parametrize("lead", [1.0, 4.0, 8.0])
def test_with_the_answer_of_a_check_the_stop_is_neutral(name: str, lead: float) -> None:
    """The lead that is told makes the corrected total nought; and it goes where the check was."""
    kit, check = kit_of(config(name)), float_check(lead_kg=lead)
    found = balance_of(kit, beside(check))
    others = (replace(thing, mass_kg=1e-9) if isinstance(thing, Lead) else thing for thing in kit.things)
    carried = Kit(kit.header, (*others, Lead(tag="answer", mass_kg=found.lead.value)))
    assert balance_of(carried, beside(check)).stop.buoyancy.value == pytest.approx(0, abs=1e-6)
    assert abs(found.lead.value - lead) < found.lead.spread
    assert abs(found.lead.value - lead) < abs(balance_of(kit).lead.value - lead)


def test_a_check_that_shows_what_was_expected_moves_nothing() -> None:
    """It only makes the lead surer."""
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
    afloat = put_afloat(fresh, assess_water(fresh.header), beside().diver)
    assert found.computed.value == pytest.approx(float_of(afloat, 2.0, 80e5, 3.0).value)


@pytest.mark.parametrize("water", [None, "ocean"])
def test_a_check_in_the_water_of_the_kit_is_in_that_very_water(water: str | None) -> None:
    """A kit that does not name its water is dived in the ocean, at the temperature it tells."""
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
    afloat = put_afloat(other, assess_water(other.header), beside().diver)
    assert found.checks[0].computed.value == pytest.approx(float_of(afloat, 5.0, RESERVE, 4.0).value)
    own = balance_of(KIT, beside(float_check(lead_kg=4.0)))
    assert own.lead.spread < found.lead.spread < balance_of(KIT).lead.spread


# --- those that cannot be used ----------------------------------------------------------------------------------------


def test_an_excluded_check_is_shown_and_not_counted() -> None:
    """What is computed for it can still be read."""
    [found] = seen(float_check(lead_kg=20.0, excluded=True))
    assert (found.is_counted, found.contradicts, found.because) == (False, False, "it is excluded")
    assert found.computed is not None
    with_it, without_it = (balance_of(KIT, beside(*checks)).lead for checks in ([found.check], []))
    assert with_it == without_it


@pytest.mark.parametrize("word", ["sank", "floated"])
def test_sank_or_floated_needs_the_lead_that_made_it_neutral(word: str) -> None:
    """By how much is not known, so it is not counted."""
    [vague], [told] = seen(float_check(seen=word)), seen(float_check(seen=word, by_kgf=1.0))
    assert "how much lead made it neutral" in vague.because
    assert told.is_counted


def test_a_check_in_a_kit_that_is_gone_is_told() -> None:
    """By the name of its file."""
    [found] = seen(float_check(kit="gone.toml"))
    assert "gone.toml is not there" in found.because
    assert found.computed is None


def test_a_check_in_a_kit_without_a_known_cylinder_is_told() -> None:
    """Nothing can be computed for it."""
    bare = Kit(KIT.header, KIT.things[1:])
    [found] = seen(float_check(kit="bare.toml"), kits=(("bare.toml", bare),))
    assert "cylinders of bare.toml" in found.because


def test_without_a_diver_there_are_no_checks() -> None:
    """They stand in the diver's file."""
    assert look_at_checks(KIT, Beside(OWN)) == ()


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


def test_it_stays_counted_until_it_is_excluded() -> None:
    """The lead is pulled its way, and comes back."""
    without_it = balance_of(KIT, beside(*GOOD)).lead
    with_it = balance_of(KIT, beside(*GOOD, BAD)).lead
    excluded = balance_of(KIT, beside(*GOOD, float_check("slip", lead_kg=15.0, excluded=True))).lead
    assert with_it.value > without_it.value + 1.0
    assert excluded == without_it


def test_a_single_check_may_contradict_body_suit_and_cylinder() -> None:
    """Neutral with 30 kg, where 5.6 kg give or take 3 are told."""
    [found] = seen(float_check(lead_kg=30.0))
    assert found.contradicts
    assert found.off == pytest.approx(found.measured - found.computed.value)
    assert lead_sinks(assess_water(KIT.header)) * (30.0 - 5.6) == pytest.approx(found.off, abs=0.3)
