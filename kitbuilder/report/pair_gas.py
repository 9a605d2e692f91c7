"""The tables of gas on the page of a pair: what is handed over, how far it reaches, how much there is."""

from collections.abc import Callable

from kitbuilder.assess.depths import deepest_of
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount
from kitbuilder.assess.fit.partner_reach import POSITIONS, PartnerReach
from kitbuilder.assess.fit.verdict import CANNOT_BE_SAID, DOES_NOT_FIT, FITS
from kitbuilder.plans.pair.given import Given
from kitbuilder.plans.pair.members import METRIC, Direction, Member
from kitbuilder.plans.pair.pair import Pair
from kitbuilder.plans.pair.supplies import ReserveElsewhere, Supply
from kitbuilder.report.page import BothUnits, Cell, Column, Estimate, InUnits, Row, Sentence, Table, Text, text

HAS_NONE, NOT_KNOWN = "–", "not known"
BY_LANDMARKS = "+ hose to spare, − hose missing: estimated from both bodies. Try it on land."


# ---- gas given ----


def given_table(found: Pair) -> Table:
    """Build a row per giver: what is handed over, on which hose, from where, and what is kept."""
    columns = [
        Column("", "giver", may_wrap=True),
        Column("", "hands over", may_wrap=True),
        Column("", "on hose", may_wrap=True),
        Column("", "from", may_wrap=True),
        Column("", "keeps", may_wrap=True),
    ]
    givers: dict[str, Given] = {}
    for given in found.facts.given:
        givers.setdefault(given.way.giver.name, given)
    return Table("", columns, [_given_row(given) for given in givers.values()])


def _given_row(given: Given) -> Row:
    handed, member = given.handed, given.way.giver
    if given.lost is not None:
        return [member.name, f'not known: no item "{given.lost.to}"', HAS_NONE, HAS_NONE, HAS_NONE]
    if handed is None:
        return [member.name, "nothing", HAS_NONE, HAS_NONE, HAS_NONE]
    hose = handed.figures.hose
    side = f", {handed.side} side" if handed.side else ""
    return [
        member.name,
        handed.second_stage,
        (*own(Amount(hose.length_m, "length"), member), f" {hose.role}"),
        f"{handed.held_at}{side}",
        handed.then or "nothing",
    ]


def reach_table(found: Pair) -> Table:
    """Build a row per giver and receiver: whether the hose reaches the mouth in each position."""
    columns = [Column("", "reaches the mouth", may_wrap=True)]
    columns += [Column("", position, may_wrap=True) for position in POSITIONS]
    rows: list[Row] = [
        [_way(given.way), *(_reach(reach, given.way.giver) for reach in given.reaches)]
        if given.reaches
        else [_way(given.way), *(NOT_KNOWN if given.handed or given.lost else HAS_NONE for _ in POSITIONS)]
        for given in found.facts.given
    ]
    return Table("", columns, rows)


def _way(way: Direction) -> str:
    return f"{way.giver.name} to {way.receiver.name}"


def _reach(reach: PartnerReach, member: Member) -> Sentence:
    return (f"{REACHES[reach.verdict.outcome]} ", *own(Amount(reach.test.margin.value, "reach"), member))


REACHES = {FITS: "yes", DOES_NOT_FIT: "NO", CANNOT_BE_SAID: "perhaps"}
"""Whether a hose reaches, by the outcome of its verdict."""


# ---- gas ----


def pressures_table(found: Pair) -> Table:
    """Build a row per gas: what the gauge shows at the start, when the dive is turned, and as reserve."""
    heads = ("gas", "start", "turn", "reserve")
    return Table("", _columns("diver", *heads), _row_per_gas(found, _pressures_row, len(heads)))


def _columns(*heads: str) -> list[Column]:
    return [Column("", head, may_wrap=True) for head in heads]


def _row_per_gas(found: Pair, row_of: Callable[[Supply, Pair], Row], width: int) -> list[Row]:
    """Build the rows of each diver; where no gas is known, one row says so."""
    rows: list[Row] = []
    for member in found.members:
        own_rows = [row_of(supply, found) for supply in found.facts.supplies if supply.member is member]
        rows += own_rows or [[member.name, *[NOT_KNOWN] * width]]
    return rows


