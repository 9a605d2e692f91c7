"""The part of `kitbuilder fit` that only JSON has: every position tried with every length, and the body in numbers."""

from collections.abc import Sequence

from kitbuilder.assess.findings import Amount
from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.assess.fit.routed_hose import RequiredLength, RoutedHose
from kitbuilder.assess.fit.trial import Option
from kitbuilder.assess.fit.verdict import Test
from kitbuilder.assess.gas.hose_flow import Flow, Notice
from kitbuilder.plans.fitting import FittedHose
from kitbuilder.report.fit_words import BUY, KEEP, LANDMARKS, MAKE, MEASURE, MOVE, STRING, action_word, source_word
from kitbuilder.report.hose_fit import VERDICT, verdict_data
from kitbuilder.report.page import (
    Column,
    Estimate,
    Facts,
    Interval,
    Node,
    Price,
    Row,
    Share,
    Table,
    Tag,
    Values,
    only_data,
)
from kitbuilder.report.shapes import (
    FIGURE,
    FLAG,
    INTERVAL,
    NUMBER,
    SHARE,
    TEXT,
    Shape,
    listed,
    one_of,
    optional,
    record,
)

OPTION_SHAPE = record(
    length_m=NUMBER,
    verdict=VERDICT,
    odds=SHARE,
    tests=listed(record(pose=TEXT, asked=FLAG, passes=FLAG, margin_m=FIGURE, odds=SHARE)),
    rest_slack_m=FIGURE,
    slack_is_on_purpose=FLAG,
    stand_off_m=optional(INTERVAL),
    held_stand_off_m=optional(INTERVAL),
    price=optional(NUMBER),
)
HOSE_KEYS: dict[str, Shape] = {
    "tag": TEXT,
    "role": TEXT,
    "body": TEXT,
    "length_m": NUMBER,
    "route": optional(TEXT),
    "path": optional(listed(TEXT)),
    "action": optional(one_of(KEEP, MEASURE, BUY, MAKE, MOVE)),
    "joins": optional(FLAG),
    "does_not_join": listed(TEXT),
    "ends_taken": listed(TEXT),
    "by": optional(one_of(STRING, LANDMARKS)),
    "needs": listed(record(pose=TEXT, how=TEXT, length_m=FIGURE, asked=FLAG)),
    "demanded_in": optional(TEXT),
    "string_less_estimate_m": optional(FIGURE),
    "present": optional(OPTION_SHAPE),
    "buy": optional(OPTION_SHAPE),
    "shorter": optional(OPTION_SHAPE),
    "longer": optional(OPTION_SHAPE),
    "made_to_measure_m": optional(NUMBER),
    "hold": optional(record(landmark=TEXT, until=optional(TEXT), share=SHARE)),
    "knobs": listed(record(name=TEXT, distance_m=FIGURE)),
    "flow": optional(
        record(
            depth_m=NUMBER,
            peak_flow_m3_s=NUMBER,
            bore_m=NUMBER,
            drop_pa=optional(INTERVAL),
            notice=one_of(*(each.value for each in Notice)),
            is_air_assumed=FLAG,
        )
    ),
}
"""What is said of each hose; of one whose run is not known, no more than what it is."""
WEARER_SHAPE = record(
    sex=optional(TEXT),
    is_given=FLAG,
    is_outside_survey=FLAG,
    measures=listed(record(name=TEXT, length_m=FIGURE)),
    suit_m=FIGURE,
    neck_turn_rad=FIGURE,
    neck_back_rad=FIGURE,
)


def wearer_data(wearer: Wearer) -> Facts:
    """Give the body that wears the kit."""
    measures: list[Row] = [[name, Estimate(figure, "length")] for name, figure in wearer.measures.items()]
    return only_data(
        ("sex", wearer.sex),
        ("is_given", wearer.is_given),
        ("is_outside_survey", wearer.is_outside_survey),
        ("measures", Table("measures", [Column("name", ""), Column("length_m", "")], measures)),
        ("suit_m", Estimate(wearer.suit, "thickness")),
        ("neck_turn_rad", Estimate(wearer.neck_turn, "pitch")),
        ("neck_back_rad", Estimate(wearer.neck_back, "pitch")),
    )


