"""What the body of a hose does to skin, and whether the hose floats or hangs in the water."""

from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Unchecked, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose


def crosses_neck(hose: Hose) -> bool:
    """Say whether a hose lies on the neck, as the file says or as usual for its role."""
    return catalogue().roles[hose.role].crosses_neck if hose.crosses_neck is None else hose.crosses_neck


@rule("coarse on the neck")
def coarse_on_the_neck(context: Context) -> RuleResults:
    """Report a braided cover against bare skin."""
    for figures in context.hoses:
        hose = figures.hose
        surface = catalogue().bodies[figures.service, hose.body].surface
        if surface != "coarse" or not crosses_neck(hose):
            continue
        if context.kit.header.neck is None:
            yield Unchecked(None, "neck", words(f"whether the braided {hose.tag} lies on bare skin is not said"))
        elif context.kit.header.neck == "bare":
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "body",
                words(f"its {hose.body} cover is coarse and it lies on the bare neck"),
                words("It chafes the skin on every turn of the head."),
                words("Take a smooth body for this hose, or wear a collar or hood."),
                rule_of_thumb=True,
            )


@rule("long hose floats")
def long_hose_floats(context: Context) -> RuleResults:
    """Report a long light hose that rises in the middle."""
    limit = catalogue().limits["long_hose"].value
    for figures in context.hoses:
        buoyancy = figures.weight.buoyancy
        if figures.hose.length_m < limit or buoyancy.value + buoyancy.spread <= 0:
            continue
        floats = "it floats" if buoyancy.value - buoyancy.spread > 0 else "it may float"
        yield Finding(
            Signal.NOTICE,
            figures.number,
            "body",
            words(
                f"{floats}: ",
                Amount(buoyancy.value, "hose buoyancy"),
                " ± ",
                Amount(buoyancy.spread, "hose mass"),
                f" in {context.water.name} water",
            ),
            words("The middle rises off the body while the ends sink, above all behind the back."),
            words("Tuck the surplus so that it is held along its length, and look at it in the water."),
        )
