"""Whatever a file may say within its limits: everything is worked out and given, without an error and without a NaN."""

import json
from itertools import pairwise
from xml.etree import ElementTree

import jsonschema
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.buoyancy.curves import over_depth, over_gas
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import Diver, DiverHeader, FloatCheck
from kitbuilder.kit.fields import Field, ValueKind, fields_of
from kitbuilder.kit.gas_mix import gas_named
from kitbuilder.kit.items import KINDS, Header, Kit
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kit.stock import Stock, StockHeader, StockHose
from kitbuilder.kitfile.choices import choices_for
from kitbuilder.pictures.side_marks import side_marks
from kitbuilder.plans.ballast import ask_ballast
from kitbuilder.plans.fitting import plan_fitting
from kitbuilder.plans.pair.pair import pair_up
from kitbuilder.report.balance import balance_section
from kitbuilder.report.balance_pictures import plot_data
from kitbuilder.report.ballast import ballast_page
from kitbuilder.report.check import SHAPE as CHECK
from kitbuilder.report.check import check_page, kit_section
from kitbuilder.report.fit import fit_page
from kitbuilder.report.measuring import measuring_steps
from kitbuilder.report.numbers import System
from kitbuilder.report.origins import lead_origins_page
from kitbuilder.report.page import Page
from kitbuilder.report.pair import SHAPE as PAIR
from kitbuilder.report.pair import pair_page
from kitbuilder.report.route_picture import route_svg
from kitbuilder.report.shapes import DEFINITIONS
from kitbuilder.report.words import sentence
from tests.laws import tried
from tests.report.pages import page_json, page_text

GASES = ("air", "oxygen", "nitrox 32", "nitrox 1", "trimix 10/70", "trimix 50/50")
CONNECTED = (ValueKind.PORT, ValueKind.PORTS, ValueKind.PORT_NAMES)
"""Kinds of key left out: the fuzz of connections is the business of other tests."""


def values(field: Field, table: str) -> st.SearchStrategy:
    """Anything a key accepts, its limits among it."""
    match field.kind:
        case ValueKind.QUANTITY:
            ends = st.sampled_from((field.lowest, field.highest))
            return ends | st.floats(field.lowest, field.highest)
        case ValueKind.QUANTITIES:
            return st.lists(st.floats(field.lowest, field.highest), max_size=3).map(tuple)
        case ValueKind.CHOICE:
            return st.sampled_from(choices_for(field, table))
        case ValueKind.WHOLE:
            return st.sampled_from(field.choices).map(int)
        case ValueKind.FLAG:
            return st.booleans()
        case ValueKind.GAS:
            return st.sampled_from(GASES).map(gas_named)
        case ValueKind.LANDMARKS:
            rows = st.lists(st.sampled_from(list(catalogue().landmarks)), min_size=field.fewest, max_size=5)
            return rows.filter(no_landmark_twice_in_a_row).map(tuple)
        case ValueKind.PRICE:
            return st.integers(0, 10**6).map(lambda cents: cents / 100)
        case ValueKind.FILE:
            return st.sampled_from(("own.toml", "other.toml", "missing.toml"))
    return st.just("x")


def no_landmark_twice_in_a_row(rows: list[str]) -> bool:
    """As the reader asks."""
    return all(row != following for row, following in pairwise(rows))


def records(record: type, table: str) -> st.SearchStrategy:
    """A record with any of its keys."""
    fields = [field for field in fields_of(record) if field.kind not in CONNECTED]
    needed = {field.attribute: values(field, table) for field in fields if field.required}
    optional = {field.attribute: values(field, table) for field in fields if not field.required}
    return st.fixed_dictionaries(needed, optional=optional).map(lambda keys: record(**keys))


def tagged(items: list) -> tuple:
    """The same items, no two with one tag."""
    return tuple(type(item)(**{**_keys(item), "tag": f"item {number}"}) for number, item in enumerate(items))


def _keys(item: object) -> dict:
    return {field.attribute: getattr(item, field.attribute) for field in fields_of(type(item))}


floating = st.one_of(*(records(KINDS[kind], kind) for kind in KINDS))
cylinders = st.lists(records(KINDS["cylinder"], "cylinder"), min_size=1, max_size=3)
kits = st.builds(
    lambda header, some, more: Kit(header, tagged([*some, *more])),
    records(Header, ""),
    cylinders,
    st.lists(floating, max_size=6),
)
divers = st.builds(
    lambda header, checks: Diver(header, tagged(checks)),
    records(DiverHeader, ""),
    st.lists(records(FloatCheck, "float_check"), max_size=3),
)

hoses = st.builds(
    lambda header, some: Kit(header, tagged(some)),
    records(Header, ""),
    st.lists(records(KINDS["hose"], "hose"), min_size=1, max_size=4),
)

