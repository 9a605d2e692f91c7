"""The list of rules, filled by the decorator."""

from collections.abc import Callable, Iterator

from kitbuilder.assess.findings import Finding, Unchecked
from kitbuilder.assess.rules.context import Context

Result = Iterator[Finding | Unchecked]
Rule = Callable[[Context], Result]

RULES: dict[str, Rule] = {}
"""Every rule by its name, in the order of the files."""


def rule(name: str) -> Callable[[Rule], Rule]:
    """Enter a rule in the list under a name that a diver understands."""

    def enter(function: Rule) -> Rule:
        RULES[name] = function
        return function

    return enter
