"""A rule of thumb says so: what rests on common practice alone is marked, what rests on physics is not."""

from kitbuilder.assess.findings import Finding, Signal
from tests.assess.kits import WHOLE, WRONG, assessed, shipped
from tests.assess.rules.test_every_rule import CASES

OF_THUMB = {
    "coarse on the neck",  # skins differ
    "much lead",  # what few divers carry
    "failed wing",  # what a fit diver can swim up against
    "trim",  # what reads as level
    "near a knob",  # room for a gloved hand
    "unlike its preset",  # how far is a slip
    "unlike its body",
    "rated above its stamp",  # steel of cubic feet
    "tight bend",  # radii of the trade
    "unusual length",  # custom
    "stands off",  # 10 and 20 cm
    "stands off by estimate",
    "custom length",
    "nothing vents",
    "wing and drysuit on one first stage",
    "coupling make",  # nobody has written down which makes go together
    "built-in swivel",
    "too much oxygen",  # the limits have no source
    "too little oxygen",
}
"""Rules whose every finding is one."""
IN_PART = {
    "all second stages on one first stage",  # a notice where there is but one
    "upkeep due",  # what a regulation asks for is none
}


def findings() -> list[Finding]:
    """All of the kits in which rules are shown to speak, and of those that come along."""
    kits = [assessed(case.wrong, case.beside_wrong) for case in CASES]
    return [finding for found in (*kits, *map(shipped, (*WHOLE, WRONG))) for finding in found.findings]


def test_a_rule_of_thumb_says_so_and_no_other_rule_does() -> None:
    """In every finding of all those kits; a finding of physics is not weakened."""
    said: dict[str, set[tuple[Signal, bool]]] = {}
    for finding in findings():
        said.setdefault(finding.rule, set()).add((finding.signal, finding.rule_of_thumb))
    thumb = {rule: {is_thumb for _, is_thumb in each} for rule, each in said.items() if rule not in IN_PART}
    assert {rule for rule, each in thumb.items() if each == {True}} == OF_THUMB
    assert {rule for rule, each in thumb.items() if each == {True, False}} == set()
    # Many dive with one first stage; whoever has two and hangs all on one gains nothing by the second.
    assert said["all second stages on one first stage"] == {(Signal.WARNING, False), (Signal.NOTICE, True)}
