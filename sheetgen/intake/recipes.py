"""Recipe files: from bytes to `model.Recipe`.

Comes in: a name, looked up beside the batch, in the person's own folder and among ours; or a path; or
bytes. Goes out: the recipe (None when anything stops it), and all problems of its file at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any

from sheetgen import catalogue, nodes
from sheetgen.intake import drinks, mending, pantry
from sheetgen.intake.forms import Desk, Form, Place, read_form
from sheetgen.intake.packs import read_sizes
from sheetgen.intake.recipe_tables import RECIPE
from sheetgen.model import Drink, Ingredient, Keeping, PantryItem, Recipe, Yeast
from sheetgen.problems import Problem, Problems, Span, did_you_mean, nearest
from sheetgen.records import record
from sheetgen.units import Celsius, Grams, Litres, Misread, Volumes

MOST_PER_LITRE = 1.5
"""Kilograms and litres of ingredients for each litre of drink; juice and honey together stay under it."""

UNFIT_MOMENTS: Mapping[tuple[str, str], tuple[str, str]] = MappingProxyType(
    {
        ("grain", "off-heat"): ("grain is steeped in warm water", "write when: into the pot"),
        ("juice", "off-heat"): ("juice is not heated", "write when: into the vessel"),
        ("juice", "boil"): ("juice is not boiled", "write when: into the vessel"),
    }
)
"""What has no step on any sheet, by role and stage: why, and what to write."""


@record
class RecipeFile:
    """A recipe file that was read: the recipe, its text, its problems, and the spans of its keys."""

    name: str
    text: str
    recipe: Recipe | None
    problems: Problems
    where: Mapping[str, Span]


def read_recipe(name_or_path: str | Path, beside: Path | None = None) -> tuple[Recipe | None, Problems]:
    """A recipe by its name, or from a path, with all problems of its file."""
    if isinstance(name_or_path, Path):
        data, problems = catalogue.read_bytes(name_or_path)
        if data is None:
            return None, Problems(problems)
        near = beside or name_or_path.parent
        found = recipe_file(catalogue.document(data, name_or_path.name), name_or_path.stem, near)
        return found.recipe, found.problems
    path = catalogue.find("recipes", name_or_path, beside)
    if path is None:
        return None, Problems([missing(name_or_path, beside)])
    found = recipe_file(catalogue.load(path), name_or_path, beside)
    return found.recipe, found.problems


def recipes(beside: Path | None = None) -> list[tuple[str, Recipe | None, Problems]]:
    """Every recipe that can be named, in alphabetical order; files of another kind are left out."""
    found = []
    for name in names(beside):
        recipe, problems = read_recipe(name, beside)
        found.append((name, recipe, problems))
    return found


def usable_recipes(beside: Path | None = None) -> list[Recipe]:
    """Every recipe that can be found and brewed from."""
    return [recipe for _, recipe, problems in recipes(beside) if recipe and not problems.stopped]


def names(beside: Path | None = None) -> list[str]:
    """The names of all recipes."""
    return [name for name in catalogue.names("recipes", beside) if _is_recipe(name, beside)]


def _is_recipe(name: str, beside: Path | None) -> bool:
    path = catalogue.find("recipes", name, beside)
    return path is not None and nodes.kind_of(catalogue.load(path).node) == "recipe"


def missing(name: str, beside: Path | None) -> Problem:
    """What to say when there is no recipe of that name."""
    known = names(beside)
    guess = did_you_mean(name, known)
    fix = guess or f"known are: {', '.join(known)}"
    message = f'there is no recipe "{name[:60]}" beside the batch, in your own folder or among ours'
    return Problem("stop", message, None, fix)


def recipe_file(found: catalogue.Document, name: str, beside: Path | None) -> RecipeFile:
    """The recipe in a file that was already read; `name` is its id."""
    desk = Desk(date.min, beside)
    desk.problems.extend(found.problems)
    recipe = None
    if found.node is not None:
        recipe = _recipe(found.node, name, desk)
    where = {key: span for key, span in desk.where.items() if key}
    return RecipeFile(found.name, found.text, recipe, desk.problems, where)


def _recipe(node: nodes.Node, name: str, desk: Desk) -> Recipe | None:
    kind = nodes.kind_of(node)
    if kind not in (None, "recipe") and not (kind == "drink" and _has(node, "ingredients")):
        desk.problems.stop(
            f"this file is a {kind}, not a recipe", node.span, "write recipe-name: in a recipe"
        )
        return None
    form = read_form(node, RECIPE, Place(desk, (f"recipe {name}",), "", node.span))
    drink = _drink_of(form, desk)
    ingredients = [_ingredient(each, desk) for each in form.lists("ingredients")]
    if form.said("ingredients") and not ingredients and not desk.problems.stopped:
        form.place_of("ingredients").stop("there are no ingredients", "write at least one line: - {what: …}")
    _check_boil(form)
    _check_gas(form, drink)
    _check_rackings(form, drink)
    _check_weight([each for each in ingredients if each], form)
    yeast = _yeast(form, drink)
    if desk.problems.stopped or drink is None or yeast is None:
        return None
    return _assembled(name, form, drink, tuple(each for each in ingredients if each), yeast, desk)


def _has(node: nodes.Node, key: str) -> bool:
    return isinstance(node, nodes.Entries) and node.entry(key) is not None


def _assembled(
    name: str, form: Form, drink: Drink, ingredients: tuple[Ingredient, ...], yeast: Yeast, desk: Desk
) -> Recipe:
    return Recipe(
        id=name,
        name=form.get("recipe-name"),
        drink=drink,
        litres=Litres(form.get("volume")),
        ingredients=ingredients,
        yeast=yeast,
        boil_minutes=form.get("boil"),
        carbonation=Volumes(form.get("carbonation")) if form.said("carbonation") else None,
        keeping=_keeping_of(form, desk),
        about=form.get("about"),
    )


def _keeping_of(form: Form, desk: Desk) -> Keeping | None:
    return pantry.keepings(desk.beside).get(form.get("keeping") or "")


def _drink_of(form: Form, desk: Desk) -> Drink | None:
    name = form.values.get("drink")
    if not name:
        return None
    found, problems = drinks.drink(name, desk.beside)
    desk.problems.extend(problems)
    return found


def _yeast(form: Form, drink: Drink | None) -> Yeast | None:
    """The yeast; where all sugar can ferment out it is wine yeast, unless the recipe says otherwise."""
    inside = form.values.get("yeast")
    if not isinstance(inside, Form) or not all(key in inside.values for key in ("what", "pack", "range")):
        return None
    low, high = inside.get("range")
    usual = "wine" if drink is not None and drink.ferments_out else "ale"
    return Yeast(
        inside.get("what"),
        inside.values.get("kind", usual),
        Grams(inside.get("pack")),
        (Celsius(low), Celsius(high)),
        inside.get("attenuation"),
    )


# Ingredients


def _ingredient(form: Form, desk: Desk) -> Ingredient | None:
    item = _item_of(form, desk)
    if item is None:
        return None
    amount = _amount(form, "amount", item)
    packs = read_sizes(form.values["pack"], form.place_of("pack"), item) if "pack" in form.values else ()
    when = form.values.get("when")
    if amount is None or when is None:
        return None
    unfit = UNFIT_MOMENTS.get((item.role, when.stage))
    if unfit:
        form.place_of("when").stop(*unfit)
    return Ingredient(
        item=item,
        name=form.get("called") or item.id,
        amount=amount,
        when=when,
        packs=packs,
        alpha_percent=form.get("alpha"),
        colour_lovibond=form.get("colour"),
    )


def _item_of(form: Form, desk: Desk) -> PantryItem | None:
    name = form.values.get("what")
    if not name:
        return None
    shelf = pantry.ingredients(desk.beside)
    item = shelf.find(name)
    if item is None:
        guess = did_you_mean(name, shelf.names())
        fix = guess or f"write one of: {', '.join(shelf.things)}; or add it to a pantry of your own"
        near = nearest(name, shelf.names())
        ways = mending.instead(form.nodes["what"], [near] if near else [])
        form.place_of("what").stop(f'the pantry has no "{name[:60]}"', fix, ways)
        return None
    return replace(item, allergens=pantry.allergens_of(form)) if form.said("allergens") else item


def _amount(form: Form, key: str, item: PantryItem) -> float | None:
    """Grams, millilitres or pieces, as the pantry measures that ingredient."""
    written = form.values.get(key)
    if written is None:
        return None
    found: Any = pantry.read_amount(written)
    how, example = pantry.HOW_MEASURED[item.unit]
    node = form.nodes[key]
    if isinstance(found, Misread):
        form.place_of(key).refuse(found, node, example)
    elif found[1] != item.unit:
        message = f'{item.id} is measured {how}; found "{written}"'
        form.place_of(key).stop(message, f"write {key}: {example}", mending.instead(node, [example]))
    elif not 0 < found[0] <= 1_000_000:
        form.place_of(key).stop(f"{written} is not possible here", f"write {key}: {example}")
    else:
        return float(found[0])
    return None


def _check_weight(ingredients: list[Ingredient], form: Form) -> None:
    """What goes in cannot be much more than what comes out."""
    litres = form.values.get("volume")
    held = sum(each.amount for each in ingredients if each.item.unit != "piece") / 1000
    if litres is not None and held > MOST_PER_LITRE * litres:
        message = f"{held:g} kg or L of ingredients do not go into {litres:g} L"
        form.place_of("ingredients").stop(message, "check each amount: and the volume:")


def _check_rackings(form: Form, drink: Drink | None) -> None:
    """What goes in at a racking needs a drink that is racked so often."""
    if drink is None:
        return
    rackings = sum(len(job.days) for job in drink.jobs if job.what == "rack")
    for each in form.lists("ingredients"):
        when = each.values.get("when")
        if when is not None and when.stage == "rack" and when.day > rackings:
            found = f"{drink.id} is racked {rackings} times" if rackings else f"{drink.id} is never racked"
            fix = (
                f"write at racking {rackings}, or day 30" if rackings else "write day 10, or into the vessel"
            )
            each.place_of("when").stop(found, fix)


def _check_gas(form: Form, drink: Drink | None) -> None:
    """A still drink gets none."""
    if drink is not None and not drink.primed and form.said("carbonation"):
        form.place_of("carbonation").stop(f"{drink.id} is still and gets no gas", "delete carbonation:")


def _check_boil(form: Form) -> None:
    """Additions to a boil need a boil, and one that is long enough."""
    boil = form.values.get("boil")
    for each in form.lists("ingredients"):
        when = each.values.get("when")
        if when is None or when.stage != "boil":
            continue
        if not form.said("boil"):
            least = f"{max(30.0, when.minutes):g} min"
            ways = mending.added(form.node, "boil", least) if form.node else ()
            fix = f"write boil: {least}, or when: off the heat"
            each.place_of("when").stop("nothing is boiled in this recipe", fix, ways)
        elif boil is not None and when.minutes > boil:
            message = f"{when.minutes:g} min before the end is before the boil of {boil:g} min begins"
            longer = mending.instead(form.nodes["boil"], [f"{when.minutes:g} min"])
            fix = f"write boil: {when.minutes:g} min, or fewer minutes here"
            each.place_of("when").stop(message, fix, longer)
