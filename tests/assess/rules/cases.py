"""A kit in which a rule speaks, and one beside it, as like it as can be, in which it is silent."""

from dataclasses import dataclass

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Finding, Signal, Unchecked
from kitbuilder.kit.resolved import NOTHING_LINKED, LinkedFiles
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import assessed

DANGER, WARNING, CAUTION, NOTICE = Signal.DANGER, Signal.WARNING, Signal.CAUTION, Signal.NOTICE


@dataclass(frozen=True)
class Case:
    """What a rule has to say of an item."""

    rule: str
    signal: Signal | None
    """None for a rule that could not run."""
    item: str | None
    """The tag of the item; None for the kit as a whole."""
    key: str | None
    wrong: str
    """The kit in which the rule speaks."""
    right: str
    """The kit beside it, in which the rule has nothing to say of the item."""
    says: tuple[str, ...]
    """What the sentence holds: the numbers, the names."""
    do: tuple[str, ...] = ()
    """What the advice holds."""
    beside_wrong: LinkedFiles = NOTHING_LINKED
    """The diver of the kit in which the rule speaks."""
    beside_right: LinkedFiles = NOTHING_LINKED
    """The diver of the kit beside it."""

    def __str__(self) -> str:
        """As the test is called."""
        return f"{self.rule}: {self.says[0]}"


def check(case: Case) -> None:
    """The rule speaks once in the one kit, with all it has to say, and is silent in the other."""
    [found] = of_item(assessed(case.wrong, case.beside_wrong), case.rule, case.item)
    assert found.key == case.key
    assert silent(case)
    if isinstance(found, Unchecked):
        assert case.signal is None
        assert_holds(sentence(found.because, System.METRIC), case.says)
        return
    assert found.signal is case.signal
    assert_holds(sentence(found.what, System.METRIC), case.says)
    assert_holds(sentence(found.do, System.METRIC), case.do)
    assert case.do, "a finding says what to do"
    assert sentence(found.why, System.METRIC).strip(".")


def silent(case: Case) -> bool:
    """Whether the kit beside it gives no reason to speak."""
    spoken = of_item(assessed(case.right, case.beside_right), case.rule, case.item)
    return not [result for result in spoken if isinstance(result, Finding) == (case.signal is not None)]


def of_item(assessment: Assessment, rule: str, tag: str | None) -> list[Finding | Unchecked]:
    """All that a rule says of an item."""
    every = (*assessment.findings, *assessment.unchecked)
    return [result for result in every if result.rule == rule and tag_of(assessment, result) == tag]


def tag_of(assessment: Assessment, result: Finding | Unchecked) -> str | None:
    """The tag of the item it is about."""
    return None if result.item is None else assessment.kit.items[result.item].tag


def assert_holds(text: str, parts: tuple[str, ...]) -> None:
    """Every part stands in the text."""
    for part in parts:
        assert part in text, f'"{part}" is not in "{text}"'
