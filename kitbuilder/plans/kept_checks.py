"""Float checks of a kit that is changed to ask what would be: they stay those of the kit in which they were made."""

import dataclasses

from kitbuilder.kit.resolved import LinkedFiles, ResolvedKit


def with_checks_of(kit: ResolvedKit) -> LinkedFiles:
    """Give the files beside a changed kit: the kit as it stands is among those in which float checks were made."""
    linked = kit.linked
    # What neither kit knows of its owned items cancels, as it does in a kit and its own check.
    checked = dataclasses.replace(kit, linked=linked._replace(gear_problems=()))
    return linked._replace(own="", worn=((linked.own, checked), *linked.worn))