def _pressures_row(supply: Supply, _: Pair) -> Row:
    member = supply.member
    gauges: list[Cell] = [NOT_KNOWN] * 3
    if supply.pressures_pa:
        pressures = zip(supply.pressures_pa, ("filled", "turn", "reserve"), strict=True)
        gauges = [_taken(own(Amount(value, "pressure"), member), supply, key) for value, key in pressures]
    return [member.name, (*_taken((supply.gas,), supply, "gas"), ", stage" if supply.is_stage else ""), *gauges]


def _taken(value: Sentence, supply: Supply, *keys: str) -> Sentence:
    """Mark a value as assumed where a key that it follows from is not given."""
    return ("assumed ", *value) if supply.assumed.intersection(keys) else value


def amounts_table(found: Pair) -> Table:
    """Build a row per gas: how much there is at the surface, and how deep it can be breathed.

    The reserve of each diver as it would read on the gauge of the other has a table of its own for three divers.
    """
    heads = ["gas, at the surface", "of that reserve", *([ON_OTHER] if _are_two(found) else []), "breathe down to"]
    return Table("", _columns("diver", *heads), _row_per_gas(found, _amounts_row, len(heads)))


ON_OTHER = "reserve on the other's gauge"


def _are_two(found: Pair) -> bool:
    return len(found.members) == 2


def _amounts_row(supply: Supply, found: Pair) -> Row:
    member, down_to_m = supply.member, supply.uses[0].down_to_m
    is_known = "gas" not in supply.assumed  # a depth is not said of a gas that nobody has named
    depth = own(Amount(down_to_m, "depth"), member) if down_to_m is not None and is_known else (NOT_KNOWN,)
    on_other = [_on_other(each, found) for each in found.facts.elsewhere if each.way.giver is member]
    return [
        f"{member.name}, {supply.gas} stage" if supply.is_stage else member.name,
        _taken(_volume(supply.start, member), supply, "gas", "filled"),
        _taken(_volume(supply.reserve, member), supply, "gas", "reserve"),
        *((HAS_NONE if supply.is_stage else each for each in on_other) if _are_two(found) else ()),
        depth,
    ]


def elsewhere_table(found: Pair) -> Table | None:
    """Build a row per diver and other diver: the reserve of the one on the gauge of the other; None for two divers."""
    if _are_two(found):
        return None
    rows: list[Row] = [[*each.way.names, _on_other(each, found)] for each in found.facts.elsewhere]
    return Table("", _columns("reserve of", "on the gauge of", "reads"), rows)


def _on_other(found: ReserveElsewhere, pair: Pair) -> Sentence:
    if found.pressure_pa is None:
        return (NOT_KNOWN,)
    supplies = [each for each in pair.facts.supplies if each.member is found.way.giver and not each.is_stage]
    reading: Sentence = own(Amount(found.pressure_pa, "pressure"), found.way.receiver)
    is_assumed = any(each.assumed.intersection(("gas", "reserve")) for each in supplies)
    return ("assumed ", *reading) if is_assumed else reading


def common_depth(found: Pair) -> Text:
    """Say at which depth every gas is judged."""
    depths = {deepest_of(member.assessment.kit) for member in found.members}
    compared = "the shallower of the two" if len(found.members) == 2 else "the shallowest of the three"
    which = compared if len(depths) > 1 else "the greatest depth of all kits"
    return text("Judged at ", BothUnits(Amount(found.deepest_m, "depth")), f", {which}.")


def _volume(figure: Figure | None, member: Member) -> Sentence:
    return (NOT_KNOWN,) if figure is None else own(Amount(figure.value, "gas"), member)


def own(value: Amount | Estimate, member: Member) -> Sentence:
    """Give a value in the diver's own units, and in brackets in the other ones, there without its spread."""
    return in_both(value, member.units)


def in_both(value: Amount | Estimate, units: str) -> Sentence:
    """Give a value in some units, and in brackets in the other ones, there without its spread."""
    other = "imperial" if units == METRIC else METRIC
    bare = Amount(value.figure.value, value.measure) if isinstance(value, Estimate) else value
    return (InUnits(value, units), " (", InUnits(bare, other), ")")
