"""Rules of what a file says and this batch has no use for: nothing written is passed over in silence.

Comes in: `Facts`.  Goes out: findings.  A wish that is not granted is a warning; gear and water that are not
needed are notes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sheetgen.planning.facts import Facts, finding
from sheetgen.planning.gatekeeping import ROUSING, WARM_UP_C, finish_test
from sheetgen.planning.sound import readable
from sheetgen.planning.water_plan import LEAST_COLDER_C
from sheetgen.problems import Level, Problem, said
from sheetgen.records import record

BELOW_THE_SEA_M = -10.0
"""From here down water boils above 100 C, in usual weather."""


@record
class Unused:
    """Keys of a batch file, when they change nothing, and the sentence that says so."""

    keys: tuple[str, ...]
    sentence: str
    when: Callable[[Facts], bool]
    level: Level = "note"


def _is_still(facts: Facts) -> bool:
    return not facts.batch.recipe.drink.primed


def _boils_nothing(facts: Facts) -> bool:
    return not facts.batch.recipe.boil_minutes


def _heats_nothing(facts: Facts) -> bool:
    return facts.water.kettle_l <= 0


def _takes_no_water(facts: Facts) -> bool:
    return _heats_nothing(facts) and facts.water.fridge_l <= 0 and facts.water.tap_l <= 0


def _has_a_warm_fridge(facts: Facts) -> bool:
    water = facts.batch.water
    return not _takes_no_water(facts) and water.fridge > water.tap - LEAST_COLDER_C


def _uses_no_ice(facts: Facts) -> bool:
    return facts.batch.water.ice > 0 and facts.water.ice_kg <= 0


def _weighs_nothing_small(facts: Facts) -> bool:
    gear, gas = facts.batch.equipment, facts.gas
    weighed = "g" in (gear.cleaner.dose_unit, gear.sanitiser.dose_unit)
    return not weighed and (gas is None or gas.dosing != "weight")


def _works_on_every_day(facts: Facts) -> bool:
    batch = facts.batch
    return batch.my_days is None and not batch.work_days and not batch.shifts


def _has_one_kind_of_bottle(facts: Facts) -> bool:
    return len(facts.batch.bottles) == 1


UNUSED = (
    Unused(
        ("carbonation", "sugar", "dosing", "sugar-piece", "room.warm-place"),
        "warn.unused-still",
        _is_still,
        "warn",
    ),
    Unused(("equipment.boil-off",), "note.unused-boil-off", _boils_nothing),
    Unused(("equipment.pot", "water.altitude"), "note.unused-heat", _heats_nothing),
    Unused(("water.tap", "water.fridge", "water.fridge-space"), "note.unused-water", _takes_no_water),
    Unused(("water.fridge", "water.fridge-space"), "note.unused-fridge", _has_a_warm_fridge),
    Unused(("water.ice",), "note.unused-ice", _uses_no_ice),
    Unused(("equipment.scales",), "note.unused-scales", _weighs_nothing_small),
    Unused(("holidays", "public-holidays"), "note.unused-holidays", _works_on_every_day),
    Unused(("fill",), "note.unused-fill", _has_one_kind_of_bottle),
)
"""One line for each reason."""


def what_changes_nothing_is_said(facts: Facts) -> Iterator[Problem]:
    """Each key that was written, and that this batch has no use for."""
    for one in UNUSED:
        for key in one.keys if one.when(facts) else ():
            if key in facts.batch.where:
                sentence = said(one.sentence, key=key.rpartition(".")[2])
                yield finding(facts, one.level, sentence, key)


def yeast_before_its_date_counts_as_fresh(facts: Facts) -> Iterator[Problem]:
    """The date on the sachet asks for more yeast only once it has passed."""
    printed = facts.batch.yeast.printed
    if printed is not None and printed >= facts.task("brew").when.expected:
        yield finding(facts, "note", said("note.yeast-good", on=printed), "yeast.expired")


def what_ferments_out_asks_no_yeast_how_far(facts: Facts) -> Iterator[Problem]:
    """The share of malt sugar that a yeast states is no limit where there is only simple sugar."""
    recipe = facts.batch.recipe
    if recipe.drink.ferments_out and recipe.yeast.attenuation is not None:
        yield finding(facts, "note", said("note.unused-attenuation"), "recipe.yeast.attenuation")


def below_the_sea_water_boils_as_at_its_shore(facts: Facts) -> Iterator[Problem]:
    """The sums of heat end at 100 C."""
    if facts.batch.water.altitude <= BELOW_THE_SEA_M and not _heats_nothing(facts):
        yield finding(facts, "note", said("note.below-sea"), "water.altitude")


def work_that_no_plan_asked_for_is_said(facts: Facts) -> Iterator[Problem]:
    """More of a job than the drink has, or none of its jobs; what wakes the yeast counts all the same."""
    planned = {job.what: len(job.days) for job in facts.batch.recipe.drink.jobs}
    for what, on in facts.batch.actual.done:
        planned[what] = planned.get(what, 0) - 1
        if planned[what] < 0 and what not in ROUSING:
            message = said("note.unused-done", task=f"{what}-1", on=on)
            yield finding(facts, "note", message, "actual.done")


def a_move_to_no_warmer_place_is_no_warm_up(facts: Facts) -> Iterator[Problem]:
    """Less than 2 C over the room wakes no yeast."""
    room = float(facts.batch.room.fermenting[0])
    for on, to in facts.batch.actual.warmed:
        if to < room + WARM_UP_C:
            message = said("note.unused-warmed", on=on, celsius=float(to), room=room)
            yield finding(facts, "note", message, "actual.warmed")


def a_finish_test_that_did_not_ferment_is_not_believed(facts: Facts) -> Iterator[Problem]:
    """More than half of the sugar left: the yeast of the test was dead."""
    actual = facts.batch.actual
    if actual.finish_test is None or not readable(actual.finish_test, actual.finish_celsius):
        return
    if finish_test(facts.batch, facts.found) is None:
        message = said("warn.finish-test-left", sg=float(actual.finish_test))
        yield finding(facts, "warn", message, "actual.finish-test", said("fix.finish-test-left"))