def hose_data(fitted: FittedHose) -> Row:
    """Give a value for each of `HOSE_KEYS`."""
    figures, advice, routed = fitted.figures, fitted.advice, fitted.figures.routed
    hose = figures.hose
    differs = advice.string_less_estimate if advice else None
    return [
        Tag(hose.tag),
        hose.role,
        hose.body,
        Amount(hose.length_m, "length"),
        routed.route.name if routed else None,
        Values(list(routed.route.path)) if routed else None,
        action_word(fitted),
        fitted.joins,
        Values(list(figures.joints.reasons)),
        Values(list(figures.taken)),
        source_word(advice) if advice else None,
        _needs(advice.needs if advice else ()),
        advice.demanded.pose if advice else None,
        Estimate(differs, "length") if differs else None,
        _option(advice.present if advice else None),
        _option(advice.buy if advice else None),
        _option(advice.shorter if advice else None),
        _option(advice.longer if advice else None),
        Amount(advice.made_m, "length") if advice else None,
        _hold(routed) if routed and advice else None,
        _knobs(routed if advice else None),
        _flow(fitted.flow) if fitted.flow else None,
    ]


def _needs(needs: Sequence[RequiredLength]) -> Table:
    columns = [Column(key, "") for key in ("pose", "how", "length_m", "asked")]
    rows: list[Row] = [[need.pose, need.how, Estimate(need.length, "length"), need.is_asked] for need in needs]
    return Table("needs", columns, rows)


def _option(option: Option | None) -> Node | None:
    if option is None:
        return None
    stand_off, held = option.stand_off, option.held_stand_off
    return only_data(
        ("length_m", Amount(option.length_m, "length")),
        ("verdict", verdict_data(option.verdict)),
        ("odds", Share(option.odds)),
        ("tests", _tests(option.tests)),
        ("rest_slack_m", Estimate(option.rest_slack, "slack")),
        ("slack_is_on_purpose", option.by_design),
        ("stand_off_m", Interval(stand_off, "length") if stand_off else None),
        ("held_stand_off_m", Interval(held, "length") if held else None),
        ("price", _price(option)),
    )


def _price(option: Option) -> Price | None:
    stocked = option.stocked
    return None if stocked is None or stocked.price is None else Price(stocked.price, "")


def _tests(tests: Sequence[Test]) -> Table:
    columns = [Column(key, "") for key in ("pose", "asked", "passes", "margin_m", "odds")]
    rows: list[Row] = [
        [test.pose, test.is_asked, test.passes, Estimate(test.margin, "slack"), Share(test.odds)] for test in tests
    ]
    return Table("tests", columns, rows)


def _hold(routed: RoutedHose) -> Facts:
    hold = routed.hold
    return only_data(("landmark", hold.landmark), ("until", hold.until or None), ("share", Share(hold.share)))


def _knobs(routed: RoutedHose | None) -> Table:
    rows: list[Row] = [[knob.name, Estimate(knob.distance, "length")] for knob in (routed.knobs if routed else ())]
    return Table("knobs", [Column("name", ""), Column("distance_m", "")], rows)


def _flow(flow: Flow) -> Facts:
    return only_data(
        ("depth_m", Amount(flow.depth_m, "depth")),
        ("peak_flow_m3_s", Amount(flow.flow_m3_s, "flow")),
        ("bore_m", Amount(flow.bore_m, "bore")),
        ("drop_pa", Interval(flow.drop, "drop") if flow.drop else None),
        ("notice", flow.notice.value),
        ("is_air_assumed", flow.is_air_assumed),
    )
