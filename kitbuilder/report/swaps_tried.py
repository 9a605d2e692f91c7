"""What a swap that is tried does: the figures as they are and as they would be, and words about what is taken."""

from collections.abc import Iterator

from kitbuilder.foreign import visible
from kitbuilder.plans.swaps.swaps import Effect, Swaps
from kitbuilder.plans.swaps.trial import Chosen, Standing, Trial
from kitbuilder.report.page import Cell, Column, Estimate, Page, Row, Table
from kitbuilder.report.trip_about import state_words
from kitbuilder.report.words import counted_items

NOTHING_TRIED = "Nothing is tried."
SHOWN_TAGS = 3
"""Items that are named in a line about a set."""


def tried_page(found: Swaps, now: Standing, trial: Trial | None) -> Page:
    """Build the figures as they are and, where something is tried, as they would be.

    Args:
        found: The swaps of the kit.
        now: The kit or its trip as it is.
        trial: What is tried; None for nothing.
    """
    columns = [Column("", "figure"), Column("", "as it is")]
    if trial:
        columns.append(Column("", "with the swap" if len(trial.chosen.swaps) == 1 else "with the set"))
    rows: list[Row] = [[name, before, *([after] if trial else [])] for name, before, after in _rows(found, now, trial)]
    return Page([Table("", columns, rows)])


def _rows(found: Swaps, now: Standing, trial: Trial | None) -> Iterator[tuple[str, Cell, Cell]]:
    after = trial.after if trial else now
    yield "to bring, dry" if now.packing else "in the bag", Estimate(now.bag, "mass"), Estimate(after.bag, "mass")
    if now.packing:
        yield "bags", state_words(now.packing), state_words(after.packing) if after.packing else ""
    yield "lead there", _lead(now), _lead(after)
    count = counted_items(len(found.before.findings), "finding")
    yield "findings", count, _findings(trial.chosen.effect) if trial else ""


def _lead(standing: Standing) -> Cell:
    return Estimate(standing.lead, "lead") if standing.lead else "not known"


def _findings(effect: Effect) -> str:
    new = f"{len(effect.new)} new, worst {effect.worst.word}" if effect.worst else "none new"
    return f"{new}, {len(effect.gone)} gone" if effect.gone else new


# ---- words ----


def chosen_words(chosen: Chosen) -> str:
    """Name the items of what is tried or taken: '"fins"', '"fins", "plate" and 3 more'."""
    tags = [f'"{visible(tag)}"' for swap in chosen.swaps for tag in swap.tags]
    if len(tags) <= SHOWN_TAGS:
        return ", ".join(tags)
    return f"{', '.join(tags[: SHOWN_TAGS - 1])} and {len(tags) - SHOWN_TAGS + 1} more"
