"""Kits from a counter with odd parts: what is sold joins port and device, and nothing that does not join is kept.

The ends are worked out by hand from the parts: a male end of the thread of the port, and a female end of what the
device offers. Old first stages have 3/8-24 on the HP port, some have one LP port of 1/2-20; a second stage with a
built-in swivel takes its own hose only.
"""

from pathlib import Path

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.findings import Signal
from kitbuilder.assess.rules.joints import JOINT_RULES
from kitbuilder.kit.resolved import NOTHING_LINKED
from kitbuilder.kit.stock import Stock, StockHeader, StockHose
from kitbuilder.kitfile.read import resolve_at
from kitbuilder.plans.changeover import Unbuildable, plan_changeover
from kitbuilder.plans.fewest import HoseSources, find_fewest
from kitbuilder.plans.fewest.candidates import candidates_for, why_not
from kitbuilder.plans.fewest.runs import runs_of
from kitbuilder.plans.fitting import FittingPlan, plan_fitting
from kitbuilder.report.fewest import fewest_page
from kitbuilder.report.fit import fit_page
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import CONFIGS, assessed, config, kit_of, with_keys
from tests.each import each
from tests.report.pages import page_text

CASES = Path(__file__).parents[1] / "cases" / "counter"

ENDS = {
    "primary hose": ("male 1/2-20 UNF", "female built-in swivel"),  # half LP1, a built-in swivel
    "octopus hose": ("male 3/8-24 UNF", "female 1/2-20 UNF"),  # first LP2, an inlet of 1/2
    "inflator hose": ("male 3/8-24 UNF", "female large-bore nipple"),  # first LP3
    "gauge hose": ("male 3/8-24 UNF", "female gauge swivel"),  # first HP1, an old one
    "stage gauge hose": ("male 7/16-20 UNF", "female gauge swivel"),  # half HP1, a usual one
}


def counter(name: str) -> str:
    """The text of a case."""
    return (CASES / f"{name}.toml").read_text(encoding="utf-8")


def sold(plan: FittingPlan) -> dict[str, tuple[str, str]]:
    """Both ends of the hose that is bought for each."""
    return {
        tag: tuple(f"{end.gender} {end.joint}" for end in (line.at_first_stage, line.at_device))
        for line in plan.shopping
        for tag in line.tags
    }  # type: ignore[return-value]


def shelf(*ends: tuple[str, str]) -> Stock:
    """A stock with hoses of 75 cm and 100 cm with these ends."""
    hoses = [
        StockHose(tag=f"S{number}-{length}", body="rubber", length_m=length / 100, from_end=near, to_end=far)
        for number, (near, far) in enumerate(ends)
        for length in (75, 100, 120)
    ]
    return Stock(StockHeader(format=1, holds="stock", name="a shelf"), tuple(hoses))


@pytest.mark.parametrize("name", ["odd", "odd2", "odd3"])
def test_every_hose_that_is_sold_joins_its_port_and_its_device(name: str) -> None:
    """Whether its ends are given, left out, or wrong: odd3 writes LP 3/8 for the 1/2 port."""
    assert sold(plan_fitting(assessed(counter(name)), buy_all=True)) == ENDS


def test_a_hose_of_good_length_that_does_not_connect_is_replaced() -> None:
    """75 cm is long enough for the primary; its LP 3/8 end slides into the 1/2 port and is shot out."""
    plan = plan_fitting(assessed(counter("odd3")))
    [primary] = [fitted for fitted in plan.hoses if fitted.figures.hose.tag == "primary hose"]
    assert (primary.joins, primary.is_bought, primary.is_stuck) == (False, True, False)
    assert sold(plan)["primary hose"] == ENDS["primary hose"]


@pytest.mark.parametrize("name", ["w", "wb"])
def test_a_hose_with_the_wrong_coupling_is_never_kept(name: str) -> None:
    """A standard coupling on a large-bore nipple; check warns about it."""
    found = assessed(counter(name))
    plan = plan_fitting(found)
    warned = {found.kit.items[finding.item].tag for finding in found.findings if finding.rule == "coupling family"}  # type: ignore[index]
    assert warned == {fitted.figures.hose.tag for fitted in plan.hoses if fitted.joins is False} == {"inflator hose"}
    assert sold(plan)["inflator hose"] == ("male 3/8-24 UNF", "female large-bore nipple")


