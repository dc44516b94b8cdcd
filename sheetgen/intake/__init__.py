"""Files in, values out: what people wrote becomes the model, and everything that is wrong with it becomes
problems.
"""

from sheetgen.intake.batches import read_batch, read_batch_bytes
from sheetgen.intake.recipes import read_recipe, recipes, usable_recipes

__all__ = ["read_batch", "read_batch_bytes", "read_recipe", "recipes", "usable_recipes"]
