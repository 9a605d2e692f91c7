"""The answer of `kitbuilder pair` for programs."""

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount, Word
from kitbuilder.assess.fit.partner_reach import POSITIONS, PartnerReach
from kitbuilder.assess.fit.verdict import OUTCOMES
from kitbuilder.plans.pair.agreement import Agreement, OwnAmount
from kitbuilder.plans.pair.given import Given
from kitbuilder.plans.pair.joining import DRYSUIT, INFLATOR, NO, UNKNOWN, WITH_ADAPTER, YES
from kitbuilder.plans.pair.lift import Weighed
from kitbuilder.plans.pair.pair import Pair
from kitbuilder.plans.pair.single import Counted
from kitbuilder.plans.pair.supplies import GAS_KEYS, Supply
from kitbuilder.report.page import Column, Estimate, Facts, Row, Share, Table, Tag, Values, only_data
from kitbuilder.report.shapes import (
    COUNT,
    FIGURE,
    FLAG,
    NUMBER,
    SHARE,
    SIGNAL,
    TEXT,
    listed,
    one_of,
    optional,
    record,
)

_ANSWER = one_of(YES, WITH_ADAPTER, NO, UNKNOWN)
SHAPE = record(
    deepest_m=NUMBER,
    divers=listed(record(name=TEXT, full_name=TEXT, file=TEXT, kit=TEXT, units=one_of("metric", "imperial"))),
    agree=listed(record(signal=SIGNAL, topic=TEXT, divers=listed(TEXT), what=TEXT, why=TEXT, do=TEXT)),
    gas_given=listed(
        record(
            giver=TEXT,
            receiver=TEXT,
            second_stage=optional(TEXT),
            hose=optional(TEXT),
            length_m=optional(NUMBER),
            from_mouth=optional(FLAG),
            side=optional(TEXT),
            then=optional(TEXT),
            reaches=listed(record(position=one_of(*POSITIONS), outcome=one_of(*OUTCOMES), margin_m=FIGURE, odds=SHARE)),
        )
    ),
    gases=listed(
        record(
            diver=TEXT,
            tags=listed(TEXT),
            gas=TEXT,
            oxygen=SHARE,
            stage=FLAG,
            within_limit_to_m=optional(NUMBER),
            start_pa=optional(NUMBER),
            turn_pa=optional(NUMBER),
            reserve_pa=optional(NUMBER),
            start_m3=optional(FIGURE),
            reserve_m3=optional(FIGURE),
            assumed=listed(one_of(*GAS_KEYS)),
        )
    ),
    reserves_elsewhere=listed(record(diver=TEXT, on=TEXT, gauge_pa=optional(NUMBER))),
    feeds=listed(
        record(
            giver=TEXT,
            receiver=TEXT,
            function=one_of(INFLATOR, DRYSUIT),
            device=TEXT,
            hose=optional(TEXT),
            answer=_ANSWER,
            reason=TEXT,
            two_makes=FLAG,
        )
    ),
    regulators=listed(record(giver=TEXT, receiver=TEXT, first_stage=TEXT, cylinder=TEXT, answer=_ANSWER, reason=TEXT)),
    shared_hoses=listed(record(divers=listed(TEXT), tags=listed(TEXT), role=TEXT)),
    spares=listed(record(giver=TEXT, receiver=TEXT, spare=TEXT, part=TEXT)),
    lead=listed(
        record(
            diver=TEXT,
            lead_needed_kg=optional(FIGURE),
            carried_kg=optional(NUMBER),
            droppable_kg=optional(NUMBER),
            moment=optional(TEXT),
            pulls_down_kgf=optional(FIGURE),
            lift_kgf=optional(FIGURE),
            spare_lift_kgf=optional(FIGURE),
        )
    ),
    bladder_fails=listed(record(diver=TEXT, lifter=TEXT, alone_kgf=optional(FIGURE), both_kgf=optional(FIGURE))),
    counts=listed(record(item=TEXT, divers=listed(record(diver=TEXT, count=COUNT)))),
    without_own_gas=listed(record(diver=TEXT, first_stages=listed(TEXT))),
    missing=listed(record(file=TEXT, item=optional(TEXT), key=TEXT, because=TEXT)),
)


def pair_data(found: Pair) -> Facts:
    """Build everything that a program may want of a pair; nothing of it is on paper."""
    facts = found.facts
    return only_data(
        ("deepest_m", Amount(found.deepest_m, "depth")),
        ("divers", _divers(found)),
        ("agree", _table("signal topic divers what why do", [_agreement(each) for each in found.agreements])),
        (
            "gas_given",
            _table(
                "giver receiver second_stage hose length_m from_mouth side then reaches",
                [_given(each) for each in facts.given],
            ),
        ),
        (
            "gases",
            _table(
                "diver tags gas oxygen stage within_limit_to_m start_pa turn_pa reserve_pa start_m3 reserve_m3 assumed",
                [_gas(each) for each in facts.supplies],
            ),
        ),
        (
            "reserves_elsewhere",
            _table(
                "diver on gauge_pa",
                [[*map(Tag, each.way.names), _amount(each.pressure_pa, "pressure")] for each in facts.elsewhere],
            ),
        ),
        *_joining(found),
        ("lead", _table(_LEAD, [_lead(each) for each in facts.weighed])),
        (
            "bladder_fails",
            _table(
                "lifter diver alone_kgf both_kgf",
                [
                    [*map(Tag, each.way.names), _figure(each.alone, "lift"), _figure(each.both, "lift")]
                    for each in facts.held
                ],
            ),
        ),
        ("counts", _table("item divers", [[each.need.name, _counts(each, found)] for each in facts.counted])),
        (
            "without_own_gas",
            _table(
                "diver first_stages",
                [[Tag(each.member.name), _tags(each.first_stages)] for each in facts.last_breaths],
            ),
        ),
        (
            "missing",
            _table(
                "file item key because",
                [[each.file, Tag(each.item) if each.item else None, each.key, each.because] for each in found.missing],
            ),
        ),
    )


