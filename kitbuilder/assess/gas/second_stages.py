"""What each second stage of a kit is for: which one is breathed, which is given to another diver, which is kept.

Whoever asks for any of these asks here. Practice differs between schools: the roles in the kit file decide, and
`roles.toml` says in which order.
"""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.gas.feeds import cylinders_feeding
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose, SecondStage
from kitbuilder.kit.resolved import ResolvedKit


class SecondStageHoses(NamedTuple):
    """The hoses of the second stages that the diver wears, by what each is for; None where the kit has none for it.

    One hose may be there twice: a long hose is breathed until it is given.
    """

    breathed: Hose | None
    """The one breathed during the dive."""
    given: Hose | None
    """The one handed to a diver who has no gas."""
    kept: Hose | None
    """The one breathed once the other is given; None where there is only one."""


def second_stage_hoses(kit: ResolvedKit) -> SecondStageHoses:
    """Say which hose is breathed, which is given and which is kept. Hoses of a stage do not count.

    Of several hoses of one role, the longest is given, and the first of the file is breathed. A hose that leads to no
    second stage counts where none does.
    """
    orders = catalogue().second_stages
    worn = [hose for hose in kit.hoses if hose.role in orders["breathed"] and not is_on_a_stage(hose, kit)]
    seconds = {item.tag for item in kit.items if isinstance(item, SecondStage)}
    worn = [hose for hose in worn if hose.to in seconds] or worn
    given = _first(sorted(worn, key=lambda hose: -hose.length_m), orders["given"])
    breathed = _first(worn, orders["breathed"])
    others = [hose for hose in worn if hose is not given]
    kept = breathed if breathed is not given else _first(others, orders["breathed"])
    return SecondStageHoses(breathed, given, kept)


def is_on_a_stage(hose: Hose, kit: ResolvedKit) -> bool:
    """Say whether a hose is fed by a cylinder that is carried as a stage."""
    return any(cylinder.carried == "stage" for cylinder in cylinders_feeding(hose, kit))


def _first(hoses: Sequence[Hose], roles: Sequence[str]) -> Hose | None:
    return min(hoses, key=lambda hose: roles.index(hose.role), default=None)
