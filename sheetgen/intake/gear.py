"""Water and equipment: what is at hand.

Comes in: their forms and nodes.  Goes out: `model.Water`, `model.Equipment`, with the
assumptions that fill their gaps.  Reading (with problems) and filling in (with assumptions) are two steps:
the second is only taken when nothing stops.
"""

from __future__ import annotations

from typing import Any

from sheetgen.intake import pantry
from sheetgen.intake.batch_tables import EQUIPMENT, HYDROMETER, VESSEL, WATER
from sheetgen.intake.fields import Field, Table
from sheetgen.intake.forms import Desk, Form, Place, empty_form, read_form, read_text
from sheetgen.intake.kinds import KINDS
from sheetgen.model import Equipment, Hydrometer, Sanitiser, Water
from sheetgen.nodes import Node, Text
from sheetgen.problems import said
from sheetgen.records import record
from sheetgen.units import Celsius, Gravity, Litres, Misread

MATERIAL = "plastic"


def water_of(form: Form) -> Water:
    """The water at hand."""
    inside = _inside(form, "water") or empty_form(WATER, _named(form.place, "water"))
    inside.assume()
    return Water(
        tap=inside.get("tap"),
        fridge=inside.get("fridge"),
        fridge_space=inside.get("fridge-space"),
        altitude=inside.get("altitude"),
        ice=inside.get("ice"),
    )


def _inside(form: Form, key: str) -> Form | None:
    found = form.values.get(key)
    return found if isinstance(found, Form) else None


def _named(place: Place, key: str) -> Place:
    return Place(
        place.desk, (*place.crumbs, key), f"{place.dotted}.{key}" if place.dotted else key, place.span
    )


@record
class EquipmentSaid:
    """What was said of the gear: its form, and the forms of what has an own form or a short one."""

    form: Form | None = None
    vessel_name: str = ""
    vessel: Litres | None = None
    calibrated: Celsius | None = None
    in_water: Gravity | None = None
    made_of: str | None = None
    has_hydrometer: bool = True


def read_equipment(form: Form | None) -> EquipmentSaid:
    """The gear; vessel and hydrometer may be a single value or a map."""
    if not isinstance(form, Form):
        return EquipmentSaid()
    vessel = _short_or_map(form, "vessel", VESSEL, "holds")
    hydrometer = _short_or_map(form, "hydrometer", HYDROMETER, "calibrated")
    _check_products(form, vessel.values.get("made-of") if vessel else None)
    in_water = hydrometer.values.get("in-water") if hydrometer else None
    if hydrometer and in_water is not None and not 0.98 <= in_water <= 1.02:
        hydrometer.place_of("in-water").stop(
            f"{in_water:.3f} in plain water is not possible", "write 0.998, for example"
        )
    return EquipmentSaid(
        form,
        vessel.get("name") if vessel else "",
        vessel.values.get("holds") if vessel else None,
        hydrometer.values.get("calibrated") if hydrometer else None,
        in_water,
        vessel.values.get("made-of") if vessel else None,
        not _is_none(form.values.get("hydrometer")),
    )


def _short_or_map(form: Form, key: str, table: Table, main: str) -> Form | None:
    """A form from `key: {…}`, or from one value that stands for the main field."""
    node: Node | None = form.values.get(key)
    place = form.place_of(key)
    if node is None:
        return None
    if _is_none(node):
        if key == "vessel":
            place.stop("without a vessel nothing can be brewed", "write vessel: 15 L, or leave it out")
        return None
    if not isinstance(node, Text):
        return read_form(node, table, place)
    value = _alone(node, table[main], place)
    found = empty_form(table, place)
    if not isinstance(value, Misread):
        found.values[main] = value
    return found


def _alone(node: Text, main: Field, place: Place) -> Any:
    """The one value that stands for a map; words after it belong into the map."""
    words = node.value.split()
    for count in range(1, min(len(words), 4)):
        value = KINDS[main.kind].reader(" ".join(words[:count]))
        whole = isinstance(KINDS[main.kind].reader(node.value), Misread)
        if whole and isinstance(value, Misread) and "?" in value.message and count > 1:
            place.stop(value.message, value.fix)
            return value
        if whole and not isinstance(value, Misread):
            amount, rest = " ".join(words[:count]), " ".join(words[count:])[:30]
            fix = f"write {amount}, or {{name: {rest}, {main.key}: {amount}}}"
            place.stop(f'"{rest}" after {amount} cannot be read here', fix)
            return Misread("")
    return read_text(main, node, place)


def _is_none(node: Node | None) -> bool:
    return isinstance(node, Text) and node.value.strip().lower() == "none"


def equipment_of(found: EquipmentSaid, whole: Form, desk: Desk) -> Equipment:
    """The gear with its defaults; vessel and pot stay open where nothing was said: planning knows what is
    needed.
    """
    form = found.form or empty_form(EQUIPMENT, _named(whole.place, "equipment"))
    form.assume()
    cleaner, sanitiser = _product(form, "cleaner", desk), _product(form, "sanitiser", desk)
    if found.made_of is None and (cleaner.not_on or sanitiser.not_on):
        desk.assume("equipment.vessel.made-of", said("assume.made-of", material=MATERIAL))
    return Equipment(
        vessel_name=found.vessel_name,
        vessel=found.vessel,
        pot=form.get("pot"),
        hydrometer=_hydrometer(found, desk),
        cleaner=cleaner,
        sanitiser=sanitiser,
        scales=form.get("scales"),
        bottling_vessel=form.get("bottling-vessel"),
        boil_off=form.get("boil-off"),
        has_hydrometer=found.has_hydrometer,
    )


def _product(form: Form, key: str, desk: Desk) -> Sanitiser:
    """The product that was chosen; the choice was one of all names."""
    found = pantry.sanitisers(desk.beside).find(form.get(key))
    if found is None:
        raise KeyError(key)
    return found


def _check_products(form: Form, material: str | None) -> None:
    """Nothing touches the vessel that would eat into it; a vessel of unknown make counts as plastic."""
    desk = form.place.desk
    shelf = pantry.sanitisers(desk.beside)
    for key in ("cleaner", "sanitiser"):
        product = shelf.find(form.get(key)) if form.get(key) else None
        if product is None or (material or MATERIAL) not in product.not_on:
            continue
        others = [
            each.id
            for each in shelf.things.values()
            if each.cleans == product.cleans and (material or MATERIAL) not in each.not_on
        ]
        fix = f"write {key}: {others[0]}, for example" if others else "use one that is made for it"
        form.place_of(key).stop(f"{product.id} is not for {material or MATERIAL}, which it eats into", fix)


def _hydrometer(found: EquipmentSaid, desk: Desk) -> Hydrometer:
    usual = Hydrometer()
    if not found.has_hydrometer:
        return usual
    if found.calibrated is None:
        desk.assume("equipment.hydrometer", said("assume.hydrometer", celsius=usual.calibrated))
    if found.in_water is None:
        desk.assume("equipment.hydrometer.in-water", said("assume.in-water", sg=usual.in_water))
    return Hydrometer(
        usual.calibrated if found.calibrated is None else found.calibrated,
        usual.in_water if found.in_water is None else found.in_water,
    )
