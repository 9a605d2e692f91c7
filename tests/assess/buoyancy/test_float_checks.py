"""Float checks: what they teach, against a plain update written here; and those that cannot be used."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from kitbuilder.assess.buoyancy.buoyancy_model import RESERVE, build_buoyancy_model, lead_sinks, total_buoyancy
from kitbuilder.assess.buoyancy.float_checks import Seen, evaluate_checks
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.water import assess_water
from kitbuilder.kit.diver import FloatCheck
from kitbuilder.kit.items import Kit, Lead
from kitbuilder.kit.resolved import LinkedFiles, resolve
from tests.assess.kits import OWN, PLAIN, WHOLE, balance_of, beside, config, float_check, kit_of, swapped, with_header
from tests.laws import tried

KIT = kit_of(PLAIN)


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


def least_squares(prior: Figure, checks: tuple[Seen, ...]) -> tuple[float, float]:
    """Value and spread of a figure after the checks: every source of error is one unknown, zero ± one.

    One row for each unknown says that it is zero; one for each check says that it was seen as it was. The reading of
    a check is divided out, as its own error.
    """
    told = [(each.computed, each.measured) for each in checks if each.is_counted and each.computed]
    readings = [next(source for source in figure.components if source.startswith("reading of")) for figure, _ in told]
    names = sorted({*prior.components, *(name for figure, _ in told for name in figure.components)} - set(readings))
    rows, right = [np.eye(len(names))], [np.zeros(len(names))]
    for (figure, measured), reading in zip(told, readings, strict=True):
        error = figure.components[reading]
        rows.append(np.array([[figure.components.get(name, 0.0) / error for name in names]]))
        right.append(np.array([(measured - figure.value) / error]))
    matrix = np.vstack(rows)
    unknowns = np.linalg.lstsq(matrix, np.concatenate(right), rcond=None)[0]
    target = np.array([prior.components.get(name, 0.0) for name in names])
    left = target @ np.linalg.inv(matrix.T @ matrix) @ target
    return prior.value + target @ unknowns, left**0.5


# --- what they teach --------------------------------------------------------------------------------------------------


@given(checks=CHECKS)
@tried(15)
def test_float_checks_teach_as_least_squares_do(checks: list[FloatCheck]) -> None:
    """Source: numpy's least squares over the unknowns themselves; with the lead that is told, the stop is neutral."""
    found, before = balance_of(KIT, beside(*checks)), balance_of(KIT)
    assert all(each.is_counted for each in found.checks)
    value, spread = least_squares(total_buoyancy(found.buoyancy_model, 5.0, RESERVE, found.lead.value), found.checks)
    assert value == pytest.approx(0, abs=1e-6)
    assert found.lead.combined == pytest.approx(spread / (1 - 1025 / 11340))
    for one, other in zip(before.moments, found.moments, strict=True):
        value, spread = least_squares(one.buoyancy, found.checks)
        assert other.buoyancy.value == pytest.approx(value, abs=1e-6)
        assert other.buoyancy.combined == pytest.approx(spread)


@pytest.mark.parametrize("name", WHOLE)
@pytest.mark.parametrize("lead", [1.0, 4.0, 8.0])
def test_with_the_answer_of_a_check_the_stop_is_neutral(name: str, lead: float) -> None:
    """The lead that is told makes the corrected total zero; and it goes where the check was."""
    kit, check = kit_of(config(name)), float_check(lead_kg=lead)
    found = balance_of(kit, beside(check))
    others = (replace(item, mass_kg=1e-9) if isinstance(item, Lead) else item for item in kit.items)
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
    buoyancy_model = build_buoyancy_model(resolve(fresh, LinkedFiles(diver=beside().diver)), assess_water(fresh.header))
    assert found.computed.value == pytest.approx(total_buoyancy(buoyancy_model, 2.0, 80e5, 3.0).value)


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
    buoyancy_model = build_buoyancy_model(resolve(other, LinkedFiles(diver=beside().diver)), assess_water(other.header))
    assert found.checks[0].computed.value == pytest.approx(total_buoyancy(buoyancy_model, 5.0, RESERVE, 4.0).value)
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
    by = 1.0 if word == "floated" else -1.0
    [vague], [told] = seen(float_check(seen=word)), seen(float_check(seen=word, by_kgf=by))
    assert vague.because == "how much lead made it neutral is not given"
    assert told.is_counted


