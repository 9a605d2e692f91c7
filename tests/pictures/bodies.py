"""Bodies to draw, and hoses laid over them by eye.

The bodies are of the body survey ANSUR II of 2012 [mm]: the women's 5th percentile of every measure, the men's
50th and the men's 95th. No single body has every measure at one percentile; for pictures that does no harm.
"""

from kitbuilder.pictures.body_picture import HoseLine, PicturePoint

NAMES = (
    "stature", "C7 height", "acromion height", "armpit height", "breastbone height", "chest height",
    "tenth rib height", "hip crest height", "crotch height", "knee height", "shoulder breadth",
    "breadth over the upper arms", "chest breadth", "chest depth", "waist breadth", "waist depth", "hip breadth",
    "neck circumference", "head breadth", "chin to brow", "ear to top of head", "upper arm", "forearm", "arm span",
)  # fmt: skip
SMALL_MM = (
    1525, 1300.2, 1242, 1149, 1236.2, 1080.2, 976, 918, 712, 408, 335,
    406, 241, 205, 250.2, 169, 311, 302, 140, 104, 117, 283.2, 218, 1529,
)  # fmt: skip
MEDIAN_MM = (
    1755, 1517, 1439, 1328, 1437, 1289, 1119, 1061, 845, 487, 415,
    509, 289, 253, 325, 234, 344, 395, 154, 123, 131, 335, 267, 1812,
)  # fmt: skip
LARGE_MM = (
    1870, 1622.9, 1546, 1427, 1540, 1387, 1211, 1148, 925, 536, 447,
    567, 320, 298, 385, 300, 387, 443, 163, 134, 141, 365, 295, 1956.9,
)  # fmt: skip
BODIES = {
    name: dict(zip(NAMES, (value / 1000 for value in values), strict=True))
    for name, values in (("small", SMALL_MM), ("median", MEDIAN_MM), ("large", LARGE_MM))
}

ROUND_THE_HIP: tuple[PicturePoint, ...] = (
    (0.07, -0.08, -0.07), (0.12, -0.06, -0.45), (0.2, 0.11, -0.47), (0.13, 0.25, -0.46), (-0.11, 0.15, -0.07),
    (-0.09, 0.07, 0.03), (0.0, -0.02, 0.03), (0.09, 0.07, 0.03), (0.11, 0.16, 0.04), (0.06, 0.23, 0.05),
)  # fmt: skip
NECKLACE: tuple[PicturePoint, ...] = (
    (-0.07, -0.09, -0.03), (0.0, -0.02, 0.03), (0.11, 0.04, 0.02), (0.11, 0.13, -0.01), (0.03, 0.23, -0.02),
)  # fmt: skip
INFLATOR: tuple[PicturePoint, ...] = ((-0.04, -0.09, -0.03), (-0.11, 0.04, 0.02), (-0.13, 0.25, -0.14))
SUIT: tuple[PicturePoint, ...] = (
    (-0.07, -0.08, -0.07),
    (-0.19, -0.06, -0.28),
    (-0.2, 0.13, -0.3),
    (-0.01, 0.28, -0.22),
)
GAUGE: tuple[PicturePoint, ...] = ((-0.07, -0.08, -0.07), (-0.14, -0.06, -0.33), (-0.18, 0.15, -0.48))
PRIMARY: tuple[PicturePoint, ...] = ((0.04, -0.09, -0.03), (0.17, -0.02, 0.02), (0.2, 0.17, -0.02), (0.06, 0.23, 0.05))


def line(number: int, points: tuple[PicturePoint, ...], **options: object) -> HoseLine:
    """A hose with a letter of its own, free from end to end, whose slack is not known."""
    plain = {"free": (0, len(points) - 1), "stand_off_m": None, "signal": "", "is_selected": False}
    return HoseLine(number, "abcdefghijklmnopqrstuvwxyz"[number % 26], points, **(plain | options))  # type: ignore[arg-type]


def hoses(body: str) -> tuple[HoseLine, ...]:
    """The hoses of a twinset, from those of a body of 1755 mm by its stature."""
    share = BODIES[body]["stature"] / 1.755
    led = [
        tuple((share * x, share * y, share * z) for x, y, z in points)
        for points in (ROUND_THE_HIP, NECKLACE, INFLATOR, SUIT, GAUGE)
    ]
    return (
        line(0, led[0], free=(2, 6), stand_off_m=0.12, is_selected=True),
        line(1, led[1], stand_off_m=0.05),
        line(2, led[2], free=(1, 2), stand_off_m=0.09, signal="caution"),
        line(3, led[3], stand_off_m=0.06, signal="warning"),
        line(4, led[4], stand_off_m=0.1, signal="notice"),
    )