def test_ends_that_are_left_out_are_taken_as_those_that_join() -> None:
    """Check says so of each, and finds no thread that differs; what the usual end would do is said with it."""
    found = assessed(counter("odd"))
    rules = {finding.rule for finding in found.findings}
    assert rules.isdisjoint({"thread at the port", "thread at the device", "coupling family", "pressure class"})
    taken = {
        (found.kit.items[line.item].tag, line.key): "".join(map(str, line.because))
        for line in found.unchecked
        if "assumed to be" in "".join(map(str, line.because)) and line.item is not None
    }
    assert len(taken) == 2 * len(ENDS)
    assert "assumed to be LP 1/2" in taken["primary hose", "from_end"]
    assert "the usual LP 3/8 does not fit" in taken["primary hose", "from_end"]
    assert "the usual one" not in taken["octopus hose", "from_end"]


def test_a_hose_that_no_stock_has_comes_from_the_maker() -> None:
    """The built-in swivel, and no other; also where a shop has hoses whose ends are not given."""
    for stock in (
        None,
        Stock(
            StockHeader(format=1, holds="stock", name="a shelf"), (StockHose(tag="any", body="braided", length_m=0.75),)
        ),
    ):
        plan = plan_fitting(assessed(counter("odd"), NOTHING_LINKED._replace(stock=stock)), buy_all=True)
        assert [line.tags for line in plan.shopping if line.only_from_maker] == [("primary hose",)]
        [line] = [line for line in plan.shopping if line.only_from_maker]
        assert line.stocked is None


def test_an_odd_inlet_may_have_a_usual_hose_and_an_adapter() -> None:
    """Without a stock the adapter is named beside the hose; where a stock has usual hoses only, it is needed."""
    plan = plan_fitting(assessed(counter("odd")), buy_all=True)
    [line] = [line for line in plan.shopping if line.tags == ("octopus hose",)]
    assert (line.adapters, line.or_adapters) == ((), ("inlet adapter 1/2 to 9/16",))
    usual = NOTHING_LINKED._replace(stock=shelf(("LP 3/8", "second stage 9/16")))
    plan = plan_fitting(assessed(counter("odd"), usual), buy_all=True)
    [line] = [line for line in plan.shopping if line.tags == ("octopus hose",)]
    assert line.stocked is not None
    assert (line.at_device.joint, line.adapters) == ("9/16-18 UNF", ("inlet adapter 1/2 to 9/16",))


def test_fewest_hoses_names_the_adapter_that_fit_would_use() -> None:
    """A shop with usual hoses only: for the inlet of 1/2 both name the adapter; the old HP port has none."""
    usual = NOTHING_LINKED._replace(stock=shelf(("LP 3/8", "second stage 9/16"), ("HP 7/16", "gauge swivel")))
    found = find_fewest((("odd", assessed(counter("odd"), usual)),), HoseSources(stock=usual.stock))
    adapters = {each.run.hose.tag: each.or_adapters for each in found.unserved_runs}
    assert adapters["octopus hose"] == ("inlet adapter 1/2 to 9/16",)
    assert adapters["gauge hose"] == ()
    given = page_text(fewest_page(found, ()))
    assert "one with the usual ends would fit with the inlet adapter 1/2 to 9/16" in " ".join(given.split())


def test_no_adapter_that_defeats_the_coding_is_ever_advised() -> None:
    """An old HP port of 3/8 and a shop with HP 7/16 hoses: the hose has to be made."""
    usual = NOTHING_LINKED._replace(stock=shelf(("HP 7/16", "gauge swivel")))
    plan = plan_fitting(assessed(counter("odd"), usual), buy_all=True)
    [line] = [line for line in plan.shopping if line.tags == ("gauge hose",)]
    assert (line.at_first_stage.joint, line.adapters, line.is_made) == ("3/8-24 UNF", (), True)
    assert "none is available with these ends and this body" in " ".join(page_text(fit_page("odd", plan)).split())
    assert not any("7/16 to 3/8" in name for line in plan.shopping for name in (*line.adapters, *line.or_adapters))


def test_a_hose_between_two_pressure_classes_is_moved_not_bought() -> None:
    """No hose joins an HP port and a second stage."""
    text = counter("w").replace('from     = "first LP1"', 'from     = "first HP1"')
    plan = plan_fitting(assessed(text))
    [primary] = [fitted for fitted in plan.hoses if fitted.figures.hose.tag == "primary hose"]
    assert (primary.joins, primary.is_stuck, primary.is_bought) == (False, True, False)
    assert "primary hose" not in sold(plan)


def test_fewest_hoses_considers_only_hoses_that_join() -> None:
    """Whatever their length; none for the built-in swivel, which only its maker has."""
    kits = (("odd", assessed(counter("odd3"))),)
    [primary] = [each for each in find_fewest(kits, HoseSources()).unserved_runs if each.run.hose.tag == "primary hose"]
    assert (primary.why, primary.nearest) == ("only the maker of the device has it", None)
    runs = runs_of(kits)
    candidates = candidates_for(runs, HoseSources())
    found = {
        run.hose.tag: {
            (candidate.spec.from_end, candidate.spec.to_end)
            for candidate in candidates
            if not why_not(run, candidate, any_body=False)
        }
        for run in runs
    }
    assert found == {
        "primary hose": set(),
        "octopus hose": {("LP 3/8", "second stage 1/2")},
        "inflator hose": {("LP 3/8", "large-bore nipple coupling")},
        "gauge hose": {("HP 3/8", "gauge swivel")},
        "stage gauge hose": {("HP 7/16", "gauge swivel")},
    }