stocks = st.builds(
    lambda header, hoses: Stock(header, tuple(hoses)),
    records(StockHeader, ""),
    st.lists(records(StockHose, "hose"), max_size=4),
)


@tried(60)
@given(kit=kits, other=kits, diver=st.none() | divers, stock=st.none() | stocks, system=st.sampled_from(System))
def test_anything_a_file_may_say_is_worked_out_and_reported(kit, other, diver, stock, system):
    worn = (("other.toml", resolve(other, LinkedFiles(diver=diver))),)
    beside = LinkedFiles("own.toml", diver, worn, stock=stock)
    assessment = assess(resolve(kit, beside))
    checked = check_page([kit_section("own.toml", assessment)])
    for width in (60, 100):
        lines = page_text(checked, system, width).splitlines()
        assert not {"nan", "inf"} & set(" ".join(lines).lower().split())
        assert max(map(len, lines)) <= width
    said = json.loads(json.dumps(page_json(checked), allow_nan=False))
    jsonschema.validate(said, CHECK | {"$defs": DEFINITIONS})
    assert all(finding[part] for finding in said["files"][0]["findings"] for part in ("what", "why", "do"))
    assert page_text(ballast_page("own.toml", ask_ballast(resolve(kit, beside)), ()), system)
    plan = plan_fitting(assessment)
    assert page_text(fit_page("own.toml", plan), system)
    assert json.dumps(page_json(fit_page("own.toml", plan)), allow_nan=False)
    assert ElementTree.fromstring(route_svg(plan, system)).tag.endswith("svg")
    balance = assessment.balance
    if balance is None:
        return
    page = Page([balance_section(balance)])
    for width in (60, 100):
        assert not {"nan", "inf"} & set(page_text(page, system, width).lower().split())
    assert "nan" not in page_text(lead_origins_page(balance), system).lower().split()
    assert json.dumps(page_json(page), allow_nan=False)
    assert side_marks(balance) is not None
    for curves in (over_depth(balance), over_gas(balance)):
        ticks = [value for value, _ in plot_data(curves, system).y_ticks]
        assert ticks[0] <= min(y for _, points in curves.lines for _, y in points) + 1e-9
        assert ticks[-1] >= max(y for _, points in curves.lines for _, y in points) - 1e-9


@tried(6)
@given(one=kits, two=kits, three=st.none() | hoses, diver=st.none() | divers, system=st.sampled_from(System))
def test_any_kits_are_a_pair_or_three(one, two, three, diver, system):
    """Whatever is missing of one of them: a page within its width, JSON of its shape, and nothing that is no number."""
    given_kits = [kit for kit in (one, two, three) if kit is not None]
    names = ("one.toml", "two.toml", "three.toml")
    linked = [LinkedFiles(name, each) for name, each in zip(names, (diver, None, diver), strict=True)]
    worn = [assess(resolve(kit, beside)) for kit, beside in zip(given_kits, linked, strict=False)]
    found = pair_up(list(zip(names, worn, strict=False)))
    page = pair_page(found)
    for width in (60, 100):
        text = page_text(page, system, width)
        assert not {"nan", "inf", "None"} & set(text.split())
        assert max(map(len, text.splitlines())) <= width
    jsonschema.validate(json.loads(json.dumps(page_json(page), allow_nan=False)), PAIR | {"$defs": DEFINITIONS})
    assert len({member.name for member in found.members}) == len(given_kits)


@tried(75)
@given(kit=hoses, diver=st.none() | divers, stock=st.none() | stocks, system=st.sampled_from(System))
def test_any_hoses_are_fitted_on_any_body_from_any_stock(kit, diver, stock, system):
    """By their usual route, another one, or a path of any landmarks; whatever was measured."""
    assessment = assess(resolve(kit, LinkedFiles("own.toml", diver, (), stock=stock)))
    for finding in assessment.findings:
        assert all(sentence(part, system) for part in (finding.what, finding.why, finding.do))
    plan = plan_fitting(assessment)
    text = page_text(fit_page("own.toml", plan), system)
    assert not {"nan", "inf", "None"} & set(text.split())
    said = json.loads(json.dumps(page_json(fit_page("own.toml", plan)), allow_nan=False))
    worn = [item.tag for item in kit.items if not item.in_spares]
    assert [hose["tag"] for hose in said["hoses"]] == worn
    words = " ".join(text.split())
    assert all(f" {' '.join(tag.split())}: " in words for tag in worn)
    picture = ElementTree.fromstring(route_svg(plan, system))
    assert not any("nan" in value for part in picture.iter() for value in part.attrib.values())
    for figures in assessment.hoses:
        assert measuring_steps(figures)[0].key == "run"
