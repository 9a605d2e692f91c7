"""What a hose costs at the peak of a breath: the test of a standard, a separate calculation, and laws.

EN 250:2014, 6.7.1 breathes 62.5 L a minute, 25 breaths of 2.5 L, as a sine, at 6 bar absolute, which is 50 m (found in
the standard). The losses are those of `tests/physics/hose_flow.tsv` (computed with fluids 1.3.1,
not published); its roughnesses are those between which a hose is taken to lie.
"""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from kitbuilder.assess.findings import Finding, Signal
from kitbuilder.assess.hoses.hose_flow import ATMOSPHERE_PA, PA_PER_M, Flow, flow_through
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Header, Hose
from tests.assess.kits import assessed, changed, lone_hose
from tests.assess.rules.cases import of_item
from tests.physics.published import half_a_digit, rows

BAR = 1e5
MM = 1e-3
LITRE_PER_MINUTE = 1e-3 / 60
TABLE = [row for row in rows("hose_flow.tsv") if row["flow"] == "peak" and float(row["ambient_bar"]) > 1]
"""At 1 bar there is no depth to write down."""
LENGTHS = st.floats(0.05, 5.0)
BORES = st.floats(2.0, 15.0).map(lambda bore: bore * MM)
DEPTHS = st.floats(3.0, 100.0)
MORE = st.floats(1.01, 2.0)


def flow(length_m: float, bore_m: float | None, deepest_m: float | None, **hose: str) -> Flow | None:
    """The flow through a rubber primary."""
    values = {"tag": "hose", "role": "primary", "body": "rubber"} | hose
    header = Header(format=1, name="kit", layout="single", deepest_m=deepest_m)
    return flow_through(Hose(**values, length_m=length_m, bore_m=bore_m), header)


def loss(length_m: float, bore_m: float, deepest_m: float) -> float:
    """The pressure lost [Pa]; without end where the hose cannot pass the breath."""
    found = flow(length_m, bore_m, deepest_m)
    assert found is not None
    return found.drop.value if found.drop else math.inf


def depth_of(ambient_bar: str) -> float:
    """The depth at which that is the pressure around the diver [m]."""
    return (float(ambient_bar) * BAR - ATMOSPHERE_PA) / PA_PER_M


# --- the test of the standard -----------------------------------------------------------------------------------------


def test_the_breath_is_that_of_the_standard() -> None:
    """The peak of a sine is pi times its mean: 196.35 L a minute, counted at the pressure around the diver."""
    found = flow(2.1, 6 * MM, 50.0)
    assert found is not None
    assert found.flow_m3_s == pytest.approx(math.pi * 25 * 2.5 * LITRE_PER_MINUTE)
    assert found.flow_m3_s / LITRE_PER_MINUTE == pytest.approx(196.35, abs=0.005)


def test_six_bar_are_fifty_metres() -> None:
    """As the standard has it, to a hand's breadth."""
    assert depth_of("6") == pytest.approx(50.0, abs=0.15)


@pytest.mark.parametrize("ambient", ["4", "6"])
def test_a_long_hose_loses_what_a_separate_calculation_says(ambient: str) -> None:
    """2.1 m of 6 mm; the value for a drawn tube, the range from a smooth bore to worn rubber."""
    by_roughness = {
        row["roughness_um"]: row["drop_bar"]
        for row in TABLE
        if (row["ambient_bar"], row["length_m"], row["bore_mm"]) == (ambient, "2.1", "6")
    }
    found = flow(2.1, 6 * MM, depth_of(ambient))
    assert found is not None and found.drop is not None
    for pressure, roughness in ((found.drop.value, "10"), (found.drop.low, "0"), (found.drop.high, "50")):
        drop = by_roughness[roughness]
        assert pressure / BAR == pytest.approx(float(drop), abs=half_a_digit(drop))


@pytest.mark.parametrize(
    "row",
    [row for row in TABLE if row["roughness_um"] == "0" and float(row["bore_mm"]) >= 6],
    ids=lambda row: "-".join(row[key] for key in ("ambient_bar", "length_m", "bore_mm")),
)
def test_no_hose_loses_less_than_a_smooth_one(row: dict[str, str]) -> None:
    """From 56 cm to 210 cm, 6 and 7 mm: the low end of the range is the smooth bore's."""
    found = flow(float(row["length_m"]), float(row["bore_mm"]) * MM, depth_of(row["ambient_bar"]))
    assert found is not None and found.drop is not None
    assert found.drop.low / BAR == pytest.approx(float(row["drop_bar"]), abs=half_a_digit(row["drop_bar"]))
    assert found.drop.low < found.drop.value < found.drop.high