@pytest.mark.parametrize(
    ("word", "by", "because"),
    [
        ("floated", -1.0, "it floated, and yet lead was taken off"),
        ("sank", 1.0, "it sank, and yet lead was added"),
        (None, 1.0, "what was seen is not given"),
        (None, None, "what was seen is not given"),
    ],
)
def test_what_cannot_have_been_seen_is_not_counted(word: str | None, by: float | None, because: str) -> None:
    """A slip of the sign teaches nothing, nor does a check that was only written down; what is computed is shown."""
    told = float_check(seen=word, by_kgf=by, lead_kg=20.0)
    [found] = seen(told)
    assert (found.is_counted, found.contradicts, found.because) == (False, False, because)
    assert found.computed is not None
    assert balance_of(KIT, beside(told)).lead == balance_of(KIT).lead


def test_a_check_counts_while_the_kit_is_made_of_what_it_was() -> None:
    """Told by what was written down then; nothing written down is taken for the same kit."""
    then = "aluminium 11.1 L 207; full suit 7 mm; single-cylinder wing"
    same, other, untold = seen(
        float_check("same", worn=then.replace("7 mm", "5 mm")), float_check("other", worn=then), float_check("untold")
    )
    assert same.is_counted
    assert untold.is_counted
    assert other.because == "the kit has changed since: then full suit 7 mm, now full suit 5 mm"


def test_a_check_in_another_kit_looks_at_that_kit() -> None:
    """What is changed is the kit that was worn, not the one that is asked about."""
    other = swapped(KIT, "tank", preset="steel 10 L 232")
    then = "full suit 5 mm; single-cylinder wing; steel 10 L 232"
    [found] = seen(float_check(kit="other.toml", worn=then), kits=(("other.toml", other),))
    assert found.is_counted
    [found] = seen(float_check(kit="other.toml", worn=then), kits=(("other.toml", KIT),))
    assert found.because == "the kit has changed since: then steel 10 L 232, now aluminium 11.1 L 207"


def test_a_check_in_a_kit_that_is_gone_is_told() -> None:
    """By the name of its file."""
    [found] = seen(float_check(kit="gone.toml"))
    assert found.because == "gone.toml, the kit that was worn, is not in this folder or cannot be read"
    assert found.computed is None


def test_a_check_in_a_kit_without_a_known_cylinder_is_told() -> None:
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


def test_it_stays_counted_until_it_is_excluded() -> None:
    """The lead is pulled its way, and is much less sure; both come back.

    By hand: 15 kg and three times 5.6 kg are 8 kg on average. They are 9.4 kg apart, so that each must be off by about
    that much, their average by half of it, 4.4 kg; by itself the lead is 5.6 ± 2.7. That is 6.3 ± 2.3.
    """
    without_it = balance_of(KIT, beside(*GOOD)).lead
    with_it = balance_of(KIT, beside(*GOOD, BAD)).lead
    excluded = balance_of(KIT, beside(*GOOD, float_check("slip", lead_kg=15.0, excluded=True))).lead
    assert with_it.value == pytest.approx(6.3, abs=0.3)
    assert with_it.spread == pytest.approx(2.3, abs=0.3)
    assert without_it.spread < 0.5
    assert excluded == without_it


def readings(found: tuple[Seen, ...]) -> list[float]:
    """How unsure each reading is taken to be [kgf]."""
    return [abs(each.computed.components[f"reading of {each.check.tag}"]) for each in found if each.computed]


def test_checks_that_agree_are_not_widened() -> None:
    """Half a kilogram for a hover, 0.3 kg for lead in pieces: limits of the catalogue."""
    assert readings(seen(*GOOD)) == pytest.approx([0.5] * 3)
    assert readings(seen(*GOOD, float_check("pieces", seen="floated", by_kgf=0.6, lead_kg=5.0))) == pytest.approx(
        [0.5] * 3 + [0.3]
    )


