"""The depths that a kit is meant for, as its file gives them or as is usual."""

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.resolved import ResolvedKit


def stop_of(kit: ResolvedKit) -> float:
    """Give the depth of the stop that a kit must hold [m]."""
    return catalogue().limits["stop"].value if kit.header.stop_m is None else kit.header.stop_m


def deepest_of(kit: ResolvedKit) -> float:
    """Give the greatest depth a kit is meant for [m]."""
    return catalogue().limits["deepest"].value if kit.header.deepest_m is None else kit.header.deepest_m
