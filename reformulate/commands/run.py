"""Which command is meant, and what is printed when it cannot be done."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from reformulate.commands import (
    conflict,
    foods,
    gives,
    nutrients,
    read,
    review,
    solve,
    swaps,
    trade_off,
    wanted,
)
from reformulate.commands.window import open_window
from reformulate.errors import ReformulateError

BAD_INPUT = 2
"""Exit code where something must be put right first; 0 is done, 1 is goals that cannot all be met."""
STOPPED = 130
"""Exit code where the user stopped the command, as shells count it: 128 and the signal's number."""

_GOALS: Final = (
    "Exit code 0: done; 1: the goals cannot all be met, the nearest answer is printed; "
    "2: something must be put right first."
)
_FINDINGS: Final = (
    "Exit code 0: nothing was found; 1: there are findings; 2: something must be put right first."
)


@dataclass(frozen=True, slots=True)
class Command:
    """One command on a recipe."""

    add_arguments: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], int]
    words: str
    epilog: str = _GOALS
    """What its exit codes mean."""


COMMANDS: Final = {
    "nutrients": Command(nutrients.add_arguments, nutrients.run, "what is in a recipe"),
    "solve": Command(
        solve.add_arguments, solve.run, "amounts closest to the original that meet goals"
    ),
    "conflict": Command(
        wanted.add_arguments, conflict.run, "why goals and holds cannot all be kept"
    ),
    "swaps": Command(
        swaps.add_arguments, swaps.run, "what each swap would do, or which food would help most"
    ),
    "tradeoff": Command(
        trade_off.add_arguments, trade_off.run, "the exact trade-off between two quantities"
    ),
    "review": Command(
        review.add_arguments, review.run, "what editors miss before print", _FINDINGS
    ),
    "gives": Command(gives.add_arguments, gives.run, "what each binding goal and hold costs"),
}
"""The commands on a recipe."""

FURTHER: Final = {"foods": foods.run, "read": read.run}
"""The other commands."""


def run(arguments: Sequence[str]) -> int:
    """Run one command; return its exit code."""
    options = _parser().parse_args(arguments)
    try:
        if options.command in COMMANDS:
            return COMMANDS[options.command].run(options)
        if options.command in FURTHER:
            return FURTHER[options.command](options)
        return open_window(getattr(options, "set", None))
    except ReformulateError as error:
        print(error, file=sys.stderr)
        return BAD_INPUT
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return STOPPED


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="reformulate",
        description="Lighter versions of well-loved recipes, in amounts a cook can measure. "
        "Without a command the window opens, on the last set or the demo set.",
    )
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    window = commands.add_parser("open", help="open the window on a set")
    window.add_argument("set", nargs="?", type=Path, metavar="SET", help="folder of the set")
    for name, command in COMMANDS.items():
        command.add_arguments(_recipe_command(commands, name, command))
    foods.add_parser(commands)
    read.add_parser(commands)
    return parser


def _recipe_command(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], name: str, command: Command
) -> argparse.ArgumentParser:
    words = command.words
    parser = commands.add_parser(
        name, help=words, description=f"{words[0].upper()}{words[1:]}.", epilog=command.epilog
    )
    parser.add_argument("recipe", type=Path, metavar="RECIPE", help="a recipe file (TOML)")
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.add_argument(
        "--release",
        type=Path,
        metavar="FILE",
        help="a downloaded food release (Standard Reference, abbreviated) for foods written ndb:…",
    )
    return parser