@given(checks=st.just([]) | CHECKS, by=st.floats(0.1, 15))
@example(checks=[seen_by(3.0, tag="first", kit=OWN, lead_kg=6.0, depth_m=7.0, pressure_pa=4027477.0)], by=6.0)
@example(checks=[], by=15.0)
@tried(15)
def test_readings_are_widened_by_the_worst_contradiction(checks: list[FloatCheck], by: float) -> None:
    """Each held against all the others by numpy's least squares; all readings are widened alike, until they agree.

    A check by itself is believed until it is twice as far off as it may be.

    Source: the expansion factor of the tables of physical constants (CODATA 2018). The first example is one that thirty
    rounds of widening by the contradiction that was left did not reach.
    """
    found = seen(*checks, float_check("last", seen="floated", by_kgf=by, lead_kg=5.0))
    assert all(each.is_counted for each in found)
    told = held_against_the_others(found, 0.3)
    for each, (residual, may) in zip(found, told, strict=True):
        assert (each.off, each.off_spread) == (pytest.approx(residual, abs=1e-6), pytest.approx(may))
        assert each.contradicts == (abs(residual) > may)
    believed = 1.0 if len(found) > 1 else 2.0
    [widened] = set(map(round_off, readings(found)))
    if all(abs(residual) <= believed * may for residual, may in told):
        assert widened == pytest.approx(0.3)
    else:
        assert widened > 0.3
        agreed = held_against_the_others(found, widened)
        assert max(abs(residual) / may for residual, may in agreed) == pytest.approx(believed, rel=1e-6)


def round_off(reading: float) -> float:
    return round(reading, 9)


def held_against_the_others(found: tuple[Seen, ...], reading: float) -> list[tuple[float, float]]:
    """By numpy: what each check misses by when the others are known, and how far it may, at a spread of a reading."""
    plain = tuple(each._replace(computed=read_to(each, reading)) for each in found)
    told = []
    for number, each in enumerate(plain):
        prior, others = read_to(each, 0.0), plain[:number] + plain[number + 1 :]
        value, spread = least_squares(prior, others) if others else (prior.value, prior.combined)
        told.append((each.measured - value, float(np.hypot(spread, reading))))
    return told


def read_to(each: Seen, spread: float) -> Figure:
    """What is computed for a check, its reading as sure as that."""
    assert each.computed is not None
    name = f"reading of {each.check.tag}"
    rest = {source: share for source, share in each.computed.components.items() if source != name}
    return each.computed._replace(components=rest | ({name: spread} if spread else {}))


@pytest.mark.parametrize("name", [*WHOLE, "plain"])
@pytest.mark.parametrize("lead", [1.0, 3.0])
def test_two_hovers_that_contradict_each_other_leave_the_lead_wide(name: str, lead: float) -> None:
    """Neutral with 7 kg of lead more: by themselves the two cannot tell better than about half of that, 3.5 kg.

    Nor are they worse than all of it. What else is known of body, suit and cylinder is as certain as before; together
    by the rule for two independent answers. Two hovers that agree leave half a kilogram.
    """
    kit = KIT if name == "plain" else kit_of(config(name))
    before = balance_of(kit).lead.spread
    found = balance_of(kit, beside(float_check("one", lead_kg=lead), float_check("other", lead_kg=lead + 7.0)))
    assert all(each.contradicts for each in found.checks)
    after = found.lead.spread
    by_themselves = (after**-2 - before**-2) ** -0.5
    assert 3.0 <= by_themselves <= 7.0
    agreeing = balance_of(kit, beside(float_check("one", lead_kg=lead), float_check("other", lead_kg=lead + 0.2)))
    assert agreeing.lead.spread < 0.2 * after


def test_an_absurd_check_leaves_the_answer_wide_and_flagged() -> None:
    """Floated with 30 kg and wanted 14 more, where 5.6 kg ± 3 are computed: it hardly narrows the lead."""
    check = float_check(seen="floated", by_kgf=14.0, lead_kg=30.0)
    before, after = balance_of(KIT), balance_of(KIT, beside(check))
    [found] = after.checks
    assert found.contradicts
    assert found.off == pytest.approx((44 - 5.6) * (1 - 1025 / 11340), abs=0.3)
    assert after.lead.spread > 0.8 * before.lead.spread
    sober = balance_of(KIT, beside(float_check(seen="floated", by_kgf=1.0, lead_kg=5.0)))
    assert sober.lead.spread < 0.2 * before.lead.spread


def test_a_single_check_may_contradict_body_suit_and_cylinder() -> None:
    """Neutral with 30 kg, where 5.6 kg ± 3 are computed."""
    [found] = seen(float_check(lead_kg=30.0))
    assert found.contradicts
    assert found.off == pytest.approx(found.measured - found.computed.value)
    assert lead_sinks(assess_water(KIT.header)) * (30.0 - 5.6) == pytest.approx(found.off, abs=0.3)
