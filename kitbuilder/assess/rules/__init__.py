"""The rules, one file a subject. A rule is a generator over the context of a kit, marked with `@rule("its name")`.

To add a rule, write it in the file of its subject. To add a subject, write a file and name it in the import below.
"""

from kitbuilder.assess.findings import RuleResults
from kitbuilder.assess.rules import (
    balance,
    ballast,
    connections,
    couplings,
    cylinders,
    fits,
    float_checks,
    gases,
    joints,
    lead,
    lengths,
    losses,
    old_words,
    owned,
    ports,
    routes,
    seatings,
    skin,
    weighings,
)
from kitbuilder.assess.rules.registry import RULES, Rule, rule

__all__ = [
    "RULES",
    "Rule",
    "RuleResults",
    "balance",
    "ballast",
    "connections",
    "couplings",
    "cylinders",
    "fits",
    "float_checks",
    "gases",
    "joints",
    "lead",
    "lengths",
    "losses",
    "old_words",
    "owned",
    "ports",
    "routes",
    "rule",
    "seatings",
    "skin",
    "weighings",
]
