"""How a diver lies in the water: what turns head and feet, and where it comes to rest.

The diver lies level, face down. `x` is metres along the body towards the feet, `z` metres off the body towards the
back, which is up. Every item is a force at a point, in kilogram-force, plus floats. The two moments are

    along    A = sum of force times x      plus: floats at the feet, so the head goes down
    behind   B = sum of force times z      plus: floats at the back, lead at the belly

Pitched head up by an angle p, the body's direction to the feet dips by p and the direction to the back leans towards
the feet: seen from the side, (x, z) comes to stand x cos p + z sin p towards the feet and z cos p - x sin p up. All
forces are vertical, so only the first is an arm, and the moment that lifts the feet is A cos p + B sin p. If all
forces together are zero, it does not matter where x and z are counted from.
"""

import math
from collections.abc import Sequence


def moment(forces_kgf: Sequence[float], arms_m: Sequence[float]) -> float:
    """Give the moment of forces about the point the arms are counted from.

    Args:
        forces_kgf: buoyancy of every item, plus floats [kgf].
        arms_m: its place, in the same order: x towards the feet, or z towards the back [m].

    Returns:
        Sum of force times arm; with x, plus means that the head goes down [kgf m].

    Raises:
        ValueError: not as many forces as arms, or one that is not a finite number.

    Valid: any forces; the moment does not depend on where the arms start only if the forces add up to zero.

    Source: statics, any physics textbook, moment of parallel forces.
    """
    if len(forces_kgf) != len(arms_m):
        raise ValueError(f"every force has one arm: {len(forces_kgf)} forces, {len(arms_m)} arms")
    _require_finite(*forces_kgf, *arms_m)
    return math.fsum(force * arm for force, arm in zip(forces_kgf, arms_m, strict=True))


def rest_pitch(moment_along_kgf_m: float, moment_behind_kgf_m: float) -> float:
    """Give the pitch at which nothing turns a neutrally buoyant diver, of the two such pitches the one nearer to level.

    Args:
        moment_along_kgf_m: moment with the arms x, towards the feet [kgf m].
        moment_behind_kgf_m: moment with the arms z, towards the back [kgf m].

    Returns:
        Pitch, plus head up, from -pi/2 (just not reached, but for rounding) to pi/2; 0 if neither moment turns the
        diver [rad].

    Raises:
        ValueError: a moment that is not a finite number.

    Valid: forces that add up to zero, a rigid body, no swimming. With nothing behind, upright and head down are
    equally far from level, and pi/2 stands for both: `is_steady` tells whether head up is the one that holds.

    Source: statics; A cos p + B sin p = 0 as derived at the head of this module, so tan p = -A / B.
    """
    _require_finite(moment_along_kgf_m, moment_behind_kgf_m)
    if moment_behind_kgf_m == 0.0:
        return math.pi / 2.0 if moment_along_kgf_m else 0.0
    # Adding zero turns -0.0 into 0.0.
    return math.atan2(-math.copysign(1.0, moment_behind_kgf_m) * moment_along_kgf_m, abs(moment_behind_kgf_m)) + 0.0


def is_steady(moment_along_kgf_m: float, moment_behind_kgf_m: float) -> bool:
    """Tell whether a diver nudged away from `rest_pitch` comes back to it.

    Args:
        moment_along_kgf_m: moment with the arms x, towards the feet [kgf m].
        moment_behind_kgf_m: moment with the arms z, towards the back [kgf m].

    Returns:
        True when what floats stands above what sinks at rest; False when it turns over, or stays at every pitch.

    Raises:
        ValueError: a moment that is not a finite number.

    Valid: as `rest_pitch`.

    Source: statics, stability of a submerged body: the centre of buoyancy lies above the centre of mass, here
    B cos p - A sin p above 0, which at the rest pitch has the sign of B.
    """
    _require_finite(moment_along_kgf_m, moment_behind_kgf_m)
    if moment_behind_kgf_m == 0.0:
        return moment_along_kgf_m < 0.0
    return moment_behind_kgf_m > 0.0


def shift_to_level(moment_kgf_m: float, weight_kgf: float) -> float:
    """Give how far a weight must move along the body so that nothing turns the diver lying level.

    Args:
        moment_kgf_m: moment with the arms x; plus: floats at the feet, the head goes down [kgf m].
        weight_kgf: what the weight to be moved weighs in water, above 0 [kgf].

    Returns:
        Way towards the head; minus, towards the feet [m].

    Raises:
        ValueError: a moment that is not a finite number, or a weight that is not above 0.

    Valid: forces that add up to zero. The way can be longer than the diver.

    Source: statics; a weight w moved by s towards the head adds w s to the moment, so s = -A / w.
    """
    _require_finite(moment_kgf_m, weight_kgf)
    if not weight_kgf > 0.0:
        raise ValueError(f"a weight to be moved weighs more than zero in water, not {weight_kgf}")
    # Adding zero turns -0.0 into 0.0.
    return -moment_kgf_m / weight_kgf + 0.0


def _require_finite(*values: float) -> None:
    if not all(math.isfinite(value) for value in values):
        raise ValueError(f"forces, arms and moments are finite numbers, not {values}")