_LEAD = "diver lead_needed_kg carried_kg droppable_kg moment pulls_down_kgf lift_kgf spare_lift_kgf"


def _joining(found: Pair) -> "list[tuple[str, Table]]":
    feeds: list[Row] = [
        [
            *map(Tag, each.way.names),
            each.function,
            Tag(each.device),
            Tag(each.hose) if each.hose else None,
            each.answer,
            each.reason,
            each.two_makes,
        ]
        for each in found.facts.fed
    ]
    regulators: list[Row] = [
        [*map(Tag, each.way.names), Tag(each.first_stage), Tag(each.cylinder), each.answer, each.reason]
        for each in found.facts.seated
    ]
    shared: list[Row] = [[_tags(each.names), _tags(each.tags), each.role] for each in found.facts.shared_hoses]
    spares: list[Row] = [[*map(Tag, each.way.names), Tag(each.spare), Tag(each.part)] for each in found.facts.spares]
    return [
        ("spares", _table("giver receiver spare part", spares)),
        ("feeds", _table("giver receiver function device hose answer reason two_makes", feeds)),
        ("regulators", _table("giver receiver first_stage cylinder answer reason", regulators)),
        ("shared_hoses", _table("divers tags role", shared)),
    ]


def _table(keys: str, rows: "list[Row]") -> Table:
    return Table("", [Column(key, "") for key in keys.split()], rows)


def _divers(found: Pair) -> Table:
    rows: list[Row] = [
        [Tag(each.name), Tag(each.full_name), each.file, Tag(each.assessment.kit.header.name), each.units]
        for each in found.members
    ]
    return _table("name full_name file kit units", rows)


def _agreement(each: Agreement) -> Row:
    sentences = [tuple(_plain(word) for word in words) for words in (each.what, each.why, each.do)]
    return [each.signal, each.topic, _tags(each.who), *sentences]


def _plain(word: Word | OwnAmount) -> Word:
    return word.amount if isinstance(word, OwnAmount) else word


def _given(given: Given) -> Row:
    handed, way = given.handed, [*map(Tag, given.way.names)]
    reaches = _table("position outcome margin_m odds", [_reach(each) for each in given.reaches])
    if handed is None:
        return [*way, None, None, None, None, None, None, reaches]
    hose = handed.figures.hose
    return [
        *way,
        Tag(handed.second_stage),
        Tag(hose.tag),
        Amount(hose.length_m, "length"),
        handed.from_mouth,
        handed.side or None,
        Tag(handed.then) if handed.then else None,
        reaches,
    ]


def _reach(reach: PartnerReach) -> Row:
    test = reach.test
    return [reach.position, reach.verdict.outcome, Estimate(test.margin, "length"), Share(test.odds)]


def _gas(supply: Supply) -> Row:
    use, pressures = supply.uses[0], supply.pressures_pa or (None, None, None)
    return [
        Tag(supply.member.name),
        _tags(tuple(each.tag for each in supply.cylinders)),
        supply.gas,
        Share(use.oxygen),
        supply.is_stage,
        _amount(use.down_to_m, "depth"),
        *(_amount(each, "pressure") for each in pressures),
        _figure(supply.start, "gas"),
        _figure(supply.reserve, "gas"),
        Values([key for key in GAS_KEYS if key in supply.assumed]),
    ]


def _lead(found: Weighed) -> Row:
    balance, heaviest = found.balance, found.heaviest
    model = balance.buoyancy_model if balance else None
    return [
        Tag(found.member.name),
        _figure(balance.lead if balance else None, "lead"),
        _amount(model.lead_kg if model else None, "lead"),
        _amount(model.droppable_kg if model else None, "lead"),
        heaviest.name if heaviest else None,
        _figure(found.heavy, "lift"),
        _figure(found.lift, "lift"),
        _figure(found.spare, "lift"),
    ]


def _counts(counted: Counted, found: Pair) -> Table:
    rows: list[Row] = [[Tag(member.name), count] for member, count in zip(found.members, counted.counts, strict=True)]
    return _table("diver count", rows)


def _tags(names: tuple[str, ...]) -> Values:
    return Values([Tag(name) for name in names])


def _amount(value: float | None, measure: str) -> Amount | None:
    return None if value is None else Amount(value, measure)


def _figure(figure: Figure | None, measure: str) -> Estimate | None:
    return None if figure is None else Estimate(figure, measure)
