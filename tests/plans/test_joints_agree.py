"""Random hoses between random parts: check, fit, fewest hoses and changeover agree with a table of pairs.

What joins is worked out here from the catalogue file and nothing else: two sides join when they are of one designation
and of opposite gender. Of the threads that hoses meet, no other pair holds: see the table of pairs beside the tests of
threads.
"""

import tomllib
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

import kitbuilder.catalogue
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Signal
from kitbuilder.assess.hoses.joints import right_hose
from kitbuilder.assess.rules.joints import JOINT_RULES
from kitbuilder.kit.gear import Gear, GearHeader, OwnedHose
from kitbuilder.plans.changeover import Unbuildable, plan_changeover
from kitbuilder.plans.fewest import HoseSources
from kitbuilder.plans.fewest.candidates import candidates_for, why_not
from kitbuilder.plans.fewest.runs import runs_of
from kitbuilder.plans.fitting import plan_fitting
from tests.assess.kits import assessed, hose_text

FILE = tomllib.loads((Path(kitbuilder.catalogue.__file__).parent / "fittings.toml").read_text("utf-8"))
ENDS, INLETS, ADAPTERS = ({row["name"]: row for row in FILE[table]} for table in ("fitting", "inlet", "adapter"))
THREADS = ("3/8-24 UNF", "7/16-20 UNF", "1/2-20 UNF", "9/16-18 UNF")
SERVICE = {"primary": "LP", "wing inflator": "LP", "gauge": "HP", "transmitter": "HP"}
DEVICES = {"second_stage": "LP", "wing": "LP", "gauge": "HP", "transmitter": "HP"}
Words = dict[str, Any]


def named(rows: Words, services: tuple[str, ...], place: str | None = None) -> list[str]:
    """The names of a table for these pressure classes, and for one end of a hose."""
    return [name for name, row in rows.items() if row["service"] in services and place in (None, row.get("place"))]


def maybe(names: list[str]) -> st.SearchStrategy[str | None]:
    """One of them, or nothing."""
    return st.one_of(st.none(), st.sampled_from(names))


@st.composite
def situations(draw: st.DrawFn) -> Words:
    """A hose with its port and its device. Mostly of one pressure class and without adapters: else nearly all fail."""
    some = draw(st.sampled_from((("LP",), ("HP",), ("LP",), ("HP",), ("LP", "HP"))))
    kind = draw(st.sampled_from([name for name, service in DEVICES.items() if service in some]))
    adapters = st.none() if draw(st.booleans()) else maybe(list(ADAPTERS))
    hose: Words = {
        "role": draw(st.sampled_from([name for name, service in SERVICE.items() if service in some])),
        "from": draw(st.sampled_from([None, *(f"first {service}1" for service in some * 3)])),
        "from_end": draw(maybe(named(ENDS, some, "first stage"))),
        "from_adapter": draw(adapters),
        "to_end": draw(maybe(named(ENDS, some, "device"))),
        "to_adapter": draw(adapters),
    }
    ports = {name: draw(st.sampled_from(THREADS)) for name in ("LP1", "HP1")}
    inlets = named(INLETS, (DEVICES[kind],))
    return {"hose": hose, "ports": ports, "kind": kind, "inlet": draw(st.sampled_from([None, *inlets * 2]))}


def text_of(case: Words) -> str:
    """The case as a kit file."""
    ports = ", ".join(f'"{name} {thread}"' for name, thread in case["ports"].items())
    inlet = f'inlet = "{case["inlet"]}"' if case["inlet"] else ""
    keys = {key: value for key, value in case["hose"].items() if value}
    return "\n".join(
        [
            'format = 1\nname = "joints"\nlayout = "single"',
            f'[[first_stage]]\ntag = "first"\nports = [{ports}]',
            hose_text(tag="hose", to="device", length="75 cm", run="60 cm", **keys),
            f'[[{case["kind"]}]]\ntag = "device"\n{inlet}',
            "",
        ]
    )


# --- the pairs, worked out here ---------------------------------------------------------------------------------------

Half = tuple[str, str]


def half(row: Words) -> Half:
    return row["joint"], row["gender"]


def pair_joins(one: Half, other: Half) -> bool:
    return one[0] == other[0] and {one[1], other[1]} == {"male", "female"}


def end_joins(near: Half | None, adapter: str | None, end: str) -> bool:
    """Whether a hose end, or its adapter, holds on port or inlet; nothing speaks against it where that is not known."""
    if near is None:
        return True
    if adapter is None:
        return pair_joins(near, half(ENDS[end]))
    far, by_hose = half(ADAPTERS[adapter]["far_side"]), half(ADAPTERS[adapter]["hose_side"])
    return pair_joins(near, far) and pair_joins(by_hose, half(ENDS[end]))


def classes_agree(case: Words, ends: tuple[str, str], adapters: tuple[str | None, str | None]) -> bool:
    """Whether port, hose and device are of one pressure class, and nothing undoes the coding of the threads."""
    service, port = SERVICE[case["hose"]["role"]], (case["hose"]["from"] or f"first {SERVICE[case['hose']['role']]}1")
    weak = [row for row in (ENDS[ends[0]], ADAPTERS.get(adapters[0] or "")) if row and row["service"] == "LP"]
    if port[6:8] == "HP" and (service == "LP" or (weak and case["hose"]["from"])):
        return False
    if port[6:8] != service or DEVICES[case["kind"]] != service:
        return False
    return not any(ADAPTERS[name].get("defeats_coding") for name in adapters if name)


