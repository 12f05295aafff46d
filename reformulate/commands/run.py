"""Which command is meant, and what is printed when it cannot be done."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from reformulate.commands import conflict, nutrients, solve
from reformulate.commands.window import open_window
from reformulate.errors import ReformulateError

BAD_INPUT = 2
"""Exit code where something must be put right first; 0 is done, 1 is goals that cannot all be met."""


def run(arguments: Sequence[str]) -> int:
    """Run one command; return its exit code."""
    options = _parser().parse_args(arguments)
    try:
        if options.command == "nutrients":
            return nutrients.run(options)
        if options.command == "solve":
            return solve.run(options)
        if options.command == "conflict":
            return conflict.run(options)
        return open_window(getattr(options, "set", None))
    except ReformulateError as error:
        print(error, file=sys.stderr)
        return BAD_INPUT


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="reformulate",
        description="Lighter versions of well-loved recipes, in amounts a cook can measure. "
        "Without a command the window opens, on the last set or the demo set.",
    )
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    window = commands.add_parser("open", help="open the window on a set")
    window.add_argument("set", nargs="?", type=Path, metavar="SET", help="folder of the set")
    nutrients.add_arguments(_recipe_command(commands, "nutrients", "what is in a recipe"))
    solve.add_arguments(
        _recipe_command(commands, "solve", "amounts closest to the original that meet goals")
    )
    solve.add_arguments(
        _recipe_command(commands, "conflict", "why goals and holds cannot all be kept")
    )
    return parser


def _recipe_command(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], name: str, words: str
) -> argparse.ArgumentParser:
    command = commands.add_parser(
        name,
        help=words,
        description=f"{words[0].upper()}{words[1:]}.",
        epilog="Exit code 0: done; 1: the goals cannot all be met, the nearest answer is printed; "
        "2: something must be put right first.",
    )
    command.add_argument("recipe", type=Path, metavar="RECIPE", help="a recipe file (TOML)")
    command.add_argument("--json", action="store_true", help="print JSON")
    command.add_argument(
        "--release",
        type=Path,
        metavar="FILE",
        help="a downloaded food release (Standard Reference, abbreviated) for foods written ndb:…",
    )
    return command
