"""What stays behind between the fermenter and the bottles, in litres.

In: litres fermented, number of gravity readings, grams of dry hops, number of rackings. Out: litres lost.
"""

from .ranges import require

SMALLEST_SEDIMENT_LITRES = 0.4
SEDIMENT_SHARE = 0.04
DEAD_SPACE_LITRES = 0.1
LITRES_PER_READING = 0.1
LITRES_PER_GRAM_OF_DRY_HOPS = 0.0065
RACKING_SHARE = 0.03


def sediment_litres(litres: float) -> float:
    """Litres left with the yeast: 4 % of `litres`, at least 0.4. Range 0.5 to 1000 L. Common practice,
    no source.
    """
    require("volume", litres, 0.5, 1000.0, "L")
    return max(SMALLEST_SEDIMENT_LITRES, SEDIMENT_SHARE * litres)


def sample_litres(readings: int) -> float:
    """Litres for dead space (0.1) and gravity samples (0.1 each; drunk, never returned).

    `readings` is their number, planned or taken; range 0 to 100. Common practice, no source.
    """
    require("readings", readings, 0, 100)
    return DEAD_SPACE_LITRES + LITRES_PER_READING * readings


def dry_hop_litres(grams: float) -> float:
    """Litres soaked up by `grams` of dry hops, 6.5 ml each. Range 0 to 10 000 g. Common practice, no
    source.
    """
    return LITRES_PER_GRAM_OF_DRY_HOPS * require("dry hops", grams, 0.0, 10_000.0, "g")


def racking_litres(litres: float, rackings: int) -> float:
    """Litres lost to `rackings`, each 3 % of the batch. Range 0.5 to 1000 L, 0 to 10. Common practice,
    no source.
    """
    require("volume", litres, 0.5, 1000.0, "L")
    return RACKING_SHARE * litres * require("rackings", rackings, 0, 10)


def share_litres(litres: float, share: float) -> float:
    """Litres lost to work that leaves a `share` of the batch behind in all: racking, straining off fruit.

    Range 0.5 to 1000 L, share 0 to 0.5. Source: definition; the shares are the drink's own.
    """
    require("volume", litres, 0.5, 1000.0, "L")
    return litres * require("share left behind", share, 0.0, 0.5)


def loss_litres(litres: float, readings: int, dry_hop_grams: float = 0.0, rackings: int = 0) -> float:
    """All litres of a batch of `litres` that will not reach a bottle: sediment, samples, dry hops, rackings.

    Range as the four parts. Common practice, no source.
    """
    return (
        sediment_litres(litres)
        + sample_litres(readings)
        + dry_hop_litres(dry_hop_grams)
        + racking_litres(litres, rackings)
    )


def extra_litres(dry_hop_grams: float = 0.0) -> float:
    """The part of the losses (L) that may turn out smaller: the dead space, and what the dry hops soak up.

    Bottles are prepared for it, so that none is missing when the tap still runs.  Range as
    `dry_hop_litres`.  Common practice, no source.
    """
    return DEAD_SPACE_LITRES + dry_hop_litres(dry_hop_grams)
