"""Words of the kit file that have been replaced by others."""

from kitbuilder.assess.findings import RuleResults
from kitbuilder.assess.old_words import RULE, notice_old_words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule


@rule(RULE)
def old_word(context: Context) -> RuleResults:
    """Report a key of the kit file that has another name now."""
    yield from notice_old_words(context.kit.old_words)
