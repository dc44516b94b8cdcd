"""Examples that --help shows, by command; a test runs every one of them.

Comes in: nothing.  Goes out: text for the foot of each help.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

_PARTS = """parts for --only: fridge, shop, brew, bottling, timeline, labels, discs, calendar, plan;
  only if they are named: record, trouble, why, ruler, tags, bands; all is every part there is"""

_EDITORS = """editors that read it offer the keys, say what each one means, and mark what is wrong, if the
first line of every batch file beside it is:

  # yaml-language-server: $schema=batch.schema.json

member is a batch that a season names; recipes and stocks of the folder in which it is run are
offered too"""

EXAMPLES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "": (
            "sheetgen new                    six questions, and a batch file of your own",
            "sheetgen check 27a.yaml         what is wrong, unusual or assumed",
            "sheetgen make 27a.yaml          the whole set, into the folder 27A",
            "sheetgen make 27a.yaml --only labels --start-at 4",
            "sheetgen show 27a.yaml          the plan in the terminal",
            "sheetgen list recipes",
        ),
        "new": (
            "sheetgen new                    asks; Enter takes what stands in brackets",
            "sheetgen new my-first.yaml --recipe copper-lane-amber",
            "sheetgen new --recipe plot-eleven-cider --volume '5 L' --room '18-21 C' --no-questions",
            "sheetgen new --language de --bottles '24 x 500 ml swing-top' --no-questions",
        ),
        "make": (
            "sheetgen make                   the one batch of this folder",
            "sheetgen make 27a.yaml",
            "sheetgen make 27a.yaml 27b.yaml --out print --paper Letter",
            "sheetgen make 27a.yaml --only fridge,bottling,labels --start-at 4",
            "sheetgen make 27a.yaml --calendar dates.ics",
            "sheetgen make 27a.yaml --open",
            "sheetgen make class.yaml --person Imke",
            "sheetgen make class.yaml --readings week-3.csv --skip-bad",
        ),
        "check": (
            "sheetgen check                  the one batch of this folder",
            "sheetgen check 27a.yaml 27b.yaml",
            "sheetgen check class.yaml",
        ),
        "show": (
            "sheetgen show 27a.yaml          amounts, dates, gas and a timeline",
            "sheetgen show 27a.yaml --why    for each day what it waits for",
            "sheetgen show 27a.yaml --json",
        ),
        "suggest": (
            "sheetgen suggest season.yaml    a brew day for every wish",
            "sheetgen suggest season.yaml --json",
        ),
        "list": ("sheetgen list", "sheetgen list recipes", "sheetgen list stocks"),
        "layout": (
            "sheetgen layout copy fridge --to .",
            "sheetgen layout manual",
        ),
        "schema": (
            "sheetgen schema batch > batch.schema.json",
            "sheetgen schema season > season.schema.json",
        ),
        "completion": (
            "sheetgen completion bash > sheetgen-completion.bash",
            "sheetgen completion zsh > _sheetgen",
            "sheetgen completion fish > sheetgen.fish",
        ),
        "self-check": ("sheetgen self-check",),
        "ruler": ("sheetgen ruler", "sheetgen ruler --paper Letter --out letter-ruler.pdf"),
    }
)


_SHELLS = """or, so that every new terminal knows them, at the end of

  ~/.bashrc                     source <(sheetgen completion bash)
  ~/.zshrc                      source <(sheetgen completion zsh)
  ~/.config/fish/config.fish    sheetgen completion fish | source"""

_MORE = {"make": _PARTS, "schema": _EDITORS, "completion": _SHELLS}


def examples_of(command: str) -> str:
    """The foot of a command's help; "" is the program itself."""
    lines = "\n".join(f"  {line}" for line in EXAMPLES[command])
    more = _MORE.get(command, "")
    return f"examples:\n{lines}" + (f"\n\n{more}" if more else "")