def nears(case: Words) -> tuple[Half | None, Half | None]:
    """What port and device offer; None where it is not known."""
    port = case["hose"]["from"]
    return (case["ports"][port[6:]], "female") if port else None, half(INLETS[case["inlet"]]) if case["inlet"] else None


def joins(case: Words, ends: tuple[str, str], adapters: tuple[str | None, str | None]) -> bool:
    pairs = zip(nears(case), adapters, ends, strict=True)
    return all(end_joins(*pair) for pair in pairs) and classes_agree(case, ends, adapters)


def ends_possible(case: Words) -> Iterator[tuple[str, str]]:
    """Both ends as given; every end of its pressure class where one is left out."""
    service = SERVICE[case["hose"]["role"]]
    left_out = [
        [name for name, row in ENDS.items() if (row["place"], row["service"]) == (place, service)]
        for place in ("first stage", "device")
    ]
    given = case["hose"]["from_end"], case["hose"]["to_end"]
    first, second = ([end] if end else names for end, names in zip(given, left_out, strict=True))
    yield from product(first, second)


def present_joins(case: Words) -> bool:
    adapters = case["hose"]["from_adapter"], case["hose"]["to_adapter"]
    return any(joins(case, ends, adapters) for ends in ends_possible(case))


def some_hose_joins(case: Words) -> bool:
    """Whether any hose of its pressure class does, with or without adapters of that class.

    It may keep a present end of the other class: one cut for an HP port holds in an LP port of that thread.
    """
    bare = case | {"hose": case["hose"] | {"from_end": None, "to_end": None}}
    service = SERVICE[case["hose"]["role"]]
    usable = [None, *(name for name, row in ADAPTERS.items() if row["service"] == service)]
    given = case["hose"]["from_end"], case["hose"]["to_end"]
    sold = [{name for name in names if name} for names in zip(given, *ends_possible(bare), strict=True)]
    return any(joins(case, ends, pair) for ends in product(*sold) for pair in product(usable, usable))


# --- and everything that asks -----------------------------------------------------------------------------------------


@given(case=situations())
def test_the_judgement_is_that_of_the_pairs(case: Words) -> None:
    """True, false, or not known where nothing speaks against it and a side is missing."""
    [figures] = assessed(text_of(case)).hoses
    known = None not in nears(case)
    assert figures.joints.joins is (False if not present_joins(case) else True if known else None)
    if figures.joints.joins:
        assert right_hose(figures.joints) == figures.hose
    assert (right_hose(figures.joints) is not None) == some_hose_joins(case)


@given(case=situations())
def test_check_warns_of_exactly_the_hoses_that_do_not_join(case: Words) -> None:
    """By one of the rules of joints."""
    found = assessed(text_of(case))
    assert bool(of_joints(found)) == (not present_joins(case))


def of_joints(found: Assessment) -> list[str]:
    return [each.rule for each in found.findings if each.rule in JOINT_RULES and each.signal >= Signal.WARNING]


@given(case=situations())
def test_fit_never_keeps_a_hose_that_does_not_join_and_sells_only_hoses_that_do(case: Words) -> None:
    """Where no hose joins, none is sold."""
    plan = plan_fitting(assessed(text_of(case)), buy_all=True)
    [fitted] = plan.hoses
    assert (fitted.joins is False) == (not present_joins(case))
    assert fitted.is_stuck == (not some_hose_joins(case)) == (not plan.shopping)
    adapters = fitted.bought.from_adapter, fitted.bought.to_adapter
    for line in plan.shopping:
        assert joins(case, (line.at_first_stage.name, line.at_device.name), adapters)
        assert line.adapters == tuple(name for name in adapters if name)


EVERY_HOSE = Gear(
    GearHeader(format=1, holds="gear", name="one of each"),
    tuple(
        OwnedHose(tag=f"{near} to {far}", body="rubber", length_m=0.75, from_end=near, to_end=far)
        for near, far in product(
            *([n for n, row in ENDS.items() if row["place"] == at] for at in ("first stage", "device"))
        )
    ),
)


@given(case=situations())
def test_fewest_hoses_uses_only_hoses_that_join(case: Words) -> None:
    """Of a gear file with every pair of ends, and of every customary hose."""
    [run] = runs_of((("kit", assessed(text_of(case))),))
    served = [
        candidate
        for candidate in candidates_for([run], HoseSources(gear=EVERY_HOSE))
        if not why_not(run, candidate, any_body=True)
    ]
    assert bool(served) == some_hose_joins(case)
    adapters = run.hose.from_adapter, run.hose.to_adapter
    assert all(joins(case, (each.spec.from_end, each.spec.to_end), adapters) for each in served)


@given(case=situations())
def test_a_changeover_builds_only_what_joins(case: Words) -> None:
    """From a kit of nothing but the first stage: the plan is refused when a joint could not be made."""
    text = text_of(case)
    bare = assessed(text[: text.index("[[hose]]")])
    try:
        plan_changeover(bare, assessed(text))
    except Unbuildable:
        assert not present_joins(case)
    else:
        assert present_joins(case)
