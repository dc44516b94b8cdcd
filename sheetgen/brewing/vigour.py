"""How lively this yeast is: what readings say of its rate and of where it will end.

In: readings as (days since pitching, SG), the expected course. Out: a rate beside the usual one, a final
gravity, and how well both are known. Nothing here decides anything: the gate rests on readings alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, fsum, log, sqrt

from .fermentation import sugar_left_on_day
from .ranges import require

PRIOR_SPREAD = 0.15
"""Of the logarithm of the rate, before any reading: two of them are 30 % (cautious judgement, no source)."""
READING_SG = 0.001
"""What a reading by a steady hand is good for (common practice, no source)."""
ROUGHNESS = 0.10
"""By how much of what is still to fall the model may be wrong (our own judgement, no source)."""
MOST_READINGS = 12
"""The newest so many are used: more say nothing new, and take time."""
_GRID = tuple(step / 4 for step in range(-12, 13))


@dataclass(frozen=True, slots=True)
class Course:
    """What is expected of a batch: original and final gravity (SG) and how far the final one may be off (one
    standard deviation, SG), the room (C), and the day on which 99 % of the sugar is gone.
    """

    original: float
    final: float
    final_spread: float
    celsius: float
    first_test_day: float

    def __post_init__(self) -> None:
        require("original gravity", self.original, 1.0, 1.130, "SG")
        require("final gravity", self.final, 0.980, self.original, "SG")
        require("spread of the final gravity", self.final_spread, 1e-6, 0.1, "SG")


@dataclass(frozen=True, slots=True)
class Learned:
    """The rate as a multiple of the usual one, the spread of its logarithm; the final gravity and its spread
    (SG).
    """

    vigour: float
    spread: float
    final: float
    final_spread: float


@dataclass(frozen=True, slots=True)
class _Guess:
    """One rate that might be: its logarithm, how well it fits, and the best final gravity with it."""

    log_rate: float
    weight: float
    final: float
    variance: float


def learned(course: Course, readings: Sequence[tuple[float, float]]) -> Learned:
    """Rate and final gravity after `readings`, as (days since pitching, corrected SG).

    Bayes on a grid of 25 rates: before the readings the rate is log-normal about the usual one with a spread
    of 0.15, the final gravity normal about the expected one. For each rate the final gravity is a plain
    weighted least-squares sum, since gravity is linear in it. A reading weighs by 0.001 SG and a tenth of
    what was still to fall. The newest twelve count. Range: days 0 to 10 000, readings 0.970 to 1.180 SG;
    `Course` states the others. Source: textbook Bayes; the spreads are cautious judgement, no source.
    """
    for day, sg in readings:
        require("day", day, 0.0, 1e4, "days")
        require("corrected reading", sg, 0.970, 1.180, "SG")
    if not readings:
        return Learned(1.0, PRIOR_SPREAD, course.final, course.final_spread)
    newest = sorted(readings)[-MOST_READINGS:]
    weights = [_weight(course, day) for day, _ in newest]
    return _summed(course, [_guess(course, place, newest, weights) for place in _GRID])


def _weight(course: Course, day: float) -> float:
    left = sugar_left_on_day(course.celsius, day, course.first_test_day)
    rough = ROUGHNESS * left * (course.original - course.final)
    return 1.0 / (READING_SG * READING_SG + rough * rough)


def _guess(
    course: Course, place: float, readings: Sequence[tuple[float, float]], weights: Sequence[float]
) -> _Guess:
    """The fit with the rate that lies `place` spreads from the usual one."""
    log_rate = place * PRIOR_SPREAD
    known = 1.0 / (course.final_spread * course.final_spread)
    pull = misfit = 0.0
    for (day, sg), weight in zip(readings, weights, strict=True):
        left = sugar_left_on_day(course.celsius, day, course.first_test_day, exp(log_rate))
        gone, off = 1.0 - left, sg - course.final - (course.original - course.final) * left
        known += weight * gone * gone
        pull += weight * gone * off
        misfit += weight * off * off
    fit = place * place + misfit - pull * pull / known + log(known)
    return _Guess(log_rate, fit, course.final + pull / known, 1.0 / known)


def _summed(course: Course, guesses: Sequence[_Guess]) -> Learned:
    best = min(guess.weight for guess in guesses)
    shares = [exp((best - guess.weight) / 2) for guess in guesses]
    total = fsum(shares)

    def mean(values: Sequence[float]) -> float:
        return fsum(share * value for share, value in zip(shares, values, strict=True)) / total

    rate = mean([guess.log_rate for guess in guesses])
    final = mean([guess.final for guess in guesses])
    spread = sqrt(mean([(guess.log_rate - rate) ** 2 for guess in guesses]))
    doubt = sqrt(mean([guess.variance + (guess.final - final) ** 2 for guess in guesses]))
    return Learned(exp(rate), min(PRIOR_SPREAD, spread), final, min(course.final_spread, doubt))
