"""How many further readings a batch needs at the least: the gate's own rules, asked for days to come.

In: a question to the gate, and gravities that the drink may show (SG). Out: a number of readings.
"""

from collections.abc import Callable, Iterable, Sequence

from .gate import Reading, Verdict

MOST_MORE = 3  # no plan looks further ahead than so many readings


def _more_until_pass(ask: Callable[[Sequence[Reading]], Verdict], sg: float) -> int | None:
    more: list[Reading] = []
    while (next_day := ask(more).next_day) is not None:
        if len(more) == MOST_MORE:
            return None
        more.append(Reading(next_day, sg))
    return len(more)


def fewest_more(ask: Callable[[Sequence[Reading]], Verdict], levels: Iterable[float]) -> int | None:
    """The fewest further readings after which the gate could pass, if all of them show one of `levels` (SG).

    `ask` judges what was read so far and the further readings that it is given; each is taken on the day that
    the gate names. None when no such level passes within three readings. Range of a level: as `Reading`.
    Source: none of its own, it asks the rules.
    """
    found = [_more_until_pass(ask, sg) for sg in levels]
    return min((number for number in found if number is not None), default=None)
