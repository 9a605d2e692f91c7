"""What the body of a hose does to skin, and whether the hose floats or hangs in the water."""

from kitbuilder.assess.findings import Finding, RuleResults, Signal, Tag, Unchecked, words
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.limit_words import about
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
            yield Unchecked(
                None,
                "neck",
                words("whether the braided hose ", Tag(hose.tag), " lies on bare skin: the file does not say"),
            )
        elif context.kit.header.neck == "bare":
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "body",
                words(f"the {hose.body} cover of the hose is coarse, and the hose lies on the bare neck"),
                words("It chafes the skin with every turn of the head."),
                words("Use a hose with a smooth body, or wear a collar or a hood."),
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
        floats = "the hose floats" if buoyancy.value - buoyancy.spread > 0 else "the hose may float"
        yield Finding(
            Signal.NOTICE,
            figures.number,
            "body",
            words(
                f"{floats} in {context.water.name} water: its buoyancy is ",
                about(buoyancy, "hose buoyancy"),
            ),
            words("The middle of the hose rises off the body while its ends sink, most of all behind the back."),
            words("Tuck in the loose part so that it is held along its length. Check in the water how it lies."),
        )