def test_a_hose_that_chokes_only_at_its_roughest_may_pass_the_breath() -> None:
    """2.1 m of 5 mm at 6 bar: smooth, it loses 2.67 bar; worn, it may lose all there is. That is no "cannot at all"."""
    [smooth] = [row for row in TABLE if (row["ambient_bar"], row["length_m"], row["bore_mm"]) == ("6", "2.1", "5")]
    found = flow(2.1, 5 * MM, depth_of("6"))
    assert found is not None and found.drop is not None
    assert found.drop.low / BAR == pytest.approx(float(smooth["drop_bar"]), abs=half_a_digit(smooth["drop_bar"]))
    assert found.drop.low < found.drop.value < found.drop.high <= 9.5 * BAR
    assert found.is_too_much


# --- laws -------------------------------------------------------------------------------------------------------------


@given(LENGTHS, BORES, DEPTHS, MORE)
def test_longer_and_deeper_costs_more_and_wider_less(length: float, bore: float, depth: float, more: float) -> None:
    """The deeper, the denser the gas; friction works along the whole length."""
    here = loss(length, bore, depth)
    assume(here < math.inf)
    assert loss(length * more, bore, depth) > here
    assert loss(length, bore, depth * more) > here
    assert loss(length, bore * more, depth) < here


@given(LENGTHS, BORES, DEPTHS, MORE)
def test_what_one_hose_cannot_pass_no_longer_or_thinner_one_can(
    length: float, bore: float, depth: float, more: float
) -> None:
    """Nor at a greater depth."""
    assume(loss(length, bore, depth) == math.inf)
    assert loss(length * more, bore, depth) == math.inf
    assert loss(length, bore / more, depth) == math.inf
    assert loss(length, bore, depth * more) == math.inf


# --- what is not told -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("body", ["rubber", "braided", "polyurethane"])
def test_without_a_bore_that_of_the_body_is_taken_and_without_a_depth_30_m(body: str) -> None:
    """6.4 mm, a quarter of an inch, in every LP hose of the catalogue."""
    assert flow(2.1, None, None, body=body) == flow(2.1, 6.4 * MM, 30.0)


@pytest.mark.parametrize("role", sorted(catalogue().roles))
def test_only_what_is_breathed_through_has_a_flow(role: str) -> None:
    """Neither a gauge, a sender, an inflator nor a suit draws a breath."""
    breathed = {"primary", "alternate", "long hose", "necklace", "second stage", "stage second stage"}
    assert (flow(0.75, None, 30.0, role=role) is not None) == (role in breathed)


# --- the finding ------------------------------------------------------------------------------------------------------


def at_depth(depth: str, **hose: str) -> str:
    """A kit of one long hose for that depth."""
    return changed(
        lone_hose(role="long hose", **hose), ('layout = "single"', f'layout = "single"\ndeepest = "{depth}"')
    )


def test_a_hose_that_chokes_is_a_warning() -> None:
    """2.1 m of 4 mm at 6 bar: choked in the separate calculation, even with a smooth bore."""
    found = flow(2.1, 4 * MM, depth_of("6"))
    assert found is not None
    assert found.drop is None
    assert found.is_too_much
    [finding] = of_item(assessed(at_depth("50 m", length="210 cm", bore="4 mm")), "pressure drop", "hose")
    assert isinstance(finding, Finding)
    assert finding.signal is Signal.WARNING


def test_a_loss_a_second_stage_would_notice_is_a_caution() -> None:
    """210 cm of 6 mm lose 1.62 bar at 50 m; 270 cm lose at least 270/210 of that, 2.08 bar, since gas that has lost
    pressure flows faster. 2 bar go unnoticed.
    """
    short, long = (at_depth("50 m", length=length, bore="6 mm") for length in ("210 cm", "270 cm"))
    assert of_item(assessed(short), "pressure drop", "hose") == []
    [finding] = of_item(assessed(long), "pressure drop", "hose")
    assert isinstance(finding, Finding)
    assert finding.signal is Signal.CAUTION
