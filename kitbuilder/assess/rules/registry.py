"""The list of rules, filled by the decorator."""

from collections.abc import Callable

from kitbuilder.assess.findings import RuleResults
from kitbuilder.assess.rules.context import Context

Rule = Callable[[Context], RuleResults]

RULES: dict[str, Rule] = {}
"""Every rule by its name, in the order of the files."""


def rule(name: str) -> Callable[[Rule], Rule]:
    """Enter a rule in the list under a name that a diver understands."""

    def enter(function: Rule) -> Rule:
        RULES[name] = function
        return function

    return enter
