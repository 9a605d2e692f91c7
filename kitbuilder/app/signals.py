"""Colours of signal words. The word itself is always written, so colour is never the only signal."""

from kitbuilder.assess.findings import Signal

STYLES = {
    Signal.DANGER: "bold $text-error on $error-muted",
    Signal.WARNING: "bold $text-warning on $warning-muted",
    Signal.CAUTION: "$text-warning",
    Signal.NOTICE: "$text-secondary",
}
"""The style of each signal word."""
