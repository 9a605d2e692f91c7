"""The changeover of two kits of twelve hoses each against assessing one of them, in pairs in one run."""

import statistics
import time

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.kit.items import FirstStage, Gauge, Header, Hose, Item, Kit, SecondStage
from kitbuilder.kit.resolved import resolve
from kitbuilder.plans.changeover import plan_changeover

HOSES, PAIRS = 12, 100
AIM_MS = 50.0
TURRET = "brass, DIN, turret 5 LP 2 HP"


def kit_of_twelve(turned: int) -> Kit:
    """Three first stages, nine hoses to second stages and three to gauges, the ports turned by some places."""
    items: list[Item] = []
    for stage in range(3):
        used = {"HP1"}
        for number in range(3):
            port = f"LP{1 + (number + turned) % 5}"
            used.add(port)
            name = f"{stage}{number}"
            length = 0.56 + 0.05 * ((stage * 3 + number * turned) % 5)
            items.append(_hose(f"hose {name}", "primary", f"stage {stage} {port}", f"second {name}", length))
            items.append(SecondStage(tag=f"second {name}", preset=("plastic body", "metal body")[number % 2]))
        items.append(_hose(f"gauge hose {stage}", "gauge", f"stage {stage} HP1", f"gauge {stage}", 0.61))
        items.append(Gauge(tag=f"gauge {stage}", preset="brass gauge"))
        free = tuple(port for port in ("LP1", "LP2", "LP3", "LP4", "LP5", "HP2") if port not in used)
        items.append(FirstStage(tag=f"stage {stage}", preset=TURRET, plugged=free))
    return Kit(Header(format=1, name=f"twelve, turned {turned}", layout="sidemount"), tuple(items))


def _hose(tag: str, role: str, port: str, to: str, length_m: float) -> Hose:
    return Hose(tag=tag, role=role, from_=port, to=to, body="rubber", length_m=length_m)


def time_planning(source: Assessment, target: Assessment) -> float:
    """Seconds of one changeover."""
    start = time.perf_counter()
    plan = plan_changeover(source, target)
    assert plan.match.is_proved
    return time.perf_counter() - start


def time_assessing(kit: Kit) -> float:
    """Seconds of one assessment."""
    start = time.perf_counter()
    assess(resolve(kit))
    return time.perf_counter() - start


def main() -> None:
    """Take the pairs and print medians and the median ratio."""
    kits = kit_of_twelve(1), kit_of_twelve(2)
    assert all(len(kit.hoses) == HOSES for kit in kits)
    source, target = (assess(resolve(kit)) for kit in kits)
    first = time_planning(source, target) * 1e3
    pairs = [(time_planning(source, target), time_assessing(kits[0])) for _ in range(PAIRS)]
    times = [planning * 1e3 for planning, _ in pairs]
    ratios = [planning / assessing for planning, assessing in pairs]
    print(f"changeover, {HOSES} hoses each: median {statistics.median(times):.1f} ms", end="")
    print(
        f" (min {min(times):.1f}, max {max(times):.1f}); aim below {AIM_MS:.0f}; the very first {first:.0f}, ", end=""
    )
    print("which loads the solver")
    print(f"  median ratio {statistics.median(ratios):.1f} to assessing one of the kits", end="")
    print(f" (min {min(ratios):.1f}, max {max(ratios):.1f})")


if __name__ == "__main__":
    main()
