"""The page of `kitbuilder pair`: what two or three divers must agree on, and what each can give the other.

Every pressure, volume and mass stands in the diver's own units first, and in the other ones in brackets.
"""

from collections.abc import Sequence

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount, Word, Words
from kitbuilder.plans.pair.agreement import Agreement, OwnAmount, Said
from kitbuilder.plans.pair.joining import FED, NO, UNKNOWN, Fed
from kitbuilder.plans.pair.lift import HeldByOther, Weighed
from kitbuilder.plans.pair.members import METRIC, Direction, Member, Missing
from kitbuilder.plans.pair.pair import Pair
from kitbuilder.report.linked import not_used, problems_of
from kitbuilder.report.page import (
    BothUnits,
    Column,
    Estimate,
    Node,
    Page,
    Row,
    Section,
    Sentence,
    Statement,
    Statements,
    Table,
    Text,
    text,
)
from kitbuilder.report.pair_data import SHAPE as SHAPE  # the command takes it from here, as of every page
from kitbuilder.report.pair_data import pair_data
from kitbuilder.report.pair_gas import (
    BY_LANDMARKS,
    HAS_NONE,
    NOT_KNOWN,
    amounts_table,
    common_depth,
    elsewhere_table,
    given_table,
    in_both,
    own,
    pressures_table,
    reach_table,
)
from kitbuilder.report.words import CAUTIONS, capitalised, counted_items, ended


def pair_page(found: Pair) -> Page:
    """Build the page: what to agree on, then a row per diver for each need of a pair."""
    return Page(
        [
            pair_data(found),
            _divers(found),
            not_used(pair_problems(found)),
            *agreement_parts(found),
            *_facts(found),
            Section("", [text(CAUTIONS)]),
        ],
        is_one_sheet=True,
    )


def facts_page(found: Pair) -> Page:
    """Build what the screen shows below the list: all but what to agree on."""
    return Page([*_facts(found), _divers(found), Section("", [text(CAUTIONS)])])


def _facts(found: Pair) -> list[Node]:
    return [
        Section("Gas given", [given_table(found), reach_table(found), text(BY_LANDMARKS)]),
        Section("Gas", _gas_parts(found)),
        Section("What fits the other's kit", _joining_parts(found)),
        Section("Lead and lift", [_lead_table(found), *_lift_tables(found)]),
        Section("How many of each", [_counts_table(found)]),
        Section("", [Text(words) for words in _shared_name_words(found)]),
        _missing(found.missing),
    ]


def _gas_parts(found: Pair) -> list[Node]:
    elsewhere = elsewhere_table(found)
    tables = [pressures_table(found), amounts_table(found), *([elsewhere] if elsewhere else [])]
    return [*tables, common_depth(found)]


def pair_problems(found: Pair) -> tuple[str, ...]:
    """Give what is wrong with the linked files of all kits, each with the name of its kit."""
    return problems_of((member.file, member.assessment.kit) for member in found.members)


def _shared_name_words(found: Pair) -> list[Sentence]:
    return [
        (f'More than one diver is called "{name}". Each is named with the kit file.',) for name in found.shared_names
    ]


# ---- on top ----


def _divers(found: Pair) -> Table:
    columns = [Column("", "diver", may_wrap=True), Column("", "kit", may_wrap=True), Column("", "file", may_wrap=True)]
    rows: list[Row] = [
        [member.full_name, member.assessment.kit.header.name, member.file, GAUGES[member.units]]
        for member in found.members
    ]
    return Table("", [*columns, Column("", "gauges in")], rows)


GAUGES = {METRIC: "bar", "imperial": "psi"}
"""What a gauge shows, by the units of its diver."""


def agreement_parts(found: Pair) -> tuple[Statements, Statements]:
    """Build the two lists on top: what has to be agreed on, and what is good to know."""
    first = [each for each in found.agreements if each.must_agree]
    rest = [each for each in found.agreements if not each.must_agree]
    title = agreements_title(found)
    return (
        Statements("", [_entry(each, number) for number, each in enumerate(first, 1)], title=title, empty=NOTHING),
        Statements("", [_entry(each) for each in rest], title=f"Good to know: {len(rest)}" if rest else ""),
    )


def agreements_title(found: Pair) -> str:
    """Say how much there is to agree on; empty for nothing."""
    count = sum(each.must_agree for each in found.agreements)
    return f"Agree on {'this' if count == 1 else f'these {count}'} before the dive" if count else ""


def agreements_list(found: Pair) -> Table:
    """Build the list of all points, one line each, for a list with a cursor."""
    columns = [
        Column("", "signal"),
        Column("", "about", may_wrap=True, is_repeated=True),
        Column("", "what", may_wrap=True),
    ]
    return Table(
        "", columns, [[each.signal, each.topic, capitalised(both_units(each.what))] for each in found.agreements]
    )


NOTHING = "Nothing was found that you have to agree on. Check each other's kit all the same."


def _entry(agreement: Agreement, number: int = 0) -> Statement:
    what, do = (ended(capitalised(both_units(words))) for words in (agreement.what, agreement.do))
    lead = (f"{number}. ",) if number else ()
    return Statement((*lead, *what, " ", *do), mark=agreement.signal)


def both_units(words: Said) -> Words:
    """Give a sentence whose amounts stand in both units, those of the diver that it is about first."""
    return tuple(part for word in words for part in _both(word))  # type: ignore[misc]


def _both(word: Word | OwnAmount) -> Sentence:
    match word:
        case OwnAmount(amount, units):
            return in_both(amount, units)
        case Amount():
            return (BothUnits(word),)
    return (word,)