# --- changeover -------------------------------------------------------------------------------------------------------

BARE = """format = 1
name = "one gauge"
layout = "single"
[[first_stage]]
tag = "first"
preset = "brass, DIN, 4 LP 2 HP"
"""
IN_PORT = '[[gauge]]\ntag = "gauge"\nport = "first HP1"\n'
ON_HOSE = (
    '[[gauge]]\ntag = "gauge"\n'
    '[[hose]]\ntag = "gauge hose"\nrole = "gauge"\nfrom = "first HP1"\nto = "gauge"\n'
    'body = "rubber"\nlength = "61 cm"\n'
)


def steps_between(first: str, second: str) -> list[str]:
    """The steps of a changeover, in words."""
    plan = plan_changeover(assessed(first), assessed(second))
    return [sentence(step.what, System.METRIC) for step in plan.steps]


def test_a_gauge_that_does_not_screw_into_a_port_is_not_built_there() -> None:
    """A gauge has a swivel pin, the port a thread; check warns about it."""
    with pytest.raises(Unbuildable) as refused:
        plan_changeover(assessed(BARE), assessed(BARE + IN_PORT + 'preset = "brass gauge"\n'))
    [reason] = refused.value.reasons
    assert "gauge swivel" in sentence(reason, System.METRIC)


def test_a_gauge_in_a_port_is_not_called_a_transmitter() -> None:
    """One with a thread of its own is screwed in like a transmitter, and stays a gauge."""
    plan = plan_changeover(assessed(BARE), assessed(BARE + IN_PORT + 'inlet = "transmitter 7/16"\n'))
    [work] = [step.work for step in plan.steps if step.work is not None and step.verb == "make"]
    assert (work.thread, work.service) == ("7/16-20 UNF", "HP")
    assert "transmitter" not in f"{work.name} {work.how}"


def test_a_device_whose_inlet_is_not_known_is_named() -> None:
    """It has no joint in the plan, and the plan says so, once."""
    said = [text for text in steps_between(BARE, BARE + ON_HOSE) if "is not in this plan" in text]
    assert said == [
        'The joint between "gauge hose" and "gauge" is not in this plan: "gauge" has no inlet and no preset. '
        "Write one of them."
    ]
    known = ON_HOSE.replace('tag = "gauge"\n', 'tag = "gauge"\npreset = "brass gauge"\n')
    assert not [text for text in steps_between(BARE, BARE + known) if "is not in this plan" in text]


def test_a_coupling_of_another_make_is_said_where_it_is_clicked_on() -> None:
    """Check has a caution about it."""
    text = config("twinset")
    other = with_keys(text, "wing hose", make="black")
    for target, is_said in ((text, False), (other, True)):
        [click] = [step for step in steps_between(config("sidemount"), target) if step.startswith('Click "wing hose')]
        assert ("They are of two makes" in click) is is_said
        assert is_said == any(each.rule == "coupling make" for each in assessed(target).findings)


# --- one verdict ------------------------------------------------------------------------------------------------------

KITS = [
    *sorted(CONFIGS.glob("*.toml")),
    *(
        path
        for folder in ("counter", "technical", "sameness")
        for path in sorted((CASES.parent / folder).glob("*.toml"))
    ),
]
KITS = [path for path in KITS if "holds" not in path.read_text("utf-8").split("[[", 1)[0]]


@each("path", KITS)
def test_check_fit_and_changeover_agree_on_every_joint(path: Path) -> None:
    """Of every kit that comes with the program, and of every case."""
    read = resolve_at(path, kit_of(path.read_text("utf-8")))
    found = assess(read)
    warned = [
        found.kit.items[finding.item].tag
        for finding in found.findings
        if finding.rule in JOINT_RULES and finding.signal >= Signal.WARNING and finding.item is not None
    ]
    hoses = {figures.hose.tag for figures in found.hoses}
    assert hoses & set(warned) == {one.figures.hose.tag for one in plan_fitting(found).hoses if one.joins is False}
    try:
        plan_changeover(found, found)
    except Unbuildable as refused:
        said = [sentence(reason, System.METRIC) for reason in refused.reasons]
        assert all(any(f'"{tag}"' in text for text in said) for tag in warned)
    else:
        assert not warned
