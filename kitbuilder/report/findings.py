"""Findings, and what could not be checked, as every page and every list has them."""

from collections.abc import Iterable, Sequence

from kitbuilder.assess.findings import Finding, Unchecked, Words
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.items import Kit
from kitbuilder.kit.trip import Trip
from kitbuilder.report.page import (
    Column,
    Fact,
    Page,
    Row,
    Section,
    Statement,
    Statements,
    Table,
    Tag,
    Text,
    joined,
    text,
)
from kitbuilder.report.shapes import COUNT, FLAG, SIGNAL, TEXT, optional, record
from kitbuilder.report.words import CAUTIONS, capitalised, counted_items, ended

FINDING = record(
    signal=SIGNAL,
    rule=TEXT,
    rule_of_thumb=FLAG,
    item=optional(TEXT),
    key=optional(TEXT),
    line=optional(COUNT),
    what=TEXT,
    why=TEXT,
    do=TEXT,
)
"""A finding in JSON; without an item it is about the file as a whole."""
UNCHECKED = record(rule=TEXT, item=optional(TEXT), key=optional(TEXT), line=optional(COUNT), because=TEXT)
"""What could not be checked, in JSON, and the key that would let it be checked."""

Inspected = Kit | Gear | Trip
"""What findings are about."""
DASH = "-"


def finding_entries(findings: Sequence[Finding], contents: Inspected) -> Statements:
    """Build the list of findings under their count, in the order given; what is the same of several items, once."""
    entries = []
    for finding in findings:
        same = [other for other in findings if _says(other) == _says(finding)]
        entries.append(_finding_entry(finding, same, contents)._replace(is_shown=same[0] is finding))
    if not entries:
        return Statements("findings", [], title="Findings", empty="none")
    return Statements("findings", entries, title=f"Findings: {counted(findings)}")


def _says(finding: Finding) -> tuple[object, ...]:
    """Give what two findings have to share so that the text lists their items in one."""
    return (finding.signal, finding.rule, finding.why, finding.do, finding.rule_of_thumb, finding.item is None)


def unchecked_entries(results: Sequence[Unchecked], contents: Inspected) -> Statements:
    """Build the list of what could not be checked, with the key that would let it be."""
    entries = [_unchecked_entry(result, contents) for result in results]
    return Statements("not_checked", entries, title=f"Not checked: {len(entries)}" if entries else "")


def counted(findings: Iterable[Finding]) -> str:
    """Say how many findings there are of each signal word: "1 danger, 2 cautions"."""
    signals = [finding.signal for finding in findings]
    parts = (counted_items(signals.count(signal), signal.word.lower()) for signal in sorted(set(signals), reverse=True))
    return ", ".join(parts) or "none"


def brief_entry(result: Finding | Unchecked, contents: Inspected, *, with_why: bool) -> Statement:
    """Build one result as a paragraph, for a list with a cursor; the reason is left out where room is scarce."""
    about = (*_subject(result, contents), ": ")
    if isinstance(result, Unchecked):
        where = (f" Set {result.key}.",) if result.key else ()
        return Statement((*about, *ended(result.because), *where), mark="unchecked")
    why = (*ended(result.why), " ") if with_why else ()
    thumb = (" (rule of thumb)",) if result.rule_of_thumb else ()
    return Statement((*about, *ended(result.what), " ", *why, *ended(result.do), *thumb), mark=result.signal)


def results_table(results: Sequence[Finding | Unchecked], contents: Inspected) -> Table:
    """Build what a list of results can be sorted by: the signal word, the item, and the rule."""
    rows: list[Row] = [
        ["unchecked", subject(result, contents), None]
        if isinstance(result, Unchecked)
        else [result.signal, subject(result, contents), result.rule]
        for result in results
    ]
    return Table("", [Column("", "signal word"), Column("", "item"), Column("", "rule")], rows)


def result_page(result: Finding | Unchecked) -> Page:
    """Build the page of one result in full. Its item stands in the title of the page."""
    if isinstance(result, Unchecked):
        where = [text(f"Set {result.key}, line {result.line} of the file.")] if result.key else []
        return Page(_apart([text(*ended(result.because)), *where]))
    head = Statements("", [Statement((f"{result.rule}, line {result.line} of the file",), mark=result.signal)])
    thumb = [text("This is a rule of thumb: common practice, no source.")] if result.rule_of_thumb else []
    what = [
        text(*capitalised(ended(result.what))),
        text("Why: ", *ended(result.why)),
        text("Do: ", *ended(result.do)),
        *thumb,
    ]
    return Page([head, *_apart([*what, text(CAUTIONS)])])


def subject(result: Finding | Unchecked, contents: Inspected) -> str:
    """Give the tag of the item that a result is about; for all of it, what it is."""
    if result.item is None:
        return contents.header.title
    return contents.items[result.item].label


def _apart(paragraphs: Iterable[Text]) -> list[Section]:
    return [Section("", [paragraph]) for paragraph in paragraphs]


def _subject(result: Finding | Unchecked, contents: Inspected) -> tuple[str]:
    name = subject(result, contents)
    return (name if result.item is None else Tag(name),)


def _finding_entry(finding: Finding, same: Sequence[Finding], contents: Inspected) -> Statement:
    """Build the entry of a finding, whose text speaks of all that say the same; its data are its own."""
    lines = [str(other.line) for other in same if other.line]
    notes = [f"line{'' if len(lines) == 1 else 's'} {', '.join(lines)}"] if lines else []
    notes += ["a rule of thumb"] if finding.rule_of_thumb else []
    sentences = {"what": ended(finding.what), "why": ended(finding.why), "do": ended(finding.do)}
    about = joined((_subject(other, contents) for other in same), ", ")
    return Statement(
        head=(*about, f": {finding.rule}", f" ({'; '.join(notes)})" if notes else ""),
        body=[*_whats(same, contents), sentences["why"], sentences["do"]],
        data=[
            Fact("signal", "", finding.signal),
            Fact("rule", "", finding.rule),
            Fact("rule_of_thumb", "", finding.rule_of_thumb),
            *_place(finding, contents),
            *(Fact(key, "", words) for key, words in sentences.items()),
        ],
        mark=finding.signal,
    )


def _whats(same: Sequence[Finding], contents: Inspected) -> list[Words]:
    """Say what is wrong: once where it is the same of all items, else of each."""
    if len({finding.what for finding in same}) == 1:
        return [capitalised(ended(same[0].what))]
    return [(*_subject(finding, contents), ": ", *ended(finding.what)) for finding in same]


def _unchecked_entry(result: Unchecked, contents: Inspected) -> Statement:
    because = ended(result.because)
    where = (f" Set {result.key} (line {result.line}).",) if result.key else ()
    return Statement(
        head=(*_subject(result, contents), ": ", *because, *where),
        data=[Fact("rule", "", result.rule), *_place(result, contents), Fact("because", "", because)],
        mark=DASH,
    )


def _place(result: Finding | Unchecked, contents: Inspected) -> list[Fact]:
    return [
        Fact("item", "", None if result.item is None else subject(result, contents)),
        Fact("key", "", result.key or None),
        Fact("line", "", result.line),
    ]