def agreement_page(agreement: Agreement) -> Page:
    """Build all there is to say about one point to agree on."""
    why = ended(both_units(agreement.why))
    head = Statements("", [Statement((agreement.topic,), mark=agreement.signal)])
    parts = (
        capitalised(ended(both_units(agreement.what))),
        ("Why: ", *why),
        ("Do: ", *ended(both_units(agreement.do))),
    )
    return Page([head, *(Section("", [Text(words)]) for words in parts)])


# ---- what joins ----


def _joining_parts(found: Pair) -> list[Node]:
    columns = [Column("", head, may_wrap=True) for head in ("whose, for whom", *FED, "regulator on the cylinder")]
    table = Table("", columns, [_joining_row(given.way, found) for given in found.facts.given])
    facts = found.facts
    alike = [f'{each.role} ("{each.tags[0]}", "{each.tags[1]}")' for each in facts.shared_hoses]
    spares = [
        f'{each.way.giver.name}\'s "{each.spare}" for {each.way.receiver.name}\'s "{each.part}"'
        for each in facts.spares
    ]
    lists = (("Hoses that fit both", alike), ("Spares that fit the other", spares))
    return [table, *(text(f"{title}: {', '.join(names)}.") for title, names in lists if names)]


def _joining_row(way: Direction, found: Pair) -> Row:
    fed = [each for each in found.facts.fed if each.way.names == way.names]
    seated = next((each for each in found.facts.seated if each.way.names == way.names), None)
    regulator = HAS_NONE if seated is None else _answer(seated.answer, seated.reason)
    return [
        f"{way.giver.name} for {way.receiver.name}",
        *(_feeds([each for each in fed if each.function == name]) for name in FED),
        regulator,
    ]


def _feeds(fed: Sequence[Fed]) -> str:
    answers = [_answer(each.answer, "two makes" if each.two_makes else "") for each in fed]
    return "; ".join(answers) or HAS_NONE


def _answer(answer: str, reason: str) -> str:
    word = "NO" if answer == NO else answer
    return f"{word}: {reason}" if reason and answer != UNKNOWN else word


# ---- lead and lift ----


def _lead_table(found: Pair) -> Table:
    columns = [Column("", "diver", may_wrap=True)]
    columns += [Column("", head, may_wrap=True) for head in ("lead needed", "carried", "of that droppable")]
    return Table("", columns, [_lead_row(each) for each in found.facts.weighed])


def _lead_row(found: Weighed) -> Row:
    member, balance = found.member, found.balance
    if balance is None:
        return [member.name, *[NOT_KNOWN] * 3]
    model = balance.buoyancy_model
    amounts = (Amount(mass, "lead") for mass in (model.lead_kg, model.droppable_kg))
    return [member.name, own(Estimate(balance.lead, "lead"), member), *(own(each, member) for each in amounts)]


def _lift_tables(found: Pair) -> list[Table]:
    """Build a row per diver; for three divers, what is left of the lift of another in a row per pair of them."""
    others = ["other's lift less this pull", "other's lift less both pulls"]
    held = {member.name: [each for each in found.facts.held if each.way.receiver is member] for member in found.members}
    two = len(found.members) == 2
    rows: list[Row] = [
        [
            each.member.name,
            _figure(each.heavy, each.member, "lead"),
            _figure(each.lift, each.member, "lead"),
            *(_left(held[each.member.name][0]) if two else ()),
        ]
        for each in found.facts.weighed
    ]
    heads = ["greatest pull down", "own lift", *(others if two else ())]
    table = Table("", [Column("", head, may_wrap=True) for head in ("diver", *heads)], rows)
    if two:
        return [table]
    by_way: list[Row] = [[*each.way.names, *_left(each)] for each in found.facts.held]
    heads = ["lift of", "for", "lift less the pull of that diver", "lift less both pulls"]
    return [table, Table("", [Column("", head, may_wrap=True) for head in heads], by_way)]


def _left(held: HeldByOther) -> tuple[Sentence, Sentence]:
    """Give what is left of the lift of the one, alone with the other and with both, in the units of the other."""
    return _figure(held.alone, held.way.receiver, "lift"), _figure(held.both, held.way.receiver, "lift")


def _figure(figure: Figure | None, member: Member, measure: str) -> Sentence:
    return (NOT_KNOWN,) if figure is None else own(Estimate(figure, measure), member)


# ---- single items, missing values ----


def _counts_table(found: Pair) -> Table:
    counted = found.facts.counted
    columns = [Column("", "diver", may_wrap=True), *(Column("", each.need.name, may_wrap=True) for each in counted)]
    rows: list[Row] = [
        [member.name, *(each.counts[place] for each in counted)] for place, member in enumerate(found.members)
    ]
    return Table("", columns, rows)


def _missing(missing: Sequence[Missing]) -> Statements:
    keys: dict[Missing, list[str]] = {}
    for each in missing:
        keys.setdefault(each._replace(key=""), []).append(each.key)
    entries = [Statement(_missing_words(place, names), mark="-") for place, names in keys.items()]
    return Statements("", entries, title=f"Not given: {counted_items(len(missing), 'value')}" if entries else "")


def _missing_words(place: Missing, keys: Sequence[str]) -> Sentence:
    """Say where to set the values that one item lacks for one reason."""
    item = f' of "{place.item}"' if place.item else ""
    say = "it says" if len(keys) == 1 else "they say"
    named = ", ".join(
        '"to"' if key == "to" else key for key in keys
    )  # an unquoted "to" reads as a word of the sentence
    return (f"Set {named}{item} in {place.file}: {say} {place.because}.",)
