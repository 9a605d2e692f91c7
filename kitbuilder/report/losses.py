"""The page of `kitbuilder losses`: what still works when one item fails, and how fast gas is lost."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount
from kitbuilder.assess.gas.feeds import FUNCTIONS
from kitbuilder.plans.losses import (
    HP_BURST,
    ISOLATOR_CLOSED,
    LP_BURST,
    MANIFOLD_LEAK,
    STAGE_LOST,
    VALVE_CLOSED,
    Emptying,
    Function,
    Loss,
    Losses,
)
from kitbuilder.report.linked import not_used
from kitbuilder.report.page import (
    Cell,
    Column,
    Duration,
    Fact,
    Facts,
    Node,
    Page,
    Row,
    Section,
    Sentence,
    Share,
    Statement,
    Statements,
    Table,
    Tag,
    Text,
    Values,
    joined,
    only_data,
    text,
)
from kitbuilder.report.shapes import FIGURE, INTERVAL, NUMBER, TEXT, listed, one_of, optional, record
from kitbuilder.report.words import CAUTIONS

SHAPE = record(
    file=TEXT,
    name=TEXT,
    layout=TEXT,
    losses=listed(
        record(
            cause=one_of(VALVE_CLOSED, STAGE_LOST, LP_BURST, HP_BURST, ISOLATOR_CLOSED, MANIFOLD_LEAK),
            tag=TEXT,
            first_stage=optional(TEXT),
            side=optional(TEXT),
            functions=record(
                **{
                    name: record(works=listed(TEXT), lost=listed(TEXT), not_breathable=listed(TEXT))
                    for name in FUNCTIONS
                }
            ),
            gas_left=optional(FIGURE),
            gas_left_at_depth=optional(FIGURE),
            gas_shut_in=listed(TEXT),
            empty=listed(record(depth_m=NUMBER, time_s=optional(INTERVAL))),
            do=TEXT,
        )
    ),
    assumptions=listed(TEXT),
    left_out=listed(TEXT),
)

FUNCTION_WORDS = {"breathing": "breathe", "inflation": "inflate", "drysuit": "drysuit", "gauge": "gauge"}
"""What a diver does with each function."""
SHORT_CAUSES = {
    VALVE_CLOSED: "valve closed",
    STAGE_LOST: "stage lost",
    LP_BURST: "LP burst",
    HP_BURST: "HP burst",
    ISOLATOR_CLOSED: "closed",
    MANIFOLD_LEAK: "leak",
}
"""The causes where room is scarce."""
ADVICE_LABELS = {
    VALVE_CLOSED: "valve closed",
    STAGE_LOST: "first stage lost",
    LP_BURST: "hose burst",
    HP_BURST: "hose burst",
    ISOLATOR_CLOSED: "isolator closed",
    MANIFOLD_LEAK: "manifold leaks",
}
"""The causes by what to do."""
ALL, NONE, HAS_NONE = "all", "none", "–"
"""Everything works, nothing does, and the kit has no such item."""
NOT_KNOWN = "not known"

NOTHING = "This kit has no first stage: nothing is fed by one, so nothing can be lost with it."
ONE_FIRST_STAGE = (
    "One first stage feeds everything here: whatever fails, everything is lost. What is left is a buddy with "
    "gas to share, or a second source."
)
ESTIMATE = "Times are estimates from figures that nobody has measured, with the valve left open. Press o for the basis."


def losses_page(file: str, found: Losses) -> Page:
    """Build the page of a kit: what still works after each failure, the gas and the time that are left, what to do.

    Args:
        file: The kit file, as it was given.
        found: Its losses.
    """
    header, losses = found.kit.header, found.losses
    return Page(
        [
            only_data(("file", file), ("name", Tag(header.name)), ("layout", header.layout), ("losses", _data(losses))),
            only_data(("assumptions", Values(found.assumptions)), ("left_out", Values(found.left_out))),
            text(file),
            text(f"{header.name} · {header.layout}"),
            not_used(found.kit.linked.problems),
            Section("", [text(plain)] if (plain := plain_words(found)) else []),
            *(_tables(found) if losses else ()),
            Statements(
                "", [Statement(words, mark="-") for words in (*found.assumptions, *found.left_out)], title="Assumptions"
            ),
            Section("", [text(CAUTIONS)]),
        ]
    )


def plain_words(found: Losses) -> str:
    """Give what to say first of a kit whose losses need no table; empty when there is more to say."""
    if not found.losses:
        return NOTHING
    return ONE_FIRST_STAGE if found.has_one_source else ""


# ---- parts of the screen ----


def causes_list(found: Losses) -> Table:
    """Build the list of what may fail, with how many items still work then."""
    columns = [
        Column("", "item", may_wrap=True, names_row=True),
        Column("", "what fails", may_wrap=True),
        Column("", "works"),
    ]
    return Table(
        "",
        columns,
        [
            [Tag(loss.side or loss.tag), SHORT_CAUSES[loss.cause], f"{loss.works} of {loss.works + loss.lost}"]
            for loss in found.losses
        ],
    )


def loss_page(found: Losses, loss: Loss) -> Page:
    """Build all there is to say about one loss."""
    return Page(
        [
            Facts([
                *_function_rows(loss),
                Fact("", "gas left", (_gas_left(loss.gas_left), *_at_depth(loss), *_shut_in(loss))),
                *_emptying_rows(loss),
                Fact("", "do", _do(loss.cause, Tag(loss.stage))),
                *([Fact("", "fed by", _first_stage(found, loss.stage))] if loss.stage else []),
            ])
        ]
    )  # fmt: skip


def cautions_page(found: Losses) -> Page:
    """Build what the losses rest on, the most important first: in a small pane only the first lines are visible."""
    plain = [text(words) for words in (plain_words(found), ESTIMATE) if words] if found.losses else []
    return Page([*plain, *origins_page(found).parts])


def origins_page(found: Losses) -> Page:
    """Build what the losses assume and leave out, and the cautions."""
    return Page([*map(Text, (*found.assumptions, *found.left_out)), text(CAUTIONS)])


def _function_rows(loss: Loss) -> Iterator[Fact]:
    for name, function in loss.functions.items():
        if function.works or function.lost or function.not_breathable:
            works = ", ".join(function.works) or "nothing"
            gone = f"; lost: {', '.join(function.lost)}" if function.lost else ""
            useless = (
                f"; not breathable at depth: {', '.join(function.not_breathable)}" if function.not_breathable else ""
            )
            yield Fact("", FUNCTION_WORDS[name], f"{works}{gone}{useless}")


def _at_depth(loss: Loss) -> Sentence:
    """Say how much of the gas left can be breathed at the greatest depth, where that is less."""
    return () if loss.gas_left_at_depth == loss.gas_left else (", at depth ", _gas_left(loss.gas_left_at_depth))


def _shut_in(loss: Loss) -> Sentence:
    return ("; the gas of ", *_listed(loss.shut_in), " is shut in") if loss.shut_in else ()


def _emptying_rows(loss: Loss) -> Iterator[Fact]:
    if loss.emptyings:
        times = ((_time(emptying), *_where(emptying)) for emptying in loss.emptyings)
        yield Fact("", "empty in", joined(times, "; "))


def _where(emptying: Emptying) -> Sentence:
    return (" at ", Amount(emptying.depth_m, "depth")) if emptying.depth_m else (" at the surface",)


def _first_stage(found: Losses, stage: str) -> Sentence:
    tags = found.cylinders[stage]
    return (Tag(stage), ", on ", *(_listed(tags) if tags else ("a cylinder that is not known",)))


def _listed(tags: Sequence[str]) -> Sentence:
    *before, last = map(Tag, tags)
    return (*joined(((tag,) for tag in before), ", "), " and ", last) if before else (last,)


# ---- what is said of a loss in several places ----


def format_cause(loss: Loss) -> str:
    """Name what fails: "right post: valve closed", "long hose: LP burst"."""
    return f"{loss.tag}: leak at {loss.side}" if loss.side else f"{loss.tag}: {loss.cause}"


def _function(function: Function) -> str:
    """Say what still does a job, where room is scarce: "all", "none" or the tags."""
    if not function.works:
        return NONE if function.lost or function.not_breathable else HAS_NONE
    return ", ".join(function.works) if function.lost or function.not_breathable else ALL


def _gas_left(left: Figure | None) -> Share | str:
    if left is None:
        return NOT_KNOWN
    return Share(left) if left.value > 0 else NONE


def _time(emptying: Emptying) -> Duration | str:
    return Duration(emptying.time) if emptying.time else NOT_KNOWN


def _do(cause: str, stage: str) -> Sentence:
    if cause == VALVE_CLOSED:
        return ("Open the valve of ", stage, " again.")
    if cause == ISOLATOR_CLOSED:
        return ("Open the isolator. Until then each valve gives only the gas of its own cylinder, as its gauge shows.",)
    if cause == MANIFOLD_LEAK:
        return (
            "Close the isolator at once: until then both sides lose their gas. Breathe from the side that does not "
            "leak; the gas of the other side is lost.",
        )
    if cause == STAGE_LOST:
        return ("Close the valve of ", stage, ".")
    return ("Close the valve of ", stage, " at once. Until then the rest still works, and the gas runs out.")


# ---- tables of the text ----


def _tables(found: Losses) -> Iterator[Node]:
    yield _functions_table(found.losses)
    yield _gas_table(found)
    if bursts := [loss for loss in found.losses if loss.emptyings]:
        yield _times_table(bursts)
    advice = {ADVICE_LABELS[loss.cause]: _do(loss.cause, "its first stage") for loss in found.losses}
    yield Section("What to do", [Facts([Fact("", label, words) for label, words in advice.items()])])


def _functions_table(losses: Sequence[Loss]) -> Table:
    heads = (FUNCTION_WORDS[name] for name in FUNCTIONS)
    columns = [Column("", "if this fails", may_wrap=True), *(Column("", head, may_wrap=True) for head in heads)]
    rows: list[Row] = [
        [format_cause(loss), *(_function(loss.functions[name]) for name in FUNCTIONS)] for loss in losses
    ]
    return Table("", columns, rows, title="What still works")


def _gas_table(found: Losses) -> Table:
    columns = [
        Column("", "first stage", may_wrap=True),
        Column("", "on", may_wrap=True),
        Column("", "gas left"),
        Column("", "at depth"),
        Column("", "shut in", may_wrap=True),
    ]
    rows: list[Row] = [
        [
            Tag(loss.stage) if loss.cause == VALVE_CLOSED else format_cause(loss),
            ", ".join(found.cylinders[loss.stage]) or NOT_KNOWN if loss.cause == VALVE_CLOSED else None,
            _gas_left(loss.gas_left),
            _gas_left(loss.gas_left_at_depth),
            ", ".join(loss.shut_in) or NONE,
        ]
        for loss in found.losses
        if loss.cause in (VALVE_CLOSED, ISOLATOR_CLOSED, MANIFOLD_LEAK)
    ]
    return Table("", columns, rows, title="Gas left to breathe, one valve closed at once")


def _times_table(bursts: Sequence[Loss]) -> Section:
    columns = [
        Column("", "if this bursts", may_wrap=True),
        Column("", "valve", may_wrap=True),
        Column("", "at the surface"),
        Column("", "at depth"),
    ]
    rows: list[Row] = [[format_cause(loss), Tag(loss.stage), *map(_time, loss.emptyings)] for loss in bursts]
    depth = Amount(bursts[0].emptyings[-1].depth_m, "depth")
    greatest = text("Depth is the greatest of the dive: ", depth, ".")
    return Section("Time until the cylinders are empty, the valve left open", [Table("", columns, rows), greatest])


# ---- JSON ----


def _data(losses: Sequence[Loss]) -> Table:
    of_gas = ("gas_left", "gas_left_at_depth", "gas_shut_in")
    keys = ("cause", "tag", "first_stage", "side", "functions", *of_gas, "empty", "do")
    rows: list[Row] = [
        [
            loss.cause,
            Tag(loss.tag),
            Tag(loss.stage) if loss.stage else None,
            Tag(loss.side) if loss.side else None,
            Facts([Fact(name, "", _works_and_lost(function)) for name, function in loss.functions.items()]),
            *(Share(left) if left else None for left in (loss.gas_left, loss.gas_left_at_depth)),
            Values(loss.shut_in),
            _emptyings(loss.emptyings),
            _do(loss.cause, Tag(loss.stage)),
        ]
        for loss in losses
    ]
    return Table("losses", [Column(key, "") for key in keys], rows)


def _works_and_lost(function: Function) -> Facts:
    return only_data(
        ("works", Values(function.works)),
        ("lost", Values(function.lost)),
        ("not_breathable", Values(function.not_breathable)),
    )


def _emptyings(emptyings: Sequence[Emptying]) -> Table:
    rows: list[list[Cell]] = [
        [Amount(emptying.depth_m, "depth"), Duration(emptying.time) if emptying.time else None]
        for emptying in emptyings
    ]
    return Table("empty", [Column("depth_m", ""), Column("time_s", "")], rows)
